import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { headGeometry, steerGeometry } from './geometry.ts';
import { steerRules, trailForIntercept } from './rules.ts';

const DEGREE = Math.PI / 180;
const ROUNDOFF = { relative: 1e-12, absolute: 1e-14 };

describe('steering geometry', () => {
  it('is the same from an axis in space as from the drawing’s three numbers', () => {
    for (const angle of [60, 72, 90, 100])
      for (const offset of [-0.05, 0, 0.04]) {
        const drawn = headGeometry(0.2, angle * DEGREE, offset);
        const cos = Math.cos(angle * DEGREE);
        const sin = Math.sin(angle * DEGREE);
        const hub = [0.98, 0, 0.2] as const;
        // A point of the axis: the hub moved back by the offset square to it, then 0.7 m up along it.
        const point = [hub[0] - offset * sin - 0.7 * cos, 0, hub[2] - offset * cos + 0.7 * sin] as const;
        for (const s of [1, -2.5]) {
          const found = steerGeometry({ point, axis: [-cos * s, 0, sin * s] }, hub, 0.2);
          for (const key of ['headAngle', 'trail', 'mechanicalTrail', 'offset', 'flop'] as const)
            expectWithin(found[key], drawn[key], ROUNDOFF, { angle, offset, key });
          if (angle === 90) expect(drawn.interceptRatio).toBeNaN();
          else expectWithin(found.interceptRatio, drawn.interceptRatio, ROUNDOFF);
        }
      }
  });

  it('has no trail when the offset is the wheel radius times the cosine of the head angle', () => {
    expectWithin(headGeometry(0.2, 70 * DEGREE, 0.2 * Math.cos(70 * DEGREE)).trail, 0, { absolute: 1e-16 });
  });

  it.each([
    ['wheelRadius', () => headGeometry(0, 1.2, 0.04)],
    ['wheelRadius', () => headGeometry(NaN, 1.2, 0.04)],
    ['headAngle', () => headGeometry(0.2, 0, 0.04)],
    ['headAngle', () => headGeometry(0.2, Math.PI, 0.04)],
    ['offset', () => headGeometry(0.2, 1.2, NaN)],
    ['axis', () => steerGeometry({ point: [1, 0, 0.5], axis: [0, 0, 0] }, [1, 0, 0.2], 0.2)],
    ['axis', () => steerGeometry({ point: [1, 0, 0.5], axis: [1, 0, 0] }, [1, 0, 0.2], 0.2)],
    ['axis', () => steerGeometry({ point: [1, 0, 0.5], axis: [-0.3, 0.1, 1] }, [1, 0, 0.2], 0.2)],
    ['axis', () => steerGeometry({ point: [1, 0.01, 0.5], axis: [-0.3, 0, 1] }, [1, 0, 0.2], 0.2)],
    ['point', () => steerGeometry({ point: [NaN, 0, 0.5], axis: [-0.3, 0, 1] }, [1, 0, 0.2], 0.2)],
  ])('refuses an impossible %s', (path, make) => {
    expect(make).toThrow(expect.objectContaining({ path }));
  });
});

describe('the standards’ rules', () => {
  it('hold on their limits and fail beyond them', () => {
    const [least, most] = trailForIntercept(0.2, 72 * DEGREE);
    const offsetFor = (trail: number) => 0.2 * Math.cos(72 * DEGREE) - trail * Math.sin(72 * DEGREE);
    const holds = (trail: number) =>
      steerRules(headGeometry(0.2, 72 * DEGREE, offsetFor(trail)), 0.25).map((rule) => rule.holds);
    expect(holds(least)).toEqual([true, true, true]);
    expect(holds(most)).toEqual([true, true, true]);
    expect(holds(least - 1e-4)).toEqual([true, true, false]);
    expect(holds(most + 1e-4)).toEqual([true, true, false]);
  });

  it('leave open what is not known, and mark recommendations as such', () => {
    const rules = steerRules(headGeometry(0.2, 90 * DEGREE, 0.04), NaN);
    expect(rules.map((rule) => rule.holds)).toEqual([null, false, null]);
    expect(rules.map((rule) => rule.informative)).toEqual([false, true, true]);
    expect(
      steerRules(headGeometry(0.2, 64.9 * DEGREE, 0.04), 0.249)
        .slice(0, 2)
        .map((rule) => rule.holds),
    ).toEqual([false, false]);
  });
});
