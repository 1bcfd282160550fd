/**
 * Bodies and joints as a spanning tree, and the posture that joint values give them.
 *
 * Method: product of exponentials over the tree, with every screw given in the ride posture in world coordinates:
 * T_b = T_a · exp(S_j q_j) where the joint's first body is the parent, T_b = T_a · exp(−S_j q_j) where its second body is
 * (Brockett 1984; Lynch & Park, *Modern Robotics*, 2017, ch. 4; the screw of each joint is moved by its parent's T, which
 * is the "space form" written link by link).
 * Assumptions: rigid bodies, one freedom a joint. SI: m, rad.
 * Not here: joints that close loops (loop-system.ts), joint play.
 */
import { setIdentity } from '../math/rigid.ts';
import { type State, slides, type Topology } from '../model/types.ts';

/** What the linkage functions read of a `Topology`; a calculation may make one of its own with `spanningChain`. */
export type Chain = Pick<
  Topology,
  'bodyCount' | 'parent' | 'parentJoint' | 'order' | 'kind' | 'held' | 'jointA' | 'jointB' | 'cuts'
>;
/** What they read and write of a `State`: ride-posture screws (6 a joint), joint values, body motions (12 a body). */
export type Posture = Pick<State, 'joint' | 'q' | 'bodyT'>;

export const jointCount = (top: Chain): number => top.kind.length;

/** A posture that shares the screws of `s` and owns its joint values and body motions (copied from `s`). */
export const postureLike = (s: Posture): Posture => ({ joint: s.joint, q: s.q.slice(), bodyT: s.bodyT.slice() });

/**
 * Writes `s.bodyT` from `s.q`, root at identity. Only tree joints are read: the values of cut joints follow from the
 * bodies. Allocates nothing; about 25 ns a body.
 */
export function poseBodies(top: Chain, s: Posture): void {
  const { order, parent, parentJoint, jointA, kind } = top;
  const { joint, q, bodyT: t } = s;
  setIdentity(t, 12 * order[0]!);
  for (let i = 1; i < order.length; i++) {
    const b = order[i]!;
    const p = parent[b]!;
    const j = parentJoint[b]!;
    const value = jointA[j] === p ? q[j]! : -q[j]!;
    const to = 12 * b;
    const from = 12 * p;
    if (value === 0) {
      for (let k = 0; k < 12; k++) t[to + k] = t[from + k]!;
      continue;
    }
    const x = joint[6 * j + 3]!;
    const y = joint[6 * j + 4]!;
    const z = joint[6 * j + 5]!;
    if (slides(kind[j]!)) {
      for (let k = 0; k < 12; k += 4) {
        const r0 = t[from + k]!;
        const r1 = t[from + k + 1]!;
        const r2 = t[from + k + 2]!;
        t[to + k] = r0;
        t[to + k + 1] = r1;
        t[to + k + 2] = r2;
        t[to + k + 3] = t[from + k + 3]! + (r0 * x + r1 * y + r2 * z) * value;
      }
      continue;
    }
    // Rodrigues' formula and the product of motions of math/rigid.ts, written out: locals instead of a scratch motion
    // halve the time of the hottest loop of the sieve (a test holds them equal).
    const px = joint[6 * j]!;
    const py = joint[6 * j + 1]!;
    const pz = joint[6 * j + 2]!;
    const c = Math.cos(value);
    const sn = Math.sin(value);
    const v = 1 - c;
    const xs = x * sn;
    const ys = y * sn;
    const zs = z * sn;
    const xy = x * y * v;
    const xz = x * z * v;
    const yz = y * z * v;
    const a00 = c + x * x * v;
    const a11 = c + y * y * v;
    const a22 = c + z * z * v;
    const dx = px - (a00 * px + (xy - zs) * py + (xz + ys) * pz);
    const dy = py - ((xy + zs) * px + a11 * py + (yz - xs) * pz);
    const dz = pz - ((xz - ys) * px + (yz + xs) * py + a22 * pz);
    for (let k = 0; k < 12; k += 4) {
      const r0 = t[from + k]!;
      const r1 = t[from + k + 1]!;
      const r2 = t[from + k + 2]!;
      t[to + k] = r0 * a00 + r1 * (xy + zs) + r2 * (xz - ys);
      t[to + k + 1] = r0 * (xy - zs) + r1 * a11 + r2 * (yz + xs);
      t[to + k + 2] = r0 * (xz + ys) + r1 * (yz - xs) + r2 * a22;
      t[to + k + 3] = r0 * dx + r1 * dy + r2 * dz + t[from + k + 3]!;
    }
  }
}

