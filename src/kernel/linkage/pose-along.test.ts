import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import {
  fourBar,
  type LinkageModel,
  linkageModel,
  pinnedTriangle,
  sideHinge,
} from '../../../test/fixtures/linkage-models.ts';
import { movePoint, norm, sub, type Vec3 } from '../math/rigid.ts';
import { type FoldPlan, planFold } from './fold-plan.ts';
import { newLinkageWorkspace } from './loop-system.ts';
import { followerRates, poseAlong, poseFolded } from './pose-along.ts';

/** Asked for: fold and unfold returns every body to 1e-9 m. */
const RETURNS = { absolute: 1e-9 };
const CORNERS: readonly Vec3[] = [
  [0, 0, 0],
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];

function expectSamePlaces(a: Float64Array, b: Float64Array, inputs: unknown): void {
  let worst = 0;
  for (let o = 0; o < a.length; o += 12)
    for (const corner of CORNERS) worst = Math.max(worst, norm(sub(movePoint(a, o, corner), movePoint(b, o, corner))));
  expectWithin(worst, 0, RETURNS, inputs);
}

/** Two rising sequences of the same fractions, there and back over the whole fold; each place must be met again. */
function foldAndUnfold({ m, s }: LinkageModel, plan: FoldPlan, fractions: readonly number[]): void {
  const ws = newLinkageWorkspace(m.top);
  const us = [0, ...[...fractions].sort((a, b) => a - b), 1];
  const ride = s.bodyT.slice();
  const seen: Float64Array[] = [];
  for (let i = 0; i < plan.segments.length; i++)
    for (const u of us) {
      expect(poseAlong(m, plan, i, u, s, ws)).toMatchObject({ converged: true });
      seen.push(s.bodyT.slice());
    }
  expectSamePlaces(seen[0]!, ride, 'start');
  for (let i = plan.segments.length - 1; i >= 0; i--)
    for (const u of [...us].reverse()) {
      poseAlong(m, plan, i, u, s, ws);
      expectSamePlaces(s.bodyT, seen.pop()!, { i, u });
    }
  expectSamePlaces(s.bodyT, ride, 'back in the ride posture');
}

const fractions = fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { maxLength: 12 });
const models: readonly [string, () => LinkageModel][] = [
  ['open tree', () => sideHinge()],
  ['three-body loop opened at its pin', () => pinnedTriangle()],
  ['four-bar', () => fourBar()],
  ['four-bar driven at the joint that closes it', () => fourBar({ cut: 'a' })],
  ['four-bar driven at another joint', () => fourBar({ drive: 'c', to: -0.6 })],
  ['slider-crank', () => sliderCrank()],
];

function sliderCrank(): LinkageModel {
  return linkageModel({
    bodies: ['frame', 'arm', 'rod', 'post'],
    joints: [
      { name: 'arm', kind: 'pivot', held: 'latch', between: ['frame', 'arm'], at: [0, 0, 0], axis: [0, 1, 0] },
      { name: 'knee', kind: 'pivot', held: 'loop', between: ['arm', 'rod'], at: [0.1, 0, 0.2], axis: [0, 1, 0] },
      { name: 'toe', kind: 'pivot', held: 'loop', between: ['rod', 'post'], at: [0.5, 0, 0.1], axis: [0, 1, 0] },
      { name: 'post', kind: 'post', held: 'loop', between: ['frame', 'post'], at: [0.5, 0, 0.1], axis: [1, 0, 0.1] },
    ],
    fold: [
      { move: 'release', joint: 'arm' },
      { move: 'turn', joint: 'arm', to: 1.1 },
    ],
  });
}

