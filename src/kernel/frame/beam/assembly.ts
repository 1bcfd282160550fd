/**
 * A structure's numbers for the solver: member stiffnesses and arms, joint vectors, their scatter into node blocks, and the
 * way back from motion to end forces.
 *
 * A member's motion enters only through d = T(to) u(to) − T(from) u(from), the motion of its elastic end B relative to its
 * beginning, so that a rigid motion strains nothing by construction; likewise a joint's.
 * Layout: 6 freedoms a node, x y z then about x y z; joint vectors 12 a component, `from` then `to`.
 * Not here: supports and loads (solver).
 */
import { cross, type Vec3 } from '../../math/rigid.ts';
import type { FrameJoint, FrameStructure } from '../structure.ts';
import { memberEndStiffness } from './member-flexibility.ts';

export interface FrameNumbers {
  structure: FrameStructure;
  /** 36 a member: stiffness at B. */
  readonly k: Float64Array;
  /** 6 a member: B seen from the first node, then from the second. */
  readonly arms: Float64Array;
  /** 72 a joint, and 6 stiffnesses. */
  readonly jointH: Float64Array;
  readonly jointK: Float64Array;
  /** 6 by node: diagonal that released members had before; what they leave of it is round-off. */
  readonly gross: Float64Array;
  released: boolean;
  /** Length that compares turns with shifts and moments with forces: the diagonal of the box around the nodes. */
  size: number;
}

const finite = (v: Vec3): boolean => Number.isFinite(v[0] + v[1] + v[2]);

/** @throws RangeError for nodes that are not numbers and ends that name no node. */
function refuse(structure: FrameStructure): void {
  const n = structure.nodes.length;
  for (const node of structure.nodes) if (!finite(node.at)) throw new RangeError(`node ${node.name} has no place`);
  for (const m of structure.members)
    if (!(m.from >= 0 && m.from < n && m.to >= 0 && m.to < n))
      throw new RangeError(`member ${m.name} ends at a node that is not there`);
}

/** Writes the 72 numbers of a joint. @throws RangeError for ends that name no node, or both on the ground. */
export function jointVectors(joint: FrameJoint, structure: FrameStructure, out: Float64Array, o: number): void {
  const n = structure.nodes.length;
  if (!(joint.from >= -1 && joint.from < n && joint.to >= -1 && joint.to < n) || !finite(joint.at))
    throw new RangeError(`joint ${joint.name} ends at a node that is not there`);
  out.fill(0, o, o + 72);
  for (let side = 0; side < 2; side++) {
    const index = side === 0 ? joint.from : joint.to;
    if (index < 0) continue;
    const sign = side === 0 ? -1 : 1;
    const at = structure.nodes[index]!.at;
    const r: Vec3 = [joint.at[0] - at[0], joint.at[1] - at[1], joint.at[2] - at[2]];
    for (let a = 0; a < 3; a++) {
      const axis = joint.axes[a]!;
      const turn = cross(r, axis); // a · (θ × r) = θ · (r × a)
      const shift = o + 12 * a + 6 * side;
      const spin = o + 12 * (a + 3) + 6 * side;
      for (let i = 0; i < 3; i++) {
        out[shift + i] = sign * axis[i]!;
        out[shift + 3 + i] = sign * turn[i]!;
        out[spin + 3 + i] = sign * axis[i]!;
      }
    }
  }
}

/** @throws RangeError naming the joint when a stiffness is negative or not finite (a rigid link is a member or a node). */
export function checkStiffness(k: number, name: string): number {
  if (!(k >= 0 && k < Infinity)) throw new RangeError(`joint ${name}: a stiffness must be 0 or more, and finite`);
  return k;
}

export function frameNumbers(structure: FrameStructure): FrameNumbers {
  const m = structure.members.length;
  const j = structure.joints.length;
  const numbers: FrameNumbers = {
    structure,
    k: new Float64Array(36 * m),
    arms: new Float64Array(6 * m),
    jointH: new Float64Array(72 * j),
    jointK: new Float64Array(6 * j),
    gross: new Float64Array(6 * structure.nodes.length),
    released: false,
    size: 0,
  };
  fillNumbers(numbers, structure);
  return numbers;
}

const whole = new Float64Array(36);
const diagonal = new Float64Array(36);

