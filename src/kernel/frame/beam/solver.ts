/**
 * Linear solution of a frame: symbolic work once, member stiffnesses once per set of dimensions, one small factorisation
 * for each group of supports, many load vectors.
 *
 * Method: stiffness method (Przemieniecki 1968, ch. 6) with LDLᵀ by nodes. Nodes that supports, fixtures and loads touch come
 * last in the order: all before them is eliminated once for all groups, each group then factorises the small rest. A pivot
 * is judged against its own diagonal before elimination; a doubtful one by the strain energy of the motion that it frees.
 * Equilibrium of the recovered end forces with the loads is the residual; it is refined once and refused when it stays poor.
 * Units: mm, N, rad (any consistent set). Linear: small motions, joints as they are told (one-sided ones: joint/).
 * Not here: support settlement, loads along members.
 */
import type { FrameSolution, FrameStructure, LoadGroup } from '../structure.ts';
import { activeJoints, type SolveOptions } from './active.ts';
import {
  addSpring,
  type Blocks,
  checkStiffness,
  endForces,
  type FrameNumbers,
  fillNumbers,
  frameNumbers,
} from './assembly.ts';
import { type ActiveJoints, jointForces, nodeForces, nodeIndex, outOfBalance } from './balance.ts';
import { type BlockFactor, backward, factorise, forward } from './block-ldl.ts';
import { blocksOf, DOUBTFUL_PIVOT, eliminateEarly, type FramePlan, framePlan, judgePivot } from './plan.ts';

/** Out of balance by more than this, a solution is refined once. */
const REFINE = 1e-9;
/** … and by more than this it is refused. */
export const FRAME_RESIDUAL_LIMIT = 1e-6;

export interface FrameSolver {
  readonly numbers: FrameNumbers;
  /**
   * One solution per load vector of the group.
   * @throws Mechanism where nothing holds a part; RangeError for bad numbers or a residual over `FRAME_RESIDUAL_LIMIT`.
   */
  solve(group: LoadGroup, options?: SolveOptions): FrameSolution[];
  /** New dimensions for the same nodes, members and joints (their number and ends). */
  update(structure: FrameStructure): void;
}

/** Buffers by place (held, limit, diagonal, x) or by node (free, springs, sum, f), six each. */
interface Work {
  readonly held: Uint8Array;
  readonly limit: Float64Array;
  readonly diagonal: Float64Array;
  readonly free: Float64Array;
  readonly springs: Float64Array;
  readonly sum: Float64Array;
  readonly f: Float64Array;
  readonly x: Float64Array;
}

/** @param groups supports and loads that will come: their nodes are ordered last. Others are accepted, at the cost of a new order. */
export function frameSolver(structure: FrameStructure, groups: readonly LoadGroup[] = []): FrameSolver {
  const count = structure.nodes.length;
  const numbers = frameNumbers(structure);
  const late = new Uint8Array(count);
  const extra: (readonly [number, number])[] = [];
  const linked = new Set<number>();
  let plans: FramePlan[] = [];
  const six = () => new Float64Array(6 * count);
  const work: Work = {
    held: new Uint8Array(6 * count),
    limit: six(),
    diagonal: six(),
    free: six(),
    springs: six(),
    sum: six(),
    f: six(),
    x: six(),
  };

  const link = (a: number, b: number): boolean => {
    const key = a < b ? a * count + b : b * count + a;
    if (a < 0 || b < 0 || a === b || linked.has(key)) return false;
    linked.add(key);
    return true;
  };
  for (const { from, to } of [...structure.members, ...structure.joints]) link(from, to);

  /** Makes the order fit a group: its supports and fixtures (and loads, when asked) among the late nodes. */
  const know = (group: LoadGroup, loads: boolean): void => {
    let changed = false;
    const touch = (n: number, what: string): void => {
      if (late[nodeIndex(structure, n, what)]) return;
      changed = true;
      late[n] = 1;
    };
    for (const s of group.supports) touch(s.node, 'support');
    for (const { from, to } of group.fixtures) {
      if (from >= 0) touch(from, 'fixture');
      if (to >= 0) touch(to, 'fixture');
      if (link(from, to)) {
        extra.push([from, to]);
        changed = true;
      }
    }
    if (loads) for (const vector of group.loads) for (const load of vector) touch(load.node, 'load');
    if (changed) plans = [];
  };
  for (const group of groups) know(group, true);

  return {
    numbers,
    solve(group, options = {}) {
      know(group, false);
      const loose = options.jointStiffness !== undefined;
      let plan = plans.find((p) => p.loose === loose);
      if (!plan) plans.push((plan = framePlan(numbers, late, extra, loose)));
      if (!plan.fresh) eliminateEarly(plan, numbers, work.held, work.limit);
      const active = activeJoints(numbers, group.fixtures, options);
      prepare(plan, numbers, group, active, work);
      return solveLoads(plan.factor, numbers, group, active, work);
    },
    update(next) {
      const { members, joints } = structure;
      const same = (a: readonly { from: number; to: number }[], b: typeof a): boolean =>
        a.length === b.length && a.every((e, i) => e.from === b[i]!.from && e.to === b[i]!.to);
      if (next.nodes.length !== count || !same(members, next.members) || !same(joints, next.joints))
        throw new RangeError('update keeps nodes, and the ends of members and joints');
      fillNumbers(numbers, next);
      for (const plan of plans) plan.fresh = false;
    },
  };
}

