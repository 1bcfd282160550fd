/**
 * Stiffness and geometric stiffness of a refined structure in one storage, for buckling and second order.
 *
 * K and the geometric stiffness KG of a state of forces share the block pattern, so that K + λ KG is one pass over the
 * numbers. Loads stay as they are (dead loads); what hangs on rigid arms (offsets of members, joints, loads beside their
 * nodes) adds the arm's own geometric stiffness.
 * Not here: the choice of subdivision (buckling, second-order).
 */
import { sub, type Vec3 } from '../../math/rigid.ts';
import type { LoadGroup, NodeLoad } from '../structure.ts';
import { addMember, addSpring, type Blocks, type FrameNumbers } from './assembly.ts';
import { type ActiveJoints, nodeIndex } from './balance.ts';
import { type BlockFactor, blockFactor, factorise } from './block-ldl.ts';
import { addArm, elementGeometric } from './geometric.ts';
import { pieceFrame } from './member-flexibility.ts';
import { blockPattern } from './ordering.ts';
import { blocksOf } from './plan.ts';

export interface Tangent {
  readonly numbers: FrameNumbers;
  readonly factor: BlockFactor;
  readonly members: readonly Blocks[];
  /** K with joints, fixtures and spring supports; panels. */
  readonly K: Float64Array;
  /** KG of the last state; panels. */
  readonly KG: Float64Array;
  /** 144 an element, for N = 1. */
  readonly unit: Float64Array;
  /** 9 a node: stiffness of arms in the last state. */
  readonly arms: Float64Array;
  readonly axial: Float64Array;
  readonly held: Uint8Array;
  readonly springs: Float64Array;
  readonly active: ActiveJoints;
}

/** @param active the structure's joints, then the group's fixtures. */
export function tangentOf(numbers: FrameNumbers, group: LoadGroup, active: ActiveJoints): Tangent {
  const { nodes, members } = numbers.structure;
  const n = nodes.length;
  const edges = [...members, ...active.joints]
    .filter(({ from, to }) => from >= 0 && to >= 0)
    .map(({ from, to }) => [from, to] as const);
  const factor = blockFactor(blockPattern(n, edges));
  const { place, start, size } = factor.pattern;
  const K = new Float64Array(size);
  const blocks = members.map(({ from, to }) => blocksOf(factor, from, to));
  blocks.forEach((at, i) => {
    addMember(numbers, i, at, K);
  });
  active.joints.forEach(({ from, to }, i) => {
    const at = blocksOf(factor, from, to);
    for (let c = 0; c < 6; c++) {
      const k = active.k[6 * i + c]!;
      if (k > 0) addSpring(active.h, 72 * i + 12 * c, k, at, K);
    }
  });
  const held = new Uint8Array(6 * n);
  const springs = new Float64Array(6 * n);
  for (const { node, component, stiffness } of group.supports) {
    const p = place[nodeIndex(numbers.structure, node, 'support')]!;
    if (stiffness === undefined) held[6 * p + component] = 1;
    else {
      K[start[p]! + 7 * component]! += stiffness;
      springs[6 * node + component]! += stiffness;
    }
  }
  const unit = new Float64Array(144 * members.length);
  members.forEach((m, i) => {
    elementGeometric(m, nodes, unit, 144 * i);
  });
  return {
    numbers,
    factor,
    members: blocks,
    K,
    KG: new Float64Array(size),
    unit,
    arms: new Float64Array(9 * n),
    axial: new Float64Array(members.length),
    held,
    springs,
    active,
  };
}

