/**
 * Forces in joints, loads on nodes, and how far a solution is out of balance.
 *
 * Sums by node collect what members, joints and springs take; with the loads taken off, what is left at a free component is
 * the residual and at a held one the support's reaction. Forces and moments are each measured over their own scale: the
 * largest force anywhere, and that force times the structure's size (or the largest moment, and that over the size), so that
 * the noise of a pure moment is not measured by itself.
 */
import type { FrameJoint, FrameStructure, NodeLoad } from '../structure.ts';
import { type FrameNumbers, jointMotion, spreadJoint } from './assembly.ts';

/** The joints that take part in a solution: the structure's, then the group's fixtures; 72 numbers and 6 stiffnesses each. */
export interface ActiveJoints {
  readonly joints: readonly FrameJoint[];
  readonly h: Float64Array;
  readonly k: Float64Array;
  /** Force at rest of each component. */
  readonly rest: Float64Array | undefined;
}

/** Joint forces from the motion u (from `uo` on), into `out` from `o` on, and onto the nodes' sums. */
export function jointForces(
  a: ActiveJoints,
  u: Float64Array,
  uo: number,
  out: Float64Array,
  o: number,
  sum: Float64Array,
): void {
  const { joints, h, k, rest } = a;
  for (let i = 0; i < joints.length; i++)
    for (let c = 0; c < 6; c++) {
      const stiff = k[6 * i + c]!;
      const at = 72 * i + 12 * c;
      let s = rest ? rest[6 * i + c]! : 0;
      if (stiff > 0) s += stiff * jointMotion(h, at, joints[i]!, u, uo);
      out[o + 6 * i + c] = s;
      if (s !== 0) spreadJoint(h, at, joints[i]!, s, sum);
    }
}

/** @throws RangeError for an index that names no node. */
export function nodeIndex(structure: FrameStructure, n: number, what: string): number {
  if (!(n >= 0 && n < structure.nodes.length)) throw new RangeError(`a ${what} names node ${n}, which is not there`);
  return n;
}

/** Writes the loads, 6 by node. */
export function nodeForces(structure: FrameStructure, loads: readonly NodeLoad[], f: Float64Array): void {
  f.fill(0);
  for (const { node, force, moment, at } of loads) {
    const o = 6 * nodeIndex(structure, node, 'load');
    const p = structure.nodes[node]!.at;
    const rx = at ? at[0] - p[0] : 0;
    const ry = at ? at[1] - p[1] : 0;
    const rz = at ? at[2] - p[2] : 0;
    f[o]! += force[0];
    f[o + 1]! += force[1];
    f[o + 2]! += force[2];
    f[o + 3]! += moment[0] + ry * force[2] - rz * force[1];
    f[o + 4]! += moment[1] + rz * force[0] - rx * force[2];
    f[o + 5]! += moment[2] + rx * force[1] - ry * force[0];
  }
}

/** Largest force in 6-component records o…to, moments counted over `size`; NaN and Infinity come through. */
function largest(v: Float64Array, o: number, to: number, size: number, before: number): number {
  let force = before;
  let moment = before * size;
  for (let i = o; i < to; i += 6) {
    for (let c = i; c < i + 3; c++) {
      const a = Math.abs(v[c]!);
      if (!(a <= force)) force = a;
      const b = Math.abs(v[c + 3]!);
      if (!(b <= moment)) moment = b;
    }
  }
  const other = moment / size;
  return force >= other ? force : other;
}

/**
 * Turns the nodes' sums into what is out of balance (sum + springs·u − f) and returns its relative size, NaN when anything
 * is not a number. @param heldFree 0 by node and component where held, else 1.
 */
export function outOfBalance(
  n: FrameNumbers,
  sum: Float64Array,
  u: Float64Array,
  uo: number,
  f: Float64Array,
  springs: Float64Array,
  heldFree: Float64Array,
  end: Float64Array,
  endFrom: number,
  endTo: number,
  joint: Float64Array,
  jointFrom: number,
  jointTo: number,
): number {
  let scale = largest(f, 0, f.length, n.size, 0);
  scale = largest(end, endFrom, endTo, n.size, scale);
  scale = largest(joint, jointFrom, jointTo, n.size, scale);
  let force = 0;
  let moment = 0;
  for (let i = 0; i < sum.length; i += 6) {
    for (let c = i; c < i + 3; c++) {
      const s = sum[c]! + springs[c]! * u[uo + c]! - f[c]!;
      sum[c] = s;
      const a = Math.abs(s) * heldFree[c]!;
      if (!(a <= force)) force = a;
      const t = sum[c + 3]! + springs[c + 3]! * u[uo + c + 3]! - f[c + 3]!;
      sum[c + 3] = t;
      const b = Math.abs(t) * heldFree[c + 3]!;
      if (!(b <= moment)) moment = b;
    }
  }
  const other = moment / n.size;
  const worst = force >= other ? force : other;
  return scale === 0 && worst === 0 ? 0 : worst / scale;
}