function addActive(a: ActiveJoints, i: number, at: Blocks, f: BlockFactor, diagonal: Float64Array): void {
  const { from, to, name } = a.joints[i]!;
  const { place } = f.pattern;
  for (let c = 0; c < 6; c++) {
    const k = checkStiffness(a.k[6 * i + c]!, name);
    if (k === 0) continue;
    const h = 72 * i + 12 * c;
    addSpring(a.h, h, k, at, f.values);
    for (let d = 0; d < 6; d++) {
      const hf = a.h[h + d]!;
      const ht = a.h[h + 6 + d]!;
      if (from >= 0) diagonal[6 * place[from]! + d]! += k * hf * hf;
      if (to >= 0) diagonal[6 * place[to]! + d]! += k * ht * ht;
    }
  }
}

/** Late panels of one group: supports, springs, fixtures, loose joints; factorised. */
function prepare(plan: FramePlan, n: FrameNumbers, group: LoadGroup, active: ActiveJoints, w: Work): void {
  const { factor, loose } = plan;
  const { pattern, values } = factor;
  const { place, start, firstLate, nodes } = pattern;
  const own = n.structure.joints.length;
  values.set(plan.schur, start[firstLate]!);
  w.diagonal.set(plan.diagonal);
  for (let i = loose ? 0 : own; i < active.joints.length; i++) {
    const { from, to } = active.joints[i]!;
    addActive(active, i, i < own ? plan.joints[i]! : blocksOf(factor, from, to), factor, w.diagonal);
  }
  w.held.fill(0);
  w.free.fill(1);
  w.springs.fill(0);
  for (const { node, component, stiffness } of group.supports) {
    if (!(component >= 0 && component < 6)) throw new RangeError(`a support holds component ${component} of 0…5`);
    const q = 6 * place[node]! + component;
    if (stiffness === undefined) {
      w.held[q] = 1;
      w.free[6 * node + component] = 0;
      continue;
    }
    checkStiffness(stiffness, `of the support at ${n.structure.nodes[node]!.name}`);
    w.springs[6 * node + component]! += stiffness;
    w.diagonal[q]! += stiffness;
    values[start[place[node]!]! + 7 * component]! += stiffness;
  }
  for (let i = 6 * firstLate; i < 6 * nodes; i++) w.limit[i] = DOUBTFUL_PIVOT * w.diagonal[i]!;
  factorise(factor, firstLate, nodes, w.held, w.limit, (p, c, d) =>
    judgePivot(n, factor, p, c, d, w.diagonal, active, w.springs, (node) =>
      group.supports.some((support) => support.node === node),
    ),
  );
}

