/** The joints of one solution: the structure's and the group's fixtures, with the stiffnesses that count now. */
import type { FrameJoint } from '../structure.ts';
import { type FrameNumbers, jointVectors } from './assembly.ts';
import type { ActiveJoints } from './balance.ts';

export interface SolveOptions {
  /** 6 per joint, then 6 per fixture: stiffness instead of the laws' `closed`. */
  readonly jointStiffness?: Float64Array;
  /** Force of each joint component at rest, in the sense of its motion: force = stiffness · motion + this. */
  readonly jointForce?: Float64Array;
}

/** @throws RangeError when an option has another length than the joints and fixtures have components. */
export function activeJoints(
  n: FrameNumbers,
  fixtures: readonly FrameJoint[],
  options: SolveOptions = {},
): ActiveJoints {
  const own = n.structure.joints;
  const all = own.length + fixtures.length;
  const rest = options.jointForce;
  for (const given of [options.jointStiffness, rest])
    if (given && given.length !== 6 * all) throw new RangeError(`${6 * all} joint components, ${given.length} given`);
  if (fixtures.length === 0) return { joints: own, h: n.jointH, k: options.jointStiffness ?? n.jointK, rest };
  const h = new Float64Array(72 * all);
  h.set(n.jointH);
  for (let i = 0; i < fixtures.length; i++) jointVectors(fixtures[i]!, n.structure, h, 72 * (own.length + i));
  let k = options.jointStiffness;
  if (!k) {
    k = new Float64Array(6 * all);
    k.set(n.jointK);
    for (let i = 0; i < fixtures.length; i++)
      for (let c = 0; c < 6; c++) k[6 * (own.length + i) + c] = fixtures[i]!.laws[c]!.closed;
  }
  return { joints: [...own, ...fixtures], h, k, rest };
}
