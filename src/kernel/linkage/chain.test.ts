import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { EPS, expectWithin } from '../../../test/expect-within.ts';
import { fourBar, linkageModel, pinnedTriangle, sideHinge } from '../../../test/fixtures/linkage-models.ts';
import { compose, movePoint, rotationAbout, translationAlong } from '../math/rigid.ts';
import { carriedBodies, poseBodies, sideOf, spanningChain } from './chain.ts';

/** Products of a few motions of order 1. */
const ROUNDOFF = { absolute: 64 * EPS };

describe('posture of a tree', () => {
  test('is the product of each joint’s motion, first bodies nearer the root or farther alike', () => {
    const number = fc.double({ min: -2, max: 2, noNaN: true });
    fc.assert(
      fc.property(number, number, number, fc.boolean(), (q0, q1, q2, reversed) => {
        const { m, s } = linkageModel({
          bodies: ['root', 'arm', 'slider', 'hand'],
          joints: [
            { name: 'p', kind: 'pivot', held: 'none', between: ['root', 'arm'], at: [0.1, 0.2, 0.3], axis: [1, 2, -1] },
            {
              name: 's',
              kind: 'slide',
              held: 'none',
              between: reversed ? ['slider', 'arm'] : ['arm', 'slider'],
              at: [0, 0, 0],
              axis: [0, 1, 1],
            },
            {
              name: 'r',
              kind: 'steerer',
              held: 'none',
              between: reversed ? ['hand', 'slider'] : ['slider', 'hand'],
              at: [0.5, -0.1, 0.4],
              axis: [-0.3, 0.2, 1],
            },
          ],
        });
        s.q.set([q0, q1, q2]);
        poseBodies(m.top, s);
        const step = new Float64Array(36);
        const u = (j: number) => [s.joint[6 * j + 3]!, s.joint[6 * j + 4]!, s.joint[6 * j + 5]!] as const;
        const p = (j: number) => [s.joint[6 * j]!, s.joint[6 * j + 1]!, s.joint[6 * j + 2]!] as const;
        const sign = reversed ? -1 : 1;
        rotationAbout(...p(0), ...u(0), q0, step, 0);
        translationAlong(...u(1), sign * q1, step, 12);
        rotationAbout(...p(2), ...u(2), sign * q2, step, 24);
        const two = new Float64Array(12);
        const three = new Float64Array(12);
        compose(step, 0, step, 12, two, 0);
        compose(two, 0, step, 24, three, 0);
        three.forEach((value, i) => {
          expectWithin(s.bodyT[12 * 3 + i]!, value, ROUNDOFF, { q0, q1, q2, i });
        });
      }),
    );
  });

  test('puts a point a quarter turn on, by the right-hand rule, second body against first', () => {
    const { m, s } = sideHinge();
    s.q[3] = Math.PI / 2;
    poseBodies(m.top, s);
    // Cranks about y through (0.415, 0, 0.3): a pedal 0.17 m ahead goes down.
    const [x, , z] = movePoint(s.bodyT, 12 * 4, [0.585, 0, 0.3]);
    expectWithin(x, 0.415, ROUNDOFF);
    expectWithin(z, 0.13, ROUNDOFF);
  });
});

describe('the tree', () => {
  test('knows which bodies each joint carries, and leaves pins out', () => {
    const { m } = pinnedTriangle();
    expect([...m.top.cuts]).toEqual([2]);
    expect([...carriedBodies(m.top)]).toEqual([0, 0, 0, 1, 0, 0, 1, 1, 0]);
  });

  test('does not exist where a body hangs on nothing', () => {
    const ends = Int32Array.of(0);
    expect(spanningChain(3, ends, Int32Array.of(1), Int32Array.of(0), Int32Array.of(0))).toBeNull();
  });

  test('is split by the steerer into the steered side and the rest', () => {
    const { m, joint } = sideHinge();
    expect([...sideOf(m.top, joint('steer'))]).toEqual([0, 0, 1, 0, 0]);
    expect([...sideOf(m.top, joint('main'))]).toEqual([0, 1, 1, 0, 0]);
  });

  test('is not split by a joint of a loop: the first body is on the far side too', () => {
    const { m, joint } = fourBar();
    expect([...sideOf(m.top, joint('b'))]).toEqual([1, 1, 1, 1]);
  });
});
