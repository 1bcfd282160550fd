import { expect, it } from 'vitest';
import type { Model } from '../model/types.ts';
import { countSimple } from './counts.ts';

/** Rear, front, fork, cranks; hinge (latched, two actions), steerer, cranks, and a seat post that is lowered. */
const model = {
  top: { bodyCount: 5, kind: Int32Array.of(0, 2, 0, 3) },
  roles: { steerer: 1, cranks: 2, cranksBody: 3 },
  fold: [
    { kind: 'release', joint: 0, to: -1 },
    { kind: 'turn', joint: 0, to: 4 },
    { kind: 'turn', joint: 2, to: 5 },
    { kind: 'release', joint: 3, to: -1 },
    { kind: 'lower', joint: 3, to: 6 },
    { kind: 'lock', joint: 3, to: -1 },
  ],
  counts: { customParts: 7, boughtParts: 11, fasteners: 14, adjustments: 2, jointActions: [2, 0, 0, 1] },
} as unknown as Model;

it('counts what moves, without steerer and cranks, and adds each lock action for release and for lock', () => {
  expect(countSimple(model)).toEqual({
    bodies: 4,
    movingJoints: 2,
    adjustments: 2,
    customParts: 7,
    boughtParts: 11,
    fasteners: 14,
    visibleMoves: 3,
    foldSteps: 6,
    handActions: 2 + 1 + 1,
    distinctJoints: 3,
  });
});
it('counts a rigid bicycle with its fork as two bodies, no moving joint and no move', () => {
  const rigid = {
    top: { bodyCount: 3, kind: Int32Array.of(2, 0) },
    roles: { steerer: 0, cranks: 1, cranksBody: 2 },
    fold: [],
    counts: { customParts: 2, boughtParts: 9, fasteners: 10, adjustments: 1, jointActions: [0, 0] },
  } as unknown as Model;
  const c = countSimple(rigid);
  expect([c.bodies, c.movingJoints, c.visibleMoves, c.handActions]).toEqual([2, 0, 0, 0]);
});
