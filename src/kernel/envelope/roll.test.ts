import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { dot, rotationAbout, turnVector, type Vec3 } from '../math/rigid.ts';
import { carrying } from './carry.ts';
import { rolling } from './roll.ts';
import { movedSolid, solidOf } from './solid.ts';

const ROUNDOFF = 1e-9;
const DEG = Math.PI / 180;
const UP: Vec3 = [0, 0, 1];
const disc = (c: Vec3, n: Vec3, r: number): number[] => [...c, ...n, r, 0.015];

describe('rolling', () => {
  it('two wheels in line roll on their common tangent, upright, with the clearance below the lowest part', () => {
    const s = solidOf({
      capsules: [[0.1, 0, 0.12, 0.5, 0, 0.12, 0.02]],
      discs: [disc([0, 0, 0.2], [0, 1, 0], 0.2), disc([0.6, 0, 0.2], [0, 1, 0], 0.2)],
    });
    const r = rolling(s, [0.3, 0.03, 0.4], [1, 2], UP, [0.2, 0, 0.8]);
    expect(r.reason).toBe('rolls');
    expect(r.arrangement).toBe('in line');
    expectWithin(r.up[2], 1, { absolute: ROUNDOFF });
    expectWithin(r.clearance, 0.1, { absolute: ROUNDOFF });
    expect(r.lowest).toBe(0);
    expectWithin(r.base, 0.6, { absolute: ROUNDOFF });
    // Rolls from wheel 2 to wheel 1, that is towards −x: the left of travel is −y. The centre of mass stands at +y, its right.
    expectWithin(r.lean, Math.atan(0.03 / 0.4), { absolute: ROUNDOFF });
    expectWithin(r.handleHeight, 0.8, { absolute: ROUNDOFF });
  });

  it('unequal wheels tilt the floor by the common tangent', () => {
    const s = solidOf({ discs: [disc([0, 0, 0.2], [0, 1, 0], 0.2), disc([0.5, 0, 0.2], [0, 1, 0], 0.1)] });
    const r = rolling(s, [0.2, 0, 0.4], [0, 1], UP, undefined);
    expectWithin(Math.acos(r.up[2]), Math.asin(0.1 / 0.5), { absolute: ROUNDOFF });
    expectWithin(dot(r.contacts[0], r.up), dot(r.contacts[1], r.up), { absolute: ROUNDOFF });
    expect(Number.isNaN(r.pull)).toBe(true);
  });

  it('a part below the wheels stops it and is named', () => {
    const s = solidOf({
      capsules: [[0.3, 0, 0.01, 0.3, 0, 0.3, 0.02]],
      discs: [disc([0, 0, 0.2], [0, 1, 0], 0.2), disc([0.6, 0, 0.2], [0, 1, 0], 0.2)],
    });
    const r = rolling(s, [0.3, 0, 0.4], [1, 2], UP, undefined);
    expect(r.reason).toBe('something below the wheels');
    expectWithin(r.clearance, -0.01, { absolute: ROUNDOFF });
    expect(rolling(s, [0.3, 0, 0.4], [1, 2], UP, undefined, [0]).rolls).toBe(true);
  });

  it('toe and camber are told apart, and 13° is too much', () => {
    for (const [axis, toe, camber] of [
      [[0, 0, 1], 5, 0],
      [[1, 0, 0], 0, 5],
    ] as const) {
      const t = new Float64Array(12);
      rotationAbout(0, 0, 0, axis[0], axis[1], axis[2], 5 * DEG, t);
      const skew = turnVector(t, 0, [0, 1, 0]);
      const s = solidOf({ discs: [disc([0, 0, 0.2], [0, 1, 0], 0.2), disc([0.6, 0, 0.2], skew, 0.2)] });
      const r = rolling(s, [0.3, 0, 0.4], [0, 1], UP, undefined);
      expect(r.rolls).toBe(true);
      expectWithin(r.misalignment, 5 * DEG, { absolute: ROUNDOFF });
      // The floor leans by half of the camber, second order in 5°.
      expectWithin(Math.abs(r.toe), toe * DEG, { absolute: 1e-3 });
      expectWithin(Math.abs(r.camber), camber * DEG, { absolute: 1e-3 });
      expectWithin(dot(r.contacts[0], r.up), dot(r.contacts[1], r.up), { absolute: ROUNDOFF });
    }
    const t = new Float64Array(12);
    rotationAbout(0, 0, 0, 0, 0, 1, 13 * DEG, t);
    const s = solidOf({
      discs: [disc([0, 0, 0.2], [0, 1, 0], 0.2), disc([0.6, 0, 0.2], turnVector(t, 0, [0, 1, 0]), 0.2)],
    });
    expect(rolling(s, [0.3, 0, 0.4], [0, 1], UP, undefined).reason).toBe('axles not parallel');
  });

  it('wheels side by side leave the pitch to the hand: the floor is the one asked for', () => {
    const s = solidOf({ discs: [disc([0, 0.08, 0.2], [0, 1, 0], 0.2), disc([0.03, -0.08, 0.2], [0, -1, 0], 0.2)] });
    const r = rolling(s, [0.1, 0, 0.3], [0, 1], UP, [0.4, 0, 0.9]);
    expect(r.arrangement).toBe('side by side');
    expect(Number.isNaN(r.lean)).toBe(true);
    expectWithin(r.track, 0.16, { absolute: ROUNDOFF });
    expectWithin(r.pull, Math.atan2(0.9, 0.385), { absolute: ROUNDOFF });
  });

  it('does not depend on the frame', () => {
    const s = solidOf({
      capsules: [[0.1, 0, 0.12, 0.5, 0, 0.12, 0.02]],
      discs: [disc([0, 0.1, 0.2], [0, 1, 0], 0.2), disc([0.6, 0, 0.25], [0.05, Math.sqrt(1 - 0.0025), 0], 0.2)],
    });
    const t = new Float64Array(12);
    rotationAbout(1, 2, 3, 0.48, 0.6, 0.64, 1.2, t);
    const a = rolling(s, [0.3, 0.03, 0.4], [1, 2], UP, undefined);
    const p = (x: Vec3): Vec3 => [
      turnVector(t, 0, x)[0] + t[3]!,
      turnVector(t, 0, x)[1] + t[7]!,
      turnVector(t, 0, x)[2] + t[11]!,
    ];
    const b = rolling(movedSolid(s, t), p([0.3, 0.03, 0.4]), [1, 2], turnVector(t, 0, UP), undefined);
    for (const key of ['clearance', 'lean', 'toe', 'camber', 'track', 'base'] as const)
      expectWithin(b[key], a[key], { absolute: ROUNDOFF }, key);
  });
});

