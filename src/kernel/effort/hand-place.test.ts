import { describe, expect, test } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { type Rod, type ShapedModel, shapedModel } from '../../../test/fixtures/rod-models.ts';
import { carriedBodies, newLinkageWorkspace, planFold } from '../linkage/index.ts';
import { STANDARD_GRAVITY as g } from '../math/index.ts';
import { handPlaces } from './hand-place.ts';
import { frictionOf, weighedFriction } from './joint-friction.ts';

const ROUNDOFF = { relative: 1e-12, absolute: 1e-12 };

function place(
  rods: readonly Rod[],
  names: readonly string[] = [],
  stands: readonly number[] = [],
  unfit: number[] = [],
) {
  const w: ShapedModel = shapedModel(
    {
      bodies: ['frame', 'arm'],
      joints: [
        { name: 'hinge', kind: 'pivot', held: 'none', between: ['frame', 'arm'], at: [0, 0, 0.5], axis: [0, 0, 1] },
      ],
      fold: [{ move: 'turn', joint: 'hinge', to: 1 }],
    },
    rods,
  );
  const m = {
    ...w.m,
    top: { ...w.m.top, names: { ...w.m.top.names, shapes: names.length ? names : w.m.top.names.shapes } },
    standsOn: stands,
  };
  const ws = newLinkageWorkspace(m.top);
  const s = { ...w.s, station: new Float64Array([9, 9, 9]) };
  return handPlaces(m, s, planFold(m, s, ws), new Set(unfit), ws)[0];
}
const ROD: Rod = { body: 'arm', from: [0.1, 0, 0.5], to: [0.6, 0, 0.5] };

describe('a hand', () => {
  test('takes the far end, half its breadth inside', () => {
    const found = place([ROD]);
    expectWithin(found!.point[0], 0.56, ROUNDOFF);
    // four chords of a radian at 0.56 m
    expectWithin(found!.way, 4 * 2 * 0.56 * Math.sin(1 / 8), ROUNDOFF);
    expect(found!.foot).toBe(false);
  });
  test('prefers a grip two thirds as far out, but not one near the axis', () => {
    const grip = (x: number): Rod => ({ body: 'arm', from: [x, -0.04, 0.5], to: [x, 0.04, 0.5] });
    expect(place([ROD, grip(0.4)], ['rod', 'handlebar grip_left'])!.shape).toBe(1);
    expect(place([ROD, grip(0.3)], ['rod', 'handlebar grip_left'])!.shape).toBe(0);
  });
  test('does not take what is too thick, or what nobody holds', () => {
    expect(place([ROD, { ...ROD, to: [0.9, 0, 0.5], radius: 0.06 }])!.shape).toBe(0);
    expect(place([ROD, { ...ROD, to: [0.9, 0, 0.5] }], [], [], [1])!.shape).toBe(0);
    expect(place([ROD], [], [], [0])).toBeUndefined();
  });
  test('leaves a stand near the ground to the foot', () => {
    const leg: Rod = { body: 'arm', from: [0.1, 0, 0.2], to: [0.4, 0, 0.1] };
    expect(place([leg], [], [0])!.foot).toBe(true);
    expect(place([{ ...leg, from: [0.1, 0, 0.6] }], [], [0])!.foot).toBe(false);
  });
});

describe('friction of a joint', () => {
  const f = { mu: 0.2, pin: 0.005, face: 0.015, span: 0.04, preload: 0, steady: 0.1 };
  test('of an upright hinge with its load beside it: a couple on the bearings and a thrust on the face', () => {
    const { m, s } = shapedModel(
      {
        bodies: ['frame', 'arm'],
        joints: [
          { name: 'hinge', kind: 'pivot', held: 'none', between: ['frame', 'arm'], at: [0, 0, 0], axis: [0, 0, 1] },
        ],
      },
      [],
    );
    const carried = carriedBodies(m.top);
    const found = weighedFriction(
      m.top,
      s,
      0,
      f,
      carried,
      Float64Array.of(0, 5),
      Float64Array.of(0, 0, 0, 0.3, 0, 0.1),
    );
    const couple = 5 * g * 0.3;
    expectWithin(found, 0.2 * (0.005 * ((2 * couple) / 0.04) + 0.015 * 5 * g) + 0.1, ROUNDOFF);
  });
  test('of a slide is μ N, with its own drag', () => {
    expectWithin(frictionOf({ ...f, span: 0.1 }, true, 10, 30, 2), 0.2 * (30 + 40) + 0.1, ROUNDOFF);
  });
  test('grows with a preload that stays', () => {
    expectWithin(frictionOf({ ...f, preload: 1000 }, false, 0, 0, 0), 0.2 * 15 + 0.1, ROUNDOFF);
  });
});
