import fc from 'fast-check';
import { expect, test } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { linkageModel } from '../../../test/fixtures/linkage-models.ts';
import { poseBodies } from './chain.ts';
import {
  closureColumn,
  closureResidual,
  heldValueColumn,
  type LoopSystem,
  newLinkageWorkspace,
} from './loop-system.ts';

/** Central differences with h = 1e-5: h² times third derivatives of order 1, and rounding 1e-16/h. */
const DIFFERENCE = { absolute: 2e-9, relative: 1e-8 };
const H = 1e-5;

/** Two open chains from the root, a turning and a sliding joint in each, closed by a pivot or a slide. */
const openLoop = (kind: 'pivot' | 'slide') =>
  linkageModel({
    bodies: ['root', 'a', 'aa', 'b', 'bb'],
    joints: [
      { name: 'a', kind: 'pivot', held: 'none', between: ['root', 'a'], at: [0.1, 0, 0.3], axis: [0.2, 1, -0.4] },
      { name: 'aa', kind: 'slide', held: 'none', between: ['aa', 'a'], at: [0.2, 0.1, 0], axis: [1, 0.3, 0.2] },
      { name: 'b', kind: 'slide', held: 'none', between: ['root', 'b'], at: [0, 0, 0], axis: [0.1, -0.7, 1] },
      { name: 'bb', kind: 'pivot', held: 'none', between: ['bb', 'b'], at: [-0.1, 0.2, 0.5], axis: [1, 0.1, 0.6] },
      { name: 'cut', kind, held: 'none', between: ['aa', 'bb'], at: [0.4, 0.3, 0.2], axis: [-0.3, 0.5, 0.9] },
    ],
    cut: ['cut'],
  });

test.each([
  ['pivot', 0],
  ['pivot', 1],
  ['slide', 0],
  ['slide', 1],
] as const)(
  'rows of a %s (held: %i) have the derivatives that differences show, also away from closure',
  (kind, held) => {
    const { m, s } = openLoop(kind);
    const ws = newLinkageWorkspace(m.top);
    const system: LoopSystem = {
      unknowns: Int32Array.of(0, 1, 2, 3),
      cuts: Int32Array.of(4),
      fixed: Uint8Array.of(held),
    };
    const rows = (q: readonly number[]): Float64Array => {
      s.q.set(q);
      poseBodies(m.top, s);
      closureResidual(m.top, s, system, ws);
      return ws.residual.slice(0, 6);
    };
    const value = fc.double({ min: -1, max: 1, noNaN: true });
    fc.assert(
      fc.property(fc.tuple(value, value, value, value, value), (q) => {
        for (let j = 0; j < 5; j++) {
          const up = rows(q.map((v, i) => (i === j ? v + H : v)));
          const down = rows(q.map((v, i) => (i === j ? v - H : v)));
          rows(q);
          const column = new Float64Array(6);
          if (j < 4) closureColumn(m.top, s, system, ws, j, column, 0);
          else heldValueColumn(m.top, s, system, ws, 4, column, 0);
          for (let r = 0; r < 6; r++) expectWithin(column[r]!, (up[r]! - down[r]!) / (2 * H), DIFFERENCE, { q, j, r });
          // A free cut does not hold its value; everything else must move some row, or both sides agree on nothing.
          const size = Math.sqrt(column.reduce((sum, v) => sum + v * v, 0));
          if (j < 4) expect(size).toBeGreaterThan(1e-3);
          if (j === 4) expect(size > 1e-3).toBe(held === 1);
        }
      }),
      { numRuns: 60 },
    );
  },
);

test('nothing is open in the ride posture, whatever the geometry', () => {
  const { m, s } = openLoop('slide');
  const ws = newLinkageWorkspace(m.top);
  const system = { unknowns: new Int32Array(0), cuts: Int32Array.of(4), fixed: Uint8Array.of(1) };
  expect(closureResidual(m.top, s, system, ws)).toBe(0);
});

test('a joint turned out of line is open by the distance at the point and the angle times the length', () => {
  const { m, s } = linkageModel({
    bodies: ['root', 'arm'],
    joints: [
      { name: 'turn', kind: 'pivot', held: 'none', between: ['root', 'arm'], at: [0, 0, 0], axis: [0, 1, 0] },
      { name: 'pin', kind: 'pin', held: 'latch', between: ['root', 'arm'], at: [0.4, 0, 0], axis: [1, 0, 0] },
    ],
  });
  const ws = newLinkageWorkspace(m.top);
  s.q[0] = 0.1;
  poseBodies(m.top, s);
  const system = { unknowns: Int32Array.of(0), cuts: Int32Array.of(1), fixed: Uint8Array.of(0) };
  const open = closureResidual(m.top, s, system, ws);
  const chord = 2 * 0.4 * Math.sin(0.05);
  const skew = 0.3 * Math.sin(0.1);
  expectWithin(open, Math.sqrt(chord * chord + skew * skew), { relative: 1e-14 });
});