/** u −= K⁻¹ sum. */
function correct(f: BlockFactor, x: Float64Array, sum: Float64Array, u: Float64Array, uo: number): void {
  const { order, nodes } = f.pattern;
  let first = nodes;
  for (let p = nodes - 1; p >= 0; p--) {
    const n = 6 * order[p]!;
    let some = false;
    for (let i = 0; i < 6; i++) {
      const value = -sum[n + i]!;
      x[6 * p + i] = value;
      if (value !== 0) some = true;
    }
    if (some) first = p;
  }
  forward(f, x, first);
  backward(f, x);
  for (let p = 0; p < nodes; p++) {
    const n = uo + 6 * order[p]!;
    for (let i = 0; i < 6; i++) u[n + i]! += x[6 * p + i]!;
  }
}

/** Where a solution's parts lie in the buffer of its group. */
interface Slots {
  readonly u: number;
  readonly end: number;
  readonly joint: number;
  readonly reaction: number;
  readonly next: number;
}

/** End and joint forces from the motion; leaves what is out of balance by node in `sum` and returns its size. */
function recover(n: FrameNumbers, active: ActiveJoints, w: Work, all: Float64Array, at: Slots): number {
  w.sum.fill(0);
  endForces(n, all, at.u, all, at.end, w.sum);
  jointForces(active, all, at.u, all, at.joint, w.sum);
  return outOfBalance(n, w.sum, all, at.u, w.f, w.springs, w.free, all, at.end, at.joint, all, at.joint, at.reaction);
}

/** One load vector into its slots. @returns the residual. */
function solveOne(
  factor: BlockFactor,
  n: FrameNumbers,
  active: ActiveJoints,
  w: Work,
  all: Float64Array,
  at: Slots,
): number {
  const { sum, f } = w;
  for (let i = 0; i < f.length; i++) sum[i] = -f[i]!;
  if (active.rest) jointForces(active, all, at.u, all, at.joint, sum);
  correct(factor, w.x, sum, all, at.u);
  let residual = recover(n, active, w, all, at);
  if (residual > REFINE) {
    correct(factor, w.x, sum, all, at.u);
    residual = recover(n, active, w, all, at);
  }
  if (!(residual <= FRAME_RESIDUAL_LIMIT))
    throw new RangeError(
      Number.isFinite(residual)
        ? `the frame's forces do not balance (residual ${residual.toExponential(1)}): its numbers are too far apart`
        : 'the frame has no finite solution: a load or a size of it is too large, too small or no number',
    );
  return residual;
}

function solveLoads(
  factor: BlockFactor,
  n: FrameNumbers,
  group: LoadGroup,
  active: ActiveJoints,
  w: Work,
): FrameSolution[] {
  const { supports, loads } = group;
  const { sum } = w;
  const freedoms = w.f.length;
  const ends = 12 * n.structure.members.length;
  const forces = 6 * active.joints.length;
  // One buffer for all vectors of the group: an allocation each would cost as much as a solution.
  const each = freedoms + ends + forces + supports.length;
  const all = new Float64Array(each * loads.length);
  const found: FrameSolution[] = [];
  for (let l = 0; l < loads.length; l++) {
    const u = l * each;
    const end = u + freedoms;
    const joint = end + ends;
    const at: Slots = { u, end, joint, reaction: joint + forces, next: u + each };
    nodeForces(n.structure, loads[l]!, w.f);
    const residual = solveOne(factor, n, active, w, all, at);
    for (let i = 0; i < supports.length; i++) {
      const { node, component, stiffness } = supports[i]!;
      const q = 6 * node + component;
      if (stiffness !== undefined) all[at.reaction + i] = -stiffness * all[u + q]!;
      else {
        all[at.reaction + i] = sum[q]!;
        sum[q] = 0; // a second support of the same freedom bears nothing
      }
    }
    found.push({
      u: all.subarray(u, end),
      end: all.subarray(end, joint),
      joint: all.subarray(joint, at.reaction),
      reaction: all.subarray(at.reaction, at.next),
      residual,
    });
  }
  return found;
}