/** Sets KG, arms and axial forces from the end forces of elements and joints (global and joint axes, as a solution has them). */
export function setState(t: Tangent, end: Float64Array, joint: Float64Array, loads: readonly NodeLoad[]): void {
  const { nodes, members } = t.numbers.structure;
  t.arms.fill(0);
  members.forEach((m, i) => {
    const { x } = pieceFrame(m, 0);
    const f: Vec3 = [end[12 * i + 6]!, end[12 * i + 7]!, end[12 * i + 8]!];
    t.axial[i] = f[0] * x[0] + f[1] * x[1] + f[2] * x[2];
    addArm(f, sub(m.pieces[0]!.from, nodes[m.from]!.at), 1, t.arms, 9 * m.from);
    addArm(f, sub(m.pieces[0]!.to, nodes[m.to]!.at), -1, t.arms, 9 * m.to);
  });
  t.active.joints.forEach((j, i) => {
    const f: [number, number, number] = [0, 0, 0];
    for (let a = 0; a < 3; a++) for (let c = 0; c < 3; c++) f[c]! += joint[6 * i + a]! * j.axes[a]![c]!;
    if (j.from >= 0) addArm(f, sub(j.at, nodes[j.from]!.at), 1, t.arms, 9 * j.from);
    if (j.to >= 0) addArm(f, sub(j.at, nodes[j.to]!.at), -1, t.arms, 9 * j.to);
  });
  for (const { node, force, at } of loads) if (at) addArm(force, sub(at, nodes[node]!.at), 1, t.arms, 9 * node);
  assemble(t);
}

/** The same state for a finer cut of the same structure: forces of first order do not depend on the cut. */
export function takeState(t: Tangent, coarse: Tangent, element: (i: number) => number): void {
  for (let i = 0; i < t.axial.length; i++) t.axial[i] = coarse.axial[element(i)]!;
  // Arms hang on own nodes, which come first in every cut; nodes inside members have none.
  t.arms.fill(0);
  t.arms.set(coarse.arms.subarray(0, Math.min(t.arms.length, coarse.arms.length)));
  assemble(t);
}

function assemble(t: Tangent): void {
  const { nodes, members } = t.numbers.structure;
  t.KG.fill(0);
  for (let i = 0; i < members.length; i++) addTwelve(t.unit, 144 * i, t.axial[i]!, t.members[i]!, t.KG);
  const { place, start } = t.factor.pattern;
  for (let n = 0; n < nodes.length; n++)
    for (let i = 0; i < 3; i++)
      for (let j = 0; j < 3; j++) t.KG[start[place[n]!]! + 6 * (3 + i) + 3 + j]! += t.arms[9 * n + 3 * i + j]!;
}

function addTwelve(g: Float64Array, o: number, s: number, at: Blocks, v: Float64Array): void {
  if (s === 0) return;
  for (let i = 0; i < 6; i++)
    for (let j = 0; j < 6; j++) {
      const q = 6 * i + j;
      v[at.first + q]! += s * g[o + 12 * i + j]!;
      v[at.second + q]! += s * g[o + 12 * (i + 6) + j + 6]!;
      const low = s * g[o + 12 * (i + 6) + j]!;
      if (at.both >= 0) v[at.both + (at.flip ? 6 * j + i : q)]! += low;
      else v[at.first + q]! += low + s * g[o + 12 * i + j + 6]!;
    }
}

/** Factorises K + λ KG. @returns its number of negative eigenvalues, NaN when a pivot came out as exactly nothing. */
export function factoriseAt(t: Tangent, lambda: number): number {
  const { factor, K, KG } = t;
  const { values, inverse } = factor;
  for (let i = 0; i < values.length; i++) values[i] = K[i]! + lambda * KG[i]!;
  const negative = factorise(factor, 0, factor.pattern.nodes, t.held, undefined, undefined);
  for (let i = 0; i < inverse.length; i++) if (!Number.isFinite(inverse[i]!)) return NaN;
  return negative;
}

/** y = A x for a matrix in panels; x and y by place, held components of x being 0. */
export function panelTimes(f: BlockFactor, A: Float64Array, x: Float64Array, y: Float64Array): void {
  const { start, rowStart, rows, nodes } = f.pattern;
  y.fill(0);
  for (let p = 0; p < nodes; p++) {
    const o = start[p]!;
    for (let i = 0; i < 6; i++) for (let j = 0; j < 6; j++) y[6 * p + i]! += A[o + 6 * i + j]! * x[6 * p + j]!;
    for (let a = rowStart[p]!; a < rowStart[p + 1]!; a++) {
      const r = 6 * rows[a]!;
      const at = o + 36 * (1 + a - rowStart[p]!);
      for (let i = 0; i < 6; i++)
        for (let j = 0; j < 6; j++) {
          const k = A[at + 6 * i + j]!;
          y[r + i]! += k * x[6 * p + j]!;
          y[6 * p + j]! += k * x[r + i]!;
        }
    }
  }
}
