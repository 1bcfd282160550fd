import { expect, test } from 'vitest';
import { differences, figures } from '../scripts/figures.mjs';

test('equal results have no difference', () => {
  expect(differences({ a: [1, { b: null }] }, { a: [1, { b: null }] })).toEqual([]);
});

test.each([
  ['one unit in the last place', { a: [1, 0.1 + 0.2] }, { a: [1, 0.3] }, 'a.1: 0.30000000000000004 | 0.3'],
  ['the sign of zero', { a: 0 }, { a: -0 }, 'a: 0 | 0'],
  ['a missing key', { a: 1, b: 2 }, { a: 1 }, 'b: 2 | undefined'],
  ['a number become text', { a: 1 }, { a: '1' }, 'a: 1 | 1'],
  ['a missing result', undefined, { a: 1 }, '(all): undefined | [object Object]'],
])('%s is a difference', (_, a, b, line) => {
  expect(differences(a, b)).toEqual([line]);
});

test('figures are counted at any depth', () => {
  expect(figures({ a: 1, b: [2, 'x', { c: 3 }], d: null })).toBe(3);
});
