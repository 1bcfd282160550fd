import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { norm, rotationAbout, setIdentity, sub, translationAlong, type Vec3 } from '../math/rigid.ts';
import { type FoldPosture, followCable } from './cable.ts';

const ROUNDOFF = 1e-12;
/** Body 1 turns about an upright axis through `at` by `total` in `n` equal steps. */
const swing = (at: Vec3, total: number, n: number): FoldPosture[] =>
  Array.from({ length: n + 1 }, (_, k) => {
    const bodyT = new Float64Array(24);
    setIdentity(bodyT);
    rotationAbout(at[0], at[1], at[2], 0, 0, 1, (total * k) / n, bodyT, 12);
    return { move: 0, fraction: k / n, bodyT };
  });
/** Runs 60 mm beside a hinge on the outside of the fold: from 0.2 m behind it to 0.2 m ahead. */
const outside = {
  name: 'brake',
  points: [
    [-0.2, -0.06, 0],
    [0.2, -0.06, 0],
  ] as Vec3[],
  bodies: [0, 1],
  slack: 0.02,
  minBend: 0.04,
};

describe('the length of a cable', () => {
  it('across a hinge is the law of cosines, worst where the closed form has it', () => {
    const r = followCable(outside, swing([0, 0, 0], Math.PI / 2, 90));
    // Two arms of ρ from the axis; folding towards +y opens their angle from π − 2·atan(0.06/0.2) through 180°.
    const rho = Math.sqrt(0.04 + 0.0036);
    expectWithin(r.longestSeen, 2 * rho, { relative: 1e-4 });
    expect(r.longest).toBeGreaterThanOrEqual(2 * rho - ROUNDOFF);
    expectWithin(r.longest, 2 * rho, { absolute: 2e-5 });
    expect(r.at.segment).toBe(0);
    expectWithin(r.at.fraction * 90, (2 * Math.atan(0.3) * 180) / Math.PI, { absolute: 1.01 });
    expectWithin(r.margin, 0.42 - r.longest, { absolute: ROUNDOFF });
    expect(r.reaches).toBe(true);
    expect(followCable({ ...outside, slack: 0.01 }, swing([0, 0, 0], Math.PI / 2, 90)).reaches).toBe(false);
  });

  it('is bounded from above by coarse steps too, and the bound closes in', () => {
    const rho = Math.sqrt(0.0436);
    let last = Infinity;
    for (const n of [3, 6, 12, 24, 48]) {
      const { longest } = followCable(outside, swing([0, 0, 0], Math.PI / 2, n));
      expect(longest).toBeGreaterThanOrEqual(2 * rho - ROUNDOFF);
      expect(longest).toBeLessThan(last);
      last = longest;
    }
    expectWithin(last, 2 * rho, { relative: 2e-3 });
  });

  it('on the axis does not change, on one body neither', () => {
    const onAxis = {
      ...outside,
      points: [
        [-0.2, 0, 0],
        [0, 0, 0],
        [0.2, 0, 0],
      ] as Vec3[],
      bodies: [0, 0, 1],
    };
    const r = followCable(onAxis, swing([0, 0, 0], 3, 30));
    expectWithin(r.longest, 0.4, { absolute: ROUNDOFF });
    expectWithin(r.margin, 0.02, { absolute: ROUNDOFF });
  });

  it('a slide lengthens it by its travel, without an allowance for arcs', () => {
    const postures = [0, 0.5, 1].map((fraction): FoldPosture => {
      const bodyT = new Float64Array(24);
      setIdentity(bodyT);
      translationAlong(1, 0, 0, 0.15 * fraction, bodyT, 12);
      return { move: 2, fraction, bodyT };
    });
    const r = followCable(outside, postures);
    expectWithin(r.longest, 0.55, { absolute: ROUNDOFF });
    expectWithin(r.margin, -0.13, { absolute: ROUNDOFF });
    expect(r.at).toEqual({ move: 2, fraction: 1, segment: 0 });
  });
});

describe('the bend of a cable', () => {
  it('at a right angle between end segments is the arc whose tangents are the shorter of them', () => {
    const corner = {
      ...outside,
      points: [
        [-0.2, 0, 0],
        [0, 0, 0],
        [0.1, 0, 0],
      ] as Vec3[],
      bodies: [0, 0, 1],
    };
    const still = followCable(corner, swing([0, 0, 0], 0, 1));
    expect(still.bend).toBe(Infinity);
    // Fine steps leave an allowance of half a step on the angle: 1 % of the radius for 180 steps.
    const r = followCable(corner, swing([0, 0, 0], Math.PI / 2, 180));
    expectWithin(r.bend, 0.1, { relative: 0.02 });
    expect(r.bend).toBeLessThanOrEqual(0.1);
    expect(r.bendAt.point).toBe(1);
    expectWithin(r.bendMargin, r.bend - 0.04, { absolute: ROUNDOFF });
  });

  it('goes to nothing when the fold doubles the cable back', () => {
    const corner = {
      ...outside,
      points: [
        [-0.2, 0, 0],
        [0, 0, 0],
        [0.1, 0, 0],
      ] as Vec3[],
      bodies: [0, 0, 1],
    };
    const doubled = followCable(corner, swing([0, 0, 0], Math.PI, 60));
    expectWithin(doubled.bend, 0, { absolute: 1e-9 });
    // the two arms and the slack, laid in an even half turn
    const arms = corner.points.slice(1).reduce((sum, p, k) => sum + norm(sub(p, corner.points[k]!)), 0);
    expectWithin(doubled.gentlest, (arms + corner.slack) / Math.PI, { relative: 1e-9 });
    expectWithin(doubled.gentlestMargin, doubled.gentlest - corner.minBend, { absolute: ROUNDOFF });
  });

  it('halves inner segments between their two bends', () => {
    const square = {
      ...outside,
      points: [
        [0, 0, 0],
        [0.1, 0, 0],
        [0.1, 0.1, 0],
        [0.2, 0.1, 0],
      ] as Vec3[],
      bodies: [0, 0, 0, 0],
    };
    expectWithin(followCable(square, []).bend, 0.05, { absolute: ROUNDOFF });
  });
});
