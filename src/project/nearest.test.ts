import { describe, expect, it } from 'vitest';
import { nearestName } from './nearest.ts';

describe('nearest name', () => {
  it.each([
    ['wheelbas', 'wheelbase'],
    ['wheelbsae', 'wheelbase'],
    ['Hinge', 'hinge'],
    ['hinge_', 'hinge'],
    ['rera', 'rear'],
  ])('takes %s for %s', (typed, meant) =>
    expect(nearestName(typed, ['front', 'rear', 'hinge', 'wheelbase'])).toBe(meant),
  );
  it.each(['xyz', 'frame', 'a', '', 'w'.repeat(1e5)])('has nothing near %s', (typed) =>
    expect(nearestName(typed, ['front', 'rear', 'hinge', 'wheelbase'])).toBeUndefined(),
  );
  it('gives the first of equally near names', () => expect(nearestName('hub_c', ['hub_a', 'hub_b'])).toBe('hub_a'));
});