describe('carrying', () => {
  const s = solidOf({ boxes: [[0, 0, 0.3, 1, 0, 0, 0, 1, 0, 0, 0, 1, 0.4, 0.12, 0.3]] });
  it('hangs straight below a handle above the centre of mass', () => {
    const r = carrying(s, [0, 0, 0.3], [0, 0, 0.65], UP);
    expectWithin(r.offset, 0, { absolute: ROUNDOFF });
    expectWithin(r.tilt, 0, { absolute: ROUNDOFF });
    expectWithin(r.halfWidth, 0.12, { absolute: 2e-6 });
    expectWithin(Math.abs(r.legSide[1]), 1, { absolute: 1e-4 });
    expectWithin(r.reachDown, 0.65, { absolute: ROUNDOFF });
  });
  it('turns until the centre of mass is below the handle', () => {
    const r = carrying(s, [0, 0, 0.3], [0.1, 0, 0.6], UP);
    expectWithin(r.offset, 0.1, { absolute: ROUNDOFF });
    expectWithin(r.tilt, Math.atan(0.1 / 0.3), { absolute: ROUNDOFF });
    // Lowest corner: (−0.4, 0) from the handle, along the line to the centre of mass.
    expectWithin(r.reachDown, (0.5 * 0.1 + 0.6 * 0.3) / Math.sqrt(0.1), { absolute: ROUNDOFF });
  });
});