describe.each(models)('%s', (_, make) => {
  test('fold and unfold returns every body', () => {
    const model = make();
    const plan = planFold(model.m, model.s);
    expect(plan.problems.filter((p) => p.severity === 'error')).toEqual([]);
    fc.assert(
      fc.property(fractions, (us) => foldAndUnfold(model, plan, us)),
      { numRuns: 30 },
    );
  });

  test('moves continuously from segment to segment and ends folded', () => {
    const { m, s } = make();
    const plan = planFold(m, s);
    const ws = newLinkageWorkspace(m.top);
    let last = s.bodyT.slice();
    for (let i = 0; i < plan.segments.length; i++) {
      poseAlong(m, plan, i, 0, s, ws);
      expectSamePlaces(s.bodyT, last, { i });
      poseAlong(m, plan, i, 1, s, ws);
      last = s.bodyT.slice();
    }
    poseFolded(m, plan, s);
    expectSamePlaces(s.bodyT, last, 'folded');
  });

  test('has followers’ rates that differences show', () => {
    const { m, s } = make();
    const plan = planFold(m, s);
    const ws = newLinkageWorkspace(m.top);
    const h = 1e-5;
    plan.segments.forEach((segment, i) => {
      for (const u of [0.13, 0.5, 0.87]) {
        poseAlong(m, plan, i, u + h, s, ws);
        const up = s.q.slice();
        poseAlong(m, plan, i, u - h, s, ws);
        const down = s.q.slice();
        poseAlong(m, plan, i, u, s, ws);
        const rates = followerRates(m, plan, i, s, ws);
        for (const j of [segment.joint, ...segment.followers])
          expectWithin(
            rates[j]!,
            (up[j]! - down[j]!) / (up[segment.joint]! - down[segment.joint]!),
            // h² times third derivatives, and closure to 1e-13 over steps of 1e-5.
            { absolute: 1e-7, relative: 1e-7 },
            { i, u, j },
          );
        for (let j = 0; j < rates.length; j++)
          if (j !== segment.joint && !segment.followers.includes(j)) expect(rates[j]).toBe(0);
      }
    });
  });
});

test('a loop gives the same postures whichever joint closes it', () => {
  const postures = [undefined, 'a', 'b', 'c', 'd'].map((cut) => {
    const { m, s } = fourBar(cut ? { cut } : {});
    const plan = planFold(m, s);
    poseAlong(m, plan, 0, 0.77, s, newLinkageWorkspace(m.top));
    return s;
  });
  for (const other of postures.slice(1)) {
    expectSamePlaces(other.bodyT, postures[0]!.bodyT, 'bodies');
    // The values of all four joints, the cut one’s measured.
    other.q.forEach((value, j) => {
      expectWithin(value, postures[0]!.q[j]!, RETURNS, j);
    });
  }
});

test('the fold of any closed four-bar returns, as far as it goes', () => {
  const place = fc.double({ min: -0.12, max: 0.12, noNaN: true });
  fc.assert(
    fc.property(
      fc.array(place, { minLength: 12, maxLength: 12 }),
      fc.constantFrom('a', 'b', 'c', 'd'),
      fc.constantFrom('a', 'b', 'c', 'd'),
      fc.double({ min: -2.5, max: 2.5, noNaN: true }),
      fc.double({ min: 0, max: 1, noNaN: true }),
      (shift, cut, drive, to, u) => {
        const model = fourBar({
          cut,
          drive,
          to,
          fold: [
            { move: 'release', joint: 'a' },
            { move: 'turn', joint: drive, to },
          ],
        });
        const { m, s } = model;
        for (let j = 0; j < 4; j++) {
          s.joint[6 * j]! += shift[3 * j]!;
          s.joint[6 * j + 2]! += shift[3 * j + 2]!;
        }
        const plan = planFold(m, s);
        if (plan.segments.length === 0) return;
        const { reached } = plan.segments[0]!;
        const ws = newLinkageWorkspace(m.top);
        const ride = s.bodyT.slice();
        poseAlong(m, plan, 0, u * reached, s, ws);
        const first = s.bodyT.slice();
        expect(ws.report.converged).toBe(true);
        poseAlong(m, plan, 0, reached, s, ws);
        poseAlong(m, plan, 0, u * reached, s, ws);
        expectSamePlaces(s.bodyT, first, { shift, cut, drive, to, u });
        poseAlong(m, plan, 0, 0, s, ws);
        expectSamePlaces(s.bodyT, ride, { shift, cut, drive, to });
      },
    ),
    { numRuns: 150 },
  );
});

test('beyond what the loop can follow the report says so and the last posture is kept', () => {
  const { m, s } = fourBar({ to: 1.2 });
  const plan = planFold(m, s);
  const { reached } = plan.segments[0]!;
  const ws = newLinkageWorkspace(m.top);
  poseAlong(m, plan, 0, reached, s, ws);
  const last = s.bodyT.slice();
  expect(poseAlong(m, plan, 0, 1, s, ws)).toMatchObject({ converged: false, reason: 'not reached' });
  expectSamePlaces(s.bodyT, last, 'kept');
});
