import { expect, test } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { fourBar, type LinkageModel, sideHinge } from '../../../test/fixtures/linkage-models.ts';
import { at3, cross, movePoint, type Vec3 } from '../math/rigid.ts';
import { bodyRates, RATE_SIZE } from './body-rates.ts';
import { postureLike } from './chain.ts';
import { planFold } from './fold-plan.ts';
import { newLinkageWorkspace } from './loop-system.ts';
import { followerRates, poseAlong } from './pose-along.ts';

/** Central difference over 2e-4 of the way: error (2e-4)²/6 of a third derivative of some 10 m. */
const DIFFERENCE = { absolute: 1e-6, relative: 1e-5 };
const P: Vec3 = [0.61, 0.13, 0.42];

test.each([
  ['an open tree', sideHinge(), 2],
  ['a four-bar cut at b', fourBar({ cut: 'b' }), 0],
  ['a four-bar cut at d', fourBar({ cut: 'd' }), 0],
] as readonly [string, LinkageModel, number][])(
  'the field of every body is its change of place: %s',
  (_, { m, s }, last) => {
    const ws = newLinkageWorkspace(m.top);
    const plan = planFold(m, s, ws);
    const here = postureLike(s);
    const field = new Float64Array(RATE_SIZE * m.top.bodyCount);
    let moved = 0;
    for (let i = 0; i <= last; i++) {
      const segment = plan.segments[i]!;
      const places = (u: number): Vec3[] => {
        poseAlong(m, plan, i, u, here, ws);
        return Array.from({ length: m.top.bodyCount }, (_, b) => movePoint(here.bodyT, 12 * b, P));
      };
      const h = 1e-4;
      const before = places(0.4 - h);
      const after = places(0.4 + h);
      const at = places(0.4);
      bodyRates(m.top, here, followerRates(m, plan, i, here, ws), ws.carried, field);
      at.forEach((p, b) => {
        const turn = cross(at3(field, RATE_SIZE * b), p);
        for (let c = 0; c < 3; c++) {
          const rate = (field[RATE_SIZE * b + 3 + c]! + turn[c]!) * (segment.to - segment.from);
          moved = Math.max(moved, Math.abs(rate));
          expectWithin(rate, (after[b]![c]! - before[b]![c]!) / (2 * h), DIFFERENCE, [i, b, c]);
        }
      });
    }
    expect(moved).toBeGreaterThan(0.1);
  },
);
