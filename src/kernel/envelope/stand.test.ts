import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { dot, movePoint, rotationAbout, scale, turnVector, unit, type Vec3 } from '../math/rigid.ts';
import { settle } from './settle.ts';
import { movedSolid, solidOf, solidSupport } from './solid.ts';
import { slopeMargin, standing, tipTowards } from './stand.ts';

const DEG = Math.PI / 180;
const ROUNDOFF = 1e-9;
const box = (l: number, w: number, h: number): number[] => [
  0,
  0,
  h / 2,
  1,
  0,
  0,
  0,
  1,
  0,
  0,
  0,
  1,
  l / 2,
  w / 2,
  h / 2,
];
const UP: Vec3 = [0, 0, 1];

describe('settling', () => {
  it('a leaning box comes down on the nearest face that holds it', () => {
    const s = solidOf({ boxes: [box(0.3, 0.2, 0.6)] });
    const r = settle(s, [0, 0, 0.3], unit([0.2, 0.1, 1]));
    expect(r.reason).toBe('rests');
    expectWithin(r.up[2], 1, { absolute: ROUNDOFF });
    expectWithin(r.height, 0.3, { absolute: ROUNDOFF });
    expect(r.contacts.length).toBe(4);
    // Leaned beyond its tip angle over the short side it lies down instead.
    const lying = settle(s, [0, 0, 0.3], unit([0, 1, 1]));
    expectWithin(lying.up[1], 1, { absolute: ROUNDOFF });
  });

  it('no support point lies below the floor, and the rest does not depend on where the package is', () => {
    let firm = 0;
    for (let seed = 1; seed <= 80; seed++) {
      const random = xoroshiro128plus(seed);
      const next = (): number => uniformFloat64(random) - 0.5;
      const row = (): number[] => [next(), next(), next(), next(), next(), next(), 0.03];
      const s = solidOf({ capsules: [row(), row(), row()], boxes: [box(0.2, 0.2, 0.2)] });
      const com: Vec3 = [0, 0, 0.1];
      const r = standing(s, com, [], UP);
      expect(r.rest.reason).toBe('rests');
      expectWithin(dot(solidSupport(s, scale(r.rest.up, -1)), r.rest.up), r.rest.floor, { absolute: ROUNDOFF });
      expect(r.tip).toBeGreaterThan(0);
      // A rest near its tip angle may be left in one frame and not in the other: the nudges point elsewhere.
      if (r.tip < 1 * DEG) continue;
      firm++;
      const t = new Float64Array(12);
      rotationAbout(0.3, 0, 0, 0, 0.6, 0.8, 6 * next(), t);
      const moved = settle(movedSolid(s, t), movePoint(t, 0, com), turnVector(t, 0, UP));
      // Round ends leave the normal uncertain by 2e-4 rad; at a metre that is 0.2 mm of height at most.
      expectWithin(moved.height, r.rest.height, { absolute: 2e-4 }, seed);
    }
    expect(firm).toBeGreaterThan(60);
  });

  it('leaves a balance on a point for a rest that holds', () => {
    // A ball straight under the centre of mass, a box beside it: upright is a balance, not a rest.
    const s = solidOf({
      capsules: [[0, 0, 0.03, 0, 0, 0.03, 0.03]],
      boxes: [[0, 0, 0.18, 1, 0, 0, 0, 1, 0, 0, 0, 1, 0.1, 0.1, 0.1]],
    });
    const r = standing(s, [0, 0, 0.18], [], UP);
    expect(r.rest.reason).toBe('rests');
    expect(Math.abs(r.rest.up[2])).toBeLessThan(0.95);
    expect(r.tip).toBeGreaterThan(1 * DEG);
  });

  it('says so when the shapes do not surround the centre of mass', () => {
    expect(settle(solidOf({ boxes: [box(0.2, 0.2, 0.2)] }), [1, 0, 0], UP).reason).toBe('com outside the shapes');
  });
});