/**
 * A breadth-first spanning tree from body 0 over the joints given, without those of `neverInTree` (none by default); the
 * joints left over are the cuts.
 * @returns null where a body is not reached: the bodies that hang on nothing have no posture.
 */
export function spanningChain(
  bodyCount: number,
  jointA: Int32Array,
  jointB: Int32Array,
  kind: Int32Array,
  held: Int32Array,
  neverInTree: (joint: number) => boolean = () => false,
): Chain | null {
  const parent = new Int32Array(bodyCount).fill(-1);
  const parentJoint = new Int32Array(bodyCount).fill(-1);
  const inTree = new Uint8Array(kind.length);
  const order = [0];
  const seen = new Uint8Array(bodyCount);
  seen[0] = 1;
  for (let i = 0; i < order.length; i++) {
    const a = order[i]!;
    for (let j = 0; j < kind.length; j++) {
      if (neverInTree(j)) continue;
      const b = jointA[j] === a ? jointB[j]! : jointB[j] === a ? jointA[j]! : -1;
      if (b < 0 || seen[b]) continue;
      seen[b] = 1;
      parent[b] = a;
      parentJoint[b] = j;
      inTree[j] = 1;
      order.push(b);
    }
  }
  if (order.length < bodyCount) return null;
  const cuts = Int32Array.from([...kind.keys()].filter((j) => !inTree[j]));
  return { bodyCount, parent, parentJoint, order: Int32Array.from(order), kind, held, jointA, jointB, cuts };
}

/** Body at the far end of each tree joint; -1 for cut joints. */
export function childBodies(top: Chain): Int32Array {
  const child = new Int32Array(jointCount(top)).fill(-1);
  for (let b = 0; b < top.bodyCount; b++) if (top.parentJoint[b]! >= 0) child[top.parentJoint[b]!] = b;
  return child;
}

/** Row-major bodies × joints: 1 where the tree joint carries the body (moves it relative to the root). */
export function carriedBodies(top: Chain): Uint8Array {
  const n = jointCount(top);
  const carried = new Uint8Array(top.bodyCount * n);
  for (const b of top.order) {
    const p = top.parent[b]!;
    if (p < 0) continue;
    for (let j = 0; j < n; j++) carried[b * n + j] = carried[p * n + j]!;
    carried[b * n + top.parentJoint[b]!] = 1;
  }
  return carried;
}

/**
 * Bodies on the second body's side of a joint when that joint is taken out, pins and other cuts counted as connections;
 * 1 per body. Where a loop leads around the joint, the first body is marked too: the joint then separates nothing.
 */
export function sideOf(top: Chain, joint: number): Uint8Array {
  const side = new Uint8Array(top.bodyCount);
  const queue = [top.jointB[joint]!];
  side[queue[0]!] = 1;
  for (const at of queue)
    for (let j = 0; j < jointCount(top); j++) {
      if (j === joint) continue;
      const next = top.jointA[j] === at ? top.jointB[j]! : top.jointB[j] === at ? top.jointA[j]! : -1;
      if (next >= 0 && !side[next]) {
        side[next] = 1;
        queue.push(next);
      }
    }
  return side;
}