/** Recomputes everything for changed dimensions. @throws RangeError as its parts do. */
export function fillNumbers(numbers: FrameNumbers, structure: FrameStructure): void {
  refuse(structure);
  numbers.structure = structure;
  const { nodes } = structure;
  numbers.gross.fill(0);
  numbers.released = false;
  structure.members.forEach((member, i) => {
    const released = memberEndStiffness(member, numbers.k, 36 * i, whole);
    const B = member.pieces.at(-1)!.to;
    const from = nodes[member.from]!.at;
    const to = nodes[member.to]!.at;
    for (let c = 0; c < 3; c++) {
      numbers.arms[6 * i + c] = B[c]! - from[c]!;
      numbers.arms[6 * i + 3 + c] = B[c]! - to[c]!;
    }
    if (!released) return;
    numbers.released = true;
    for (let side = 0; side < 2; side++) {
      const node = side === 0 ? member.from : member.to;
      const r = 6 * i + 3 * side;
      diagonal.fill(0);
      addTkT(whole, 0, numbers.arms, r, r, 1, diagonal, 0, false);
      for (let c = 0; c < 6; c++) numbers.gross[6 * node + c]! += diagonal[7 * c]!;
    }
  });
  structure.joints.forEach((joint, i) => {
    jointVectors(joint, structure, numbers.jointH, 72 * i);
    for (let c = 0; c < 6; c++) numbers.jointK[6 * i + c] = checkStiffness(joint.laws[c]!.closed, joint.name);
  });
  let sum = 0;
  for (let c = 0; c < 3; c++) {
    let low = Infinity;
    let high = -Infinity;
    for (const node of nodes) {
      low = Math.min(low, node.at[c]!);
      high = Math.max(high, node.at[c]!);
    }
    if (high > low) sum += (high - low) * (high - low);
  }
  numbers.size = sum > 0 ? Math.sqrt(sum) : 1;
}

const kt = new Float64Array(36);
/** out += s · T(ra)ᵀ K T(rb), T(r) = motion of B by the node's; `flip` writes the transpose. Blocks row-major. */
function addTkT(
  k: Float64Array,
  o: number,
  arms: Float64Array,
  a: number,
  b: number,
  s: number,
  v: Float64Array,
  at: number,
  flip: boolean,
): void {
  const b0 = arms[b]!,
    b1 = arms[b + 1]!,
    b2 = arms[b + 2]!;
  for (let i = 0; i < 6; i++) {
    const q = o + 6 * i;
    const f0 = k[q]!,
      f1 = k[q + 1]!,
      f2 = k[q + 2]!;
    const w = 6 * i;
    kt[w] = s * f0;
    kt[w + 1] = s * f1;
    kt[w + 2] = s * f2;
    // Row · (θ × r) = θ · (r × row)
    kt[w + 3] = s * (k[q + 3]! + b1 * f2 - b2 * f1);
    kt[w + 4] = s * (k[q + 4]! + b2 * f0 - b0 * f2);
    kt[w + 5] = s * (k[q + 5]! + b0 * f1 - b1 * f0);
  }
  const a0 = arms[a]!,
    a1 = arms[a + 1]!,
    a2 = arms[a + 2]!;
  const di = flip ? 1 : 6;
  const dj = flip ? 6 : 1;
  for (let j = 0; j < 6; j++) {
    const f0 = kt[j]!,
      f1 = kt[6 + j]!,
      f2 = kt[12 + j]!;
    const t = at + dj * j;
    v[t]! += f0;
    v[t + di]! += f1;
    v[t + 2 * di]! += f2;
    v[t + 3 * di]! += kt[18 + j]! + a1 * f2 - a2 * f1;
    v[t + 4 * di]! += kt[24 + j]! + a2 * f0 - a0 * f2;
    v[t + 5 * di]! += kt[30 + j]! + a0 * f1 - a1 * f0;
  }
}

/** Offsets of a two-ended element's blocks: its two diagonals (−1 for the ground) and its coupling, `flip` when it is stored transposed. */
export interface Blocks {
  readonly first: number;
  readonly second: number;
  readonly both: number;
  readonly flip: boolean;
}

/** Adds a member's stiffness. The coupling block is (second, first) of the order, or its transpose. */
export function addMember(n: FrameNumbers, i: number, at: Blocks, v: Float64Array): void {
  const o = 36 * i;
  const ri = 6 * i;
  const rj = ri + 3;
  addTkT(n.k, o, n.arms, ri, ri, 1, v, at.first, false);
  addTkT(n.k, o, n.arms, rj, rj, 1, v, at.second, false);
  if (at.both >= 0) addTkT(n.k, o, n.arms, rj, ri, -1, v, at.both, at.flip);
  else {
    // Both ends on one node: the coupling and its transpose fall on the diagonal block.
    addTkT(n.k, o, n.arms, rj, ri, -1, v, at.first, false);
    addTkT(n.k, o, n.arms, rj, ri, -1, v, at.first, true);
  }
}

/** Adds one component of a joint, stiffness `k`. */
export function addSpring(h: Float64Array, o: number, k: number, at: Blocks, v: Float64Array): void {
  for (let i = 0; i < 6; i++) {
    const f = k * h[o + i]!;
    const t = k * h[o + 6 + i]!;
    for (let j = 0; j < 6; j++) {
      const hf = h[o + j]!;
      const ht = h[o + 6 + j]!;
      if (at.first >= 0) v[at.first + 6 * i + j]! += f * hf;
      if (at.second >= 0) v[at.second + 6 * i + j]! += t * ht;
      if (at.both >= 0) {
        if (at.flip) v[at.both + 6 * j + i]! += t * hf;
        else v[at.both + 6 * i + j]! += t * hf;
      } else if (at.first >= 0 && at.first === at.second) {
        v[at.first + 6 * i + j]! += f * ht + t * hf;
      }
    }
  }
}

