/**
 * Second-order forces and motions: equilibrium on the displaced frame (P-Δ) and along its bent members (P-δ).
 *
 * Method: members under axial force are cut so that l √(|N|/EI) ≤ π/16, then (K + KG(N)) u = f is solved again and again with
 * the axial forces of the solution before until they stay; small rotations, dead loads. A negative pivot means that the
 * load is at or above the one that buckles the frame: no stable answer exists, and none is returned.
 * Source: geometric stiffness iteration, Przemieniecki 1968, ch. 15; criteria of AISC 360 commentary C2 in verification/.
 * Not here: large rotations, yielding, one-sided joints (they are what the given stiffnesses say).
 */
import type { FrameSolution, FrameStructure, LoadGroup } from '../structure.ts';
import { activeJoints, type SolveOptions } from './active.ts';
import { endForces } from './assembly.ts';
import { jointForces, nodeForces, outOfBalance } from './balance.ts';
import { backward, forward } from './block-ldl.ts';
import { pieceFrame } from './member-flexibility.ts';
import { refineStructure } from './refine.ts';
import { FRAME_RESIDUAL_LIMIT, frameSolver } from './solver.ts';
import { factoriseAt, setState, type Tangent, tangentOf } from './tangent.ts';

export interface SecondOrderResult {
  /** Layout of the given structure; undefined without a stable answer. End forces are along the undeformed axes. */
  readonly solution: FrameSolution | undefined;
  readonly converged: boolean;
  readonly iterations: number;
  /** Relative change of the axial forces in the last step. */
  readonly residual: number;
  readonly reason: 'settled' | 'above the buckling load' | 'axial forces did not settle';
}

/** Most l √(|N|/EI) of an element: error of its cubic shape some 1e-6 of the deflection. */
const STEP = Math.PI / 16;
/** Axial forces have settled when they change by less than this share of the largest. */
const SETTLED = 1e-8;
const MOST_STEPS = 40;

/** @throws Mechanism and RangeError as the linear solution does. */
export function frameSecondOrder(
  structure: FrameStructure,
  group: LoadGroup,
  load: number,
  options: SolveOptions = {},
): SecondOrderResult {
  const loads = group.loads[load] ?? [];
  const one: LoadGroup = { ...group, loads: [loads] };
  const plain = refineStructure(structure, () => 1);
  const linear = frameSolver(plain.structure, [one]).solve(one, options)[0]!;
  const cuts = (m: number, k: number): number => {
    let n = 0;
    for (let e = plain.first[m]!; e < plain.first[m + 1]!; e++)
      if (plain.piece[e] === k) {
        const { x } = pieceFrame(plain.structure.members[e]!, 0);
        n = [0, 1, 2].reduce((sum, c) => sum + linear.end[12 * e + 6 + c]! * x[c]!, 0);
      }
    const piece = structure.members[m]!.pieces[k]!;
    const s = piece.at ? piece.at(0.5) : piece.section;
    const { length } = pieceFrame(structure.members[m]!, k);
    const turn = length * Math.sqrt(Math.abs(n) / (piece.E * Math.min(s.iy, s.iz)));
    return Math.min(64, Math.max(1, Math.ceil(turn / STEP)));
  };
  const refined = refineStructure(structure, cuts);
  const s = refined.structure;
  const solver = frameSolver(s, [one]);
  const { numbers } = solver;
  const start = solver.solve(one, options)[0]!;
  const active = activeJoints(numbers, group.fixtures, options);
  const t = tangentOf(numbers, one, active);
  const n = s.nodes.length;
  const u = new Float64Array(6 * n);
  const f = new Float64Array(6 * n);
  const x = new Float64Array(6 * n);
  const sum = new Float64Array(6 * n);
  const end = start.end.slice();
  const joint = start.joint.slice();
  nodeForces(s, loads, f);
  const rest = new Float64Array(6 * n);
  if (active.rest) jointForces({ ...active, k: new Float64Array(active.k.length) }, u, 0, joint.slice(), 0, rest);
  const { order } = t.factor.pattern;
  let residual = NaN;
  for (let iteration = 1; iteration <= MOST_STEPS; iteration++) {
    const before = t.axial.slice();
    setState(t, end, joint, loads);
    if (iteration > 1) residual = changeOf(before, t.axial);
    if (residual < SETTLED) {
      // The state that the forces came from is the state that they belong to.
      const free = new Float64Array(6 * n).fill(1);
      for (const { node, component, stiffness } of group.supports)
        if (stiffness === undefined) free[6 * node + component] = 0;
      const balance = outOfBalance(numbers, sum, u, 0, f, t.springs, free, end, 0, end.length, joint, 0, joint.length);
      if (!(balance <= FRAME_RESIDUAL_LIMIT))
        throw new RangeError(`second-order forces do not balance (residual ${balance})`);
      const solution = gather(structure, group, refined, { u, end, joint, sum, springs: t.springs, balance });
      return { solution, converged: true, iterations: iteration - 1, residual, reason: 'settled' };
    }
    if (factoriseAt(t, 1) !== 0)
      return {
        solution: undefined,
        converged: false,
        iterations: iteration,
        residual,
        reason: 'above the buckling load',
      };
    for (let p = 0; p < n; p++)
      for (let c = 0; c < 6; c++) x[6 * p + c] = f[6 * order[p]! + c]! - rest[6 * order[p]! + c]!;
    forward(t.factor, x);
    backward(t.factor, x);
    for (let p = 0; p < n; p++) for (let c = 0; c < 6; c++) u[6 * order[p]! + c] = x[6 * p + c]!;
    sum.fill(0);
    endForces(numbers, u, 0, end, 0, sum);
    jointForces(active, u, 0, joint, 0, sum);
    addGeometric(t, u, end, sum);
  }
  return {
    solution: undefined,
    converged: false,
    iterations: MOST_STEPS,
    residual,
    reason: 'axial forces did not settle',
  };
}

