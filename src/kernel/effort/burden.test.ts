/** Lifting, carrying and rolling a package: behaviour of the functions that `burden` in study puts together. */
import { describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../../test/expect-within.ts';
import { carrying, rolling, solidOf } from '../envelope/index.ts';
import type { Vec3 } from '../math/index.ts';
import { PUBLICS } from '../rider/index.ts';
import { carryEdge } from './carry-edge.ts';
import { carryShare, enduranceSeconds, longestStretch, shareLasting } from './carry-strength.ts';
import { gripHeight, gripHeightOf } from './hand-height.ts';
import { packageLift } from './package-lift.ts';
import { balancedUp, rollForce } from './roll-force.ts';

/** A box of 0.8 × 0.3 × 0.6 m on the floor. */
const BOX = solidOf({ boxes: [[0, 0, 0.3, 1, 0, 0, 0, 1, 0, 0, 0, 1, 0.4, 0.15, 0.3]] });
const TOP: Vec3 = [0, 0, 0.6];

describe('lower edge of a carried package', () => {
  const hanging = carrying(BOX, [0, 0, 0.3], TOP, [0, 0, 1]);
  it('is the height of the hand less the package on level ground', () => {
    expectWithin(carryEdge(BOX, hanging, TOP, 0.75, 0.17).level, 0.15, { absolute: 1e-9 });
  });
  it('loses the rise of the stairs over half its length and half a step', () => {
    // slim side to the leg: 0.8 m along the way; tread 0.63 − 0.34 = 0.29 m
    const { stairs } = carryEdge(BOX, hanging, TOP, 0.75, 0.17);
    expectWithin(stairs, 0.15 - (0.4 * 0.17) / 0.29 - 0.085, { absolute: 1e-6 });
  });
  it('refuses what is no step', () => {
    expect(() => carryEdge(BOX, hanging, TOP, 0.75, 0.3)).toThrow(RangeError);
  });
});

describe('the grip that carries', () => {
  it('lasts the shorter the harder it is, and for long below 15 %', () => {
    for (let f = 0.15; f < 0.99; f += 0.01) expect(enduranceSeconds(f)).toBeGreaterThan(enduranceSeconds(f + 0.01));
    expect(enduranceSeconds(0.1)).toBe(Infinity);
    expect(() => enduranceSeconds(1.1)).toThrow(RangeError);
    for (const t of [10, 60, 300]) expectWithin(enduranceSeconds(shareLasting(t)), t, { relative: 1e-9 });
    expect(shareLasting(1)).toBe(1);
  });
  it('counts the longest stretch between two rests', () => {
    // Treads of 0.29 m at 0.45 · 15/17 m/s; a pace of 0.762 m in 17 TMU.
    const each = (0.29 * 17) / (0.45 * 15);
    const speed = 0.762 / (17 * 0.036);
    const stairs = { stairs: 60, carry: 11, step: 0.17 };
    const by = { relative: 8 * EPS };
    expectWithin(longestStretch({ ...stairs, rest: Infinity }), 60 * each + 11 / speed, by);
    expectWithin(longestStretch({ ...stairs, rest: 20 }), 20 * each, by);
    expectWithin(longestStretch({ ...stairs, rest: 10, carry: 22 }), 22 / speed, by);
    expectWithin(longestStretch({ ...stairs, rest: 80 }), 60 * each, by);
  });
  it('lets fewer carry more, longer, and among women', () => {
    const way = { stairs: 60, rest: Infinity, carry: 20, step: 0.17 };
    const base = carryShare(12, way, 0.5);
    expect(carryShare(14, way, 0.5).able).toBeLessThan(base.able);
    expect(carryShare(12, { ...way, rest: 20 }, 0.5).able).toBeGreaterThan(base.able);
    expect(carryShare(12, way, 1).able).toBeLessThan(base.able);
    expect(carryShare(12, way, 1).recommended).toBeLessThan(base.recommended);
    expectWithin(carryShare(6.5, way, 1).recommended, 0.75, { absolute: 1e-12 });
    expectWithin(carryShare(9.5, way, 0).recommended, 0.75, { absolute: 1e-12 });
    expect(() => carryShare(0, way, 0.5)).toThrow(RangeError);
  });
});

describe('heights of hands', () => {
  it('rise with stature and lie between women’s and men’s for a mixed rider', () => {
    const { female, male } = PUBLICS.germany_2005;
    expect(gripHeight('female', female, -1.645)).toBeLessThan(gripHeight('female', female, 0));
    expect(gripHeight('female', female, 0)).toBeLessThan(gripHeight('male', male, 0));
    const of = (sex: 'female' | 'male' | 'mixed') => gripHeightOf({ stature: 1.7, sex });
    expectWithin(of('mixed'), (of('female') + of('male')) / 2, { relative: 4 * EPS });
  });
});

describe('lifting a package', () => {
  it('takes the hold with the highest limit and gets harder with height, width and mass', () => {
    const base = packageLift(12, 0.3, 0.6, 0.7, 0.5);
    expect(base.hold).toBeGreaterThanOrEqual(0.1);
    expect(base.hold).toBeLessThanOrEqual(0.6 + 1e-9);
    expect(packageLift(12, 0.3, 0.6, 1.2, 0.5).index).toBeGreaterThan(base.index);
    expect(packageLift(12, 0.4, 0.6, 0.7, 0.5).index).toBeGreaterThan(base.index);
    expectWithin(packageLift(24, 0.3, 0.6, 0.7, 0.5).index, 2 * base.index, { relative: 4 * EPS });
    expect(packageLift(24, 0.3, 0.6, 0.7, 0.5).able).toBeLessThan(base.able);
  });
  it('has no index where the hands would go above 1.75 m', () => {
    const high = packageLift(12, 0.3, 0.6, 1.9, 0.5);
    expect([high.index, high.able]).toEqual([Infinity, 0]);
  });
  it('refuses a package without size', () => {
    expect(() => packageLift(12, 0, 0.6, 0.7, 0.5)).toThrow(RangeError);
  });
});

describe('rolling a package', () => {
  /** Two wheels of 0.1 m side by side, 0.3 m apart, under a box that stands ahead of them. */
  const solid = solidOf({
    discs: [
      [0, 0.15, 0.1, 0, 1, 0, 0.1, 0.01],
      [0, -0.15, 0.1, 0, 1, 0, 0.1, 0.01],
    ],
    boxes: [[0.1, 0, 0.5, 1, 0, 0, 0, 1, 0, 0, 0, 1, 0.1, 0.1, 0.3]],
  });
  const com: Vec3 = [0.1, 0, 0.5];
  const handle: Vec3 = [0.2, 0, 0.8];
  const wheels = [0, 1] as const;

  it('puts on the hand what statics say while it is not balanced', () => {
    const how = rolling(solid, com, wheels, [0, 0, 1], handle);
    expect(how.arrangement).toBe('side by side');
    const roll = rollForce(10, com, handle, how, [0.1, 0.1]);
    expectWithin(roll.hand, 0.5 * 10 * 9.80665, { relative: 1e-9 });
    expectWithin(roll.force[1], (0.5 * 10 * 9.80665 * 0.0015) / 0.1, { relative: 1e-9 });
  });
  it('weighs nothing in the hand when the centre of mass stands over the wheels', () => {
    const how = rolling(solid, com, wheels, [0, 0, 1], handle);
    const up = balancedUp(
      com,
      [
        [0, 0.15, 0.1],
        [0, -0.15, 0.1],
      ],
      how,
    );
    const balanced = rolling(solid, com, wheels, up, handle);
    const roll = rollForce(10, com, handle, balanced, [0.1, 0.1]);
    expect(roll.hand).toBe(0);
    expectWithin(roll.force[1], (10 * 9.80665 * 0.0015) / 0.1, { relative: 1e-9 });
  });
  it('refuses a wheel without radius', () => {
    const how = rolling(solid, com, wheels, [0, 0, 1], handle);
    expect(() => rollForce(10, com, handle, how, [0, 0.1])).toThrow(RangeError);
  });
});