/** End forces of all members from the motion u (by node, from `uo` on), from `eo` on, added to the nodes' sums: 12 a member, global axes. */
export function endForces(
  n: FrameNumbers,
  u: Float64Array,
  uo: number,
  end: Float64Array,
  eo: number,
  sum: Float64Array,
): void {
  const { k, arms } = n;
  const { members } = n.structure;
  for (let m = 0; m < members.length; m++) {
    const sa = 6 * members[m]!.from;
    const sb = 6 * members[m]!.to;
    const a = uo + sa;
    const b = uo + sb;
    const r = 6 * m;
    const i0 = arms[r]!,
      i1 = arms[r + 1]!,
      i2 = arms[r + 2]!,
      j0 = arms[r + 3]!,
      j1 = arms[r + 4]!,
      j2 = arms[r + 5]!;
    const p = u[a + 3]!,
      q = u[a + 4]!,
      s = u[a + 5]!,
      x = u[b + 3]!,
      y = u[b + 4]!,
      z = u[b + 5]!;
    const d0 = u[b]! - u[a]! + (y * j2 - z * j1) - (q * i2 - s * i1);
    const d1 = u[b + 1]! - u[a + 1]! + (z * j0 - x * j2) - (s * i0 - p * i2);
    const d2 = u[b + 2]! - u[a + 2]! + (x * j1 - y * j0) - (p * i1 - q * i0);
    const d3 = x - p,
      d4 = y - q,
      d5 = z - s;
    const o = 36 * m;
    const f0 = k[o]! * d0 + k[o + 1]! * d1 + k[o + 2]! * d2 + k[o + 3]! * d3 + k[o + 4]! * d4 + k[o + 5]! * d5;
    const f1 = k[o + 6]! * d0 + k[o + 7]! * d1 + k[o + 8]! * d2 + k[o + 9]! * d3 + k[o + 10]! * d4 + k[o + 11]! * d5;
    const f2 =
      k[o + 12]! * d0 + k[o + 13]! * d1 + k[o + 14]! * d2 + k[o + 15]! * d3 + k[o + 16]! * d4 + k[o + 17]! * d5;
    const m0 =
      k[o + 18]! * d0 + k[o + 19]! * d1 + k[o + 20]! * d2 + k[o + 21]! * d3 + k[o + 22]! * d4 + k[o + 23]! * d5;
    const m1 =
      k[o + 24]! * d0 + k[o + 25]! * d1 + k[o + 26]! * d2 + k[o + 27]! * d3 + k[o + 28]! * d4 + k[o + 29]! * d5;
    const m2 =
      k[o + 30]! * d0 + k[o + 31]! * d1 + k[o + 32]! * d2 + k[o + 33]! * d3 + k[o + 34]! * d4 + k[o + 35]! * d5;
    const e = eo + 12 * m;
    end[e] = -f0;
    end[e + 1] = -f1;
    end[e + 2] = -f2;
    end[e + 3] = -(m0 + i1 * f2 - i2 * f1);
    end[e + 4] = -(m1 + i2 * f0 - i0 * f2);
    end[e + 5] = -(m2 + i0 * f1 - i1 * f0);
    end[e + 6] = f0;
    end[e + 7] = f1;
    end[e + 8] = f2;
    end[e + 9] = m0 + j1 * f2 - j2 * f1;
    end[e + 10] = m1 + j2 * f0 - j0 * f2;
    end[e + 11] = m2 + j0 * f1 - j1 * f0;
    for (let c = 0; c < 6; c++) {
      sum[sa + c]! += end[e + c]!;
      sum[sb + c]! += end[e + 6 + c]!;
    }
  }
}

/** Motion of `to` relative to `from` in one component of a joint. */
export function jointMotion(h: Float64Array, o: number, joint: FrameJoint, u: Float64Array, uo = 0): number {
  let d = 0;
  if (joint.from >= 0) for (let i = 0; i < 6; i++) d += h[o + i]! * u[uo + 6 * joint.from + i]!;
  if (joint.to >= 0) for (let i = 0; i < 6; i++) d += h[o + 6 + i]! * u[uo + 6 * joint.to + i]!;
  return d;
}

/** sum += s · hᵀ: what a joint's component with the force s takes from its nodes. */
export function spreadJoint(h: Float64Array, o: number, joint: FrameJoint, s: number, sum: Float64Array): void {
  if (joint.from >= 0) for (let i = 0; i < 6; i++) sum[6 * joint.from + i]! += s * h[o + i]!;
  if (joint.to >= 0) for (let i = 0; i < 6; i++) sum[6 * joint.to + i]! += s * h[o + 6 + i]!;
}