function changeOf(a: Float64Array, b: Float64Array): number {
  let largest = 0;
  let change = 0;
  for (let i = 0; i < a.length; i++) {
    largest = Math.max(largest, Math.abs(b[i]!));
    change = Math.max(change, Math.abs(b[i]! - a[i]!));
  }
  return largest > 0 ? change / largest : 0;
}

/** Adds KG u to the elements' end forces and to the nodes' sums; arms act on the nodes alone. */
function addGeometric(t: Tangent, u: Float64Array, end: Float64Array, sum: Float64Array): void {
  const { members, nodes } = t.numbers.structure;
  members.forEach(({ from, to }, e) => {
    for (let i = 0; i < 12; i++) {
      let force = 0;
      for (let j = 0; j < 6; j++)
        force += t.unit[144 * e + 12 * i + j]! * u[6 * from + j]! + t.unit[144 * e + 12 * i + 6 + j]! * u[6 * to + j]!;
      force *= t.axial[e]!;
      end[12 * e + i]! += force;
      sum[i < 6 ? 6 * from + i : 6 * to + i - 6]! += force;
    }
  });
  for (let k = 0; k < nodes.length; k++)
    for (let i = 0; i < 3; i++)
      for (let j = 0; j < 3; j++) sum[6 * k + 3 + i]! += t.arms[9 * k + 3 * i + j]! * u[6 * k + 3 + j]!;
}

interface Raw {
  readonly u: Float64Array;
  readonly end: Float64Array;
  readonly joint: Float64Array;
  readonly sum: Float64Array;
  readonly springs: Float64Array;
  readonly balance: number;
}

/** From the refined structure's answer to the layout of the given one. */
function gather(
  s: FrameStructure,
  group: LoadGroup,
  refined: ReturnType<typeof refineStructure>,
  raw: Raw,
): FrameSolution {
  const end = new Float64Array(12 * s.members.length);
  s.members.forEach((_, i) => {
    const first = refined.first[i]!;
    const last = refined.first[i + 1]! - 1;
    for (let c = 0; c < 6; c++) {
      end[12 * i + c] = raw.end[12 * first + c]!;
      end[12 * i + 6 + c] = raw.end[12 * last + 6 + c]!;
    }
  });
  const sum = raw.sum.slice();
  const reaction = Float64Array.from(group.supports, ({ node, component, stiffness }) => {
    const at = 6 * node + component;
    if (stiffness !== undefined) return -stiffness * raw.u[at]!;
    const value = sum[at]!;
    sum[at] = 0;
    return value;
  });
  return { u: raw.u.slice(0, 6 * s.nodes.length), end, joint: raw.joint, reaction, residual: raw.balance };
}