describe('standing', () => {
  it('a box tips over its short side at atan(half base / height)', () => {
    const s = standing(solidOf({ boxes: [box(0.6, 0.24, 0.6)] }), [0, 0, 0.3], [0], UP);
    expectWithin(s.tip, Math.atan(0.12 / 0.3), { absolute: ROUNDOFF });
    expect(s.unlisted).toEqual([]);
    expectWithin(Math.abs(s.first!.outward[1]), 1, { absolute: ROUNDOFF });
    // Towards a corner of a square base the lean is larger than square to an edge.
    expectWithin(tipTowards(s.edges, 0.3, [1, 0, 0]), Math.PI / 4, { absolute: ROUNDOFF });
    expectWithin(tipTowards(s.edges, 0.3, [1, 1, 0]), Math.atan((0.12 / 0.3) * Math.SQRT2), { absolute: ROUNDOFF });
  });

  it('an offset centre of mass tips towards its own side first, and outside the base it does not stand', () => {
    const solid = solidOf({ boxes: [box(0.6, 0.24, 0.6)] });
    const s = standing(solid, [0, 0.05, 0.3], [], UP);
    expectWithin(s.tip, Math.atan(0.07 / 0.3), { absolute: ROUNDOFF });
    expectWithin(s.first!.outward[1], 1, { absolute: ROUNDOFF });
  });

  it('two wheels side by side and a post stand, and the wheels may not roll because the post drags', () => {
    const wheels = [
      [0, 0.05, 0.2, 0, 1, 0, 0.2, 0.02],
      [0.1, -0.05, 0.2, 0, 1, 0, 0.2, 0.02],
    ];
    const post = [-0.3, 0, 0.02, -0.3, 0, 0.5, 0.02];
    const s = standing(solidOf({ discs: wheels, capsules: [post] }), [-0.05, 0, 0.25], [0, 1, 2], UP);
    expect(s.rest.reason).toBe('rests');
    expectWithin(s.rest.up[2], 1, { absolute: 1e-6 });
    expect(s.lifted).toEqual([]);
    expect(s.heldFromRolling).toBe(true);
    expect(s.tip).toBeGreaterThan(0);
    expect(s.tip).toBeLessThan(12 * DEG);
  });

  it('on a round tyre a centre of mass over its shoulder falls over, and the design is told', () => {
    const wheels = [
      [0, 0, 0.2, 0, 1, 0, 0.2, 0.02],
      [0.6, 0, 0.2, 0, 1, 0, 0.2, 0.02],
    ];
    const bar = [0.3, -0.3, 0.8, 0.3, 0.3, 0.8, 0.02];
    const solid = solidOf({ discs: wheels, capsules: [bar] });
    const upright = standing(solid, [0.3, 0.002, 0.4], [1, 2], UP);
    expectWithin(upright.tip, Math.atan(0.003 / 0.4), { absolute: 1e-6 });
    expect(upright.asMeant).toBe(true);
    const over = standing(solid, [0.3, 0.01, 0.4], [1, 2], UP);
    expect(over.leaned).toBeGreaterThan(30 * DEG);
    expect(over.unlisted).toEqual([0]);
    expect(over.tip).toBeGreaterThan(0);
  });

  it('three wheels in a row direction roll away', () => {
    const wheel = (x: number, y: number): number[] => [x, y, 0.05, 0, 1, 0, 0.05, 0.01];
    const solid = solidOf({ discs: [wheel(0, 0.1), wheel(0, -0.1), wheel(0.4, 0)] });
    const s = standing(solid, [0.1, 0, 0.05], [0, 1, 2], UP);
    expect(s.heldFromRolling).toBe(false);
    expect(s.tip).toBeGreaterThan(0);
  });

  it('names shapes that touch although the design does not stand on them', () => {
    const solid = solidOf({ boxes: [box(0.6, 0.24, 0.6), [0.5, 0, 0.1, 1, 0, 0, 0, 1, 0, 0, 0, 1, 0.2, 0.1, 0.1]] });
    expect(standing(solid, [0, 0, 0.3], [0], UP).unlisted).toEqual([1]);
  });

  it('a slope and a jerk add as angles', () => {
    expectWithin(slopeMargin(21.801409 * DEG, 12 * DEG, 0.15) / DEG, 21.801409 - 12 - 8.530766, { absolute: 1e-6 });
    expectWithin(slopeMargin(0.3, 0.3, 0), 0, { absolute: ROUNDOFF });
  });
});
