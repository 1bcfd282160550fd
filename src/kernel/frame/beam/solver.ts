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
import {
  type FrameJoint,
  type FrameSolution,
  type FrameStructure,
  type LoadGroup,
  Mechanism,
  type NodeLoad,
} from '../structure.ts';
import {
  addMember,
  addSpring,
  type Blocks,
  checkStiffness,
  endForces,
  type FrameNumbers,
  fillNumbers,
  frameNumbers,
  jointMotion,
  jointVectors,
  spreadJoint,
} from './assembly.ts';
import { type BlockFactor, backward, blockFactor, factorise, forward } from './block-ldl.ts';
import { DIRECTIONS, freeDirection, freeMotion } from './free-motion.ts';
import { blockAt, blockPattern } from './ordering.ts';

/** Pivot over its diagonal below which it is only round-off: some tens of additions of 2·10⁻¹⁶. */
const ROUNDOFF_PIVOT = 1e-14;
/** A sound cantilever of n elements comes down to n⁻³; below this its free motion is looked at. */
const DOUBTFUL_PIVOT = 1e-6;
/**
 * Strain energy of the free motion over that of its components one by one. A rigid motion gives the square of the round-off
 * of its differences (≤ 1e-20), a sound frame of a thousand slender elements more than 1e-12.
 */
const NO_ENERGY = 1e-16;
/** Out of balance by more than this, a solution is refined; by more than that, refused. */
const REFINE = 1e-11;
export const FRAME_RESIDUAL_LIMIT = 1e-6;

export interface SolveOptions {
  /** 6 per joint, then 6 per fixture: stiffness instead of the laws' `closed`. */
  readonly jointStiffness?: Float64Array;
  /** Force of each joint component at rest, in the sense of its motion: force = stiffness · motion + this. */
  readonly jointForce?: Float64Array;
}

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

interface Plan {
  readonly factor: BlockFactor;
  readonly members: readonly Blocks[];
  readonly joints: readonly Blocks[];
  /** Late panels after the early elimination, and diagonals as assembled (by place). */
  readonly schur: Float64Array;
  readonly diagonal: Float64Array;
  fresh: boolean;
}

/** @param groups supports and loads that will come: their nodes are ordered last. Others are accepted, at the cost of a new order. */
export function frameSolver(structure: FrameStructure, groups: readonly LoadGroup[] = []): FrameSolver {
  const count = structure.nodes.length;
  const numbers = frameNumbers(structure);
  const late = new Uint8Array(count);
  const extra: [number, number][] = [];
  const linked = new Set<number>();
  // With stiffnesses of the laws joints are part of the early elimination; with other ones they are not.
  let plans: [Plan | undefined, Plan | undefined] = [undefined, undefined];

  const edgeKey = (a: number, b: number): number => (a < b ? a * count + b : b * count + a);
  for (const { from, to } of [...structure.members, ...structure.joints])
    if (from >= 0 && to >= 0) linked.add(edgeKey(from, to));
  const nodeIn = (n: number, what: string): number => {
    if (!(n >= 0 && n < count)) throw new RangeError(`a ${what} names node ${n}, which is not there`);
    return n;
  };
  /** Makes the order fit a group: its supports and fixtures (and loads, when asked) among the late nodes. */
  const know = (group: LoadGroup, loads: boolean): void => {
    let changed = false;
    const touch = (n: number): void => {
      if (!late[n]) changed = true;
      late[n] = 1;
    };
    for (const s of group.supports) touch(nodeIn(s.node, 'support'));
    for (const { from, to } of group.fixtures) {
      if (from >= 0) touch(nodeIn(from, 'fixture'));
      if (to >= 0) touch(nodeIn(to, 'fixture'));
      if (from >= 0 && to >= 0 && from !== to && !linked.has(edgeKey(from, to))) {
        linked.add(edgeKey(from, to));
        extra.push([from, to]);
        changed = true;
      }
    }
    if (loads) for (const vector of group.loads) for (const load of vector) touch(nodeIn(load.node, 'load'));
    if (changed) plans = [undefined, undefined];
  };
  for (const group of groups) know(group, true);

  const blocksOf = (f: BlockFactor, from: number, to: number): Blocks => {
    const { place, start } = f.pattern;
    const first = from < 0 ? -1 : start[place[from]!]!;
    const second = to < 0 ? -1 : start[place[to]!]!;
    if (from < 0 || to < 0 || from === to) return { first, second, both: -1, flip: false };
    const flip = place[to]! < place[from]!;
    const both = blockAt(f.pattern, place[flip ? from : to]!, place[flip ? to : from]!);
    return { first, second, both, flip };
  };

  const planFor = (loose: boolean): Plan => {
    let plan = plans[loose ? 1 : 0];
    const { members, joints } = numbers.structure;
    if (!plan) {
      const last = late.slice();
      if (loose)
        for (const { from, to } of joints) {
          if (from >= 0) last[from] = 1;
          if (to >= 0) last[to] = 1;
        }
      const edges: [number, number][] = [...members, ...joints]
        .filter(({ from, to }) => from >= 0 && to >= 0)
        .map(({ from, to }) => [from, to]);
      const factor = blockFactor(blockPattern(count, [...edges, ...extra], last));
      plan = {
        factor,
        members: members.map(({ from, to }) => blocksOf(factor, from, to)),
        joints: joints.map(({ from, to }) => blocksOf(factor, from, to)),
        schur: new Float64Array(factor.pattern.size - factor.pattern.start[factor.pattern.firstLate]!),
        diagonal: new Float64Array(6 * count),
        fresh: false,
      };
      plans[loose ? 1 : 0] = plan;
    }
    if (!plan.fresh) eliminateEarly(plan, loose);
    return plan;
  };

  const held = new Uint8Array(6 * count);
  const limit = new Float64Array(6 * count);
  const diagonal = new Float64Array(6 * count);
  const springs = new Float64Array(6 * count);
  const sum = new Float64Array(6 * count);
  const f = new Float64Array(6 * count);
  const x = new Float64Array(6 * count);

  const readDiagonal = (plan: Plan, from: number, out: Float64Array): void => {
    const { pattern, values } = plan.factor;
    for (let p = from; p < count; p++) for (let c = 0; c < 6; c++) out[6 * p + c] = values[pattern.start[p]! + 7 * c]!;
  };

  const eliminateEarly = (plan: Plan, loose: boolean): void => {
    const { factor } = plan;
    const { pattern, values } = factor;
    values.fill(0);
    plan.members.forEach((at, i) => {
      addMember(numbers, i, at, values);
    });
    if (!loose)
      plan.joints.forEach((at, i) => {
        for (let c = 0; c < 6; c++) {
          const k = numbers.jointK[6 * i + c]!;
          if (k > 0) addSpring(numbers.jointH, 72 * i + 12 * c, k, at, values);
        }
      });
    readDiagonal(plan, 0, plan.diagonal);
    held.fill(0);
    springs.fill(0);
    for (let i = 0; i < limit.length; i++) limit[i] = DOUBTFUL_PIVOT * plan.diagonal[i]!;
    const jointK = loose ? undefined : numbers.jointK;
    factorise(factor, 0, pattern.firstLate, held, limit, (p, c, d) =>
      judge(factor, p, c, d, plan.diagonal, jointK, [], new Float64Array(0)),
    );
    plan.schur.set(values.subarray(pattern.start[pattern.firstLate]!));
    plan.fresh = true;
  };

  /** True when a doubtful pivot is sound. @throws Mechanism when it is not. */
  const judge = (
    factor: BlockFactor,
    p: number,
    c: number,
    d: number,
    diag: Float64Array,
    jointK: Float64Array | undefined,
    fixtures: readonly FrameJoint[],
    fixtureH: Float64Array,
  ): boolean => {
    const { structure: s } = numbers;
    const node = factor.pattern.order[p]!;
    const own = diag[6 * p + c]!;
    if (!Number.isFinite(d) || !Number.isFinite(own))
      throw new RangeError(`the stiffness at node ${s.nodes[node]!.name} is not a number`);
    const v = freeMotion(factor, p, c);
    if (d > ROUNDOFF_PIVOT * own) {
      const end = new Float64Array(12 * s.members.length);
      const forces = new Float64Array(6 * count);
      endForces(numbers, v, end, forces);
      if (jointK) jointForces(v, jointK, undefined, fixtures, fixtureH, undefined, forces);
      let energy = 0;
      let apart = 0;
      for (let n = 0; n < count; n++)
        for (let i = 0; i < 6; i++) {
          const vi = v[6 * n + i]!;
          energy += vi * (forces[6 * n + i]! + springs[6 * n + i]! * vi);
          apart += vi * vi * diag[6 * factor.pattern.place[n]! + i]!;
        }
      if (energy > NO_ENERGY * apart) return true;
    }
    const found = freeDirection(v, node, c, numbers.size);
    throw new Mechanism(s.nodes[found.node]!.name, DIRECTIONS[found.component]!);
  };

  /** Joints' and fixtures' forces from the motion u, into `out` where given and onto the nodes' sums. */
  const jointForces = (
    u: Float64Array,
    k: Float64Array,
    rest: Float64Array | undefined,
    fixtures: readonly FrameJoint[],
    fixtureH: Float64Array,
    out: Float64Array | undefined,
    onto: Float64Array,
  ): void => {
    const { joints } = numbers.structure;
    for (let i = 0; i < joints.length + fixtures.length; i++) {
      const own = i < joints.length;
      const joint = own ? joints[i]! : fixtures[i - joints.length]!;
      const h = own ? numbers.jointH : fixtureH;
      const o = 72 * (own ? i : i - joints.length);
      for (let c = 0; c < 6; c++) {
        const stiff = k[6 * i + c]!;
        let s = rest ? rest[6 * i + c]! : 0;
        if (stiff > 0) s += stiff * jointMotion(h, o + 12 * c, joint, u);
        if (out) out[6 * i + c] = s;
        if (s !== 0) spreadJoint(h, o + 12 * c, joint, s, onto);
      }
    }
  };

  const applied = (loads: readonly NodeLoad[]): void => {
    f.fill(0);
    for (const { node, force, moment, at } of loads) {
      const o = 6 * nodeIn(node, 'load');
      const p = numbers.structure.nodes[node]!.at;
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
  };

  const solve = (group: LoadGroup, options: SolveOptions = {}): FrameSolution[] => {
    know(group, false);
    const loose = options.jointStiffness !== undefined;
    const plan = planFor(loose);
    const { factor } = plan;
    const { pattern, values } = factor;
    const { place, start, firstLate, order } = pattern;
    const { structure: s } = numbers;
    const own = s.joints.length;
    const { fixtures, supports } = group;

    const fixtureH = new Float64Array(72 * fixtures.length);
    let jointK = options.jointStiffness;
    if (!jointK) {
      jointK = new Float64Array(6 * (own + fixtures.length));
      jointK.set(numbers.jointK);
      for (let i = 0; i < fixtures.length; i++)
        for (let c = 0; c < 6; c++) jointK[6 * (own + i) + c] = fixtures[i]!.laws[c]!.closed;
    }
    values.set(plan.schur, start[firstLate]!);
    diagonal.set(plan.diagonal);
    const addJoint = (joint: FrameJoint, h: Float64Array, o: number, at: Blocks, i: number): void => {
      for (let c = 0; c < 6; c++) {
        const k = checkStiffness(jointK[6 * i + c]!, joint.name);
        if (k === 0) continue;
        const hc = o + 12 * c;
        addSpring(h, hc, k, at, values);
        for (let d = 0; d < 6; d++) {
          if (joint.from >= 0) diagonal[6 * place[joint.from]! + d]! += k * h[hc + d]! * h[hc + d]!;
          if (joint.to >= 0) diagonal[6 * place[joint.to]! + d]! += k * h[hc + 6 + d]! * h[hc + 6 + d]!;
        }
      }
    };
    if (loose) s.joints.forEach((joint, i) => addJoint(joint, numbers.jointH, 72 * i, plan.joints[i]!, i));
    fixtures.forEach((joint, i) => {
      jointVectors(joint, s, fixtureH, 72 * i);
      addJoint(joint, fixtureH, 72 * i, blocksOf(factor, joint.from, joint.to), own + i);
    });
    held.fill(0);
    springs.fill(0);
    for (const { node, component, stiffness } of supports) {
      const q = 6 * place[node]! + component;
      if (stiffness === undefined) held[q] = 1;
      else {
        if (!(stiffness >= 0 && stiffness < Infinity))
          throw new RangeError(`support of node ${s.nodes[node]!.name}: a stiffness must be 0 or more, and finite`);
        springs[6 * node + component]! += stiffness;
        diagonal[q]! += stiffness;
        values[start[place[node]!]! + 7 * component]! += stiffness;
      }
    }
    for (let i = 6 * firstLate; i < limit.length; i++) limit[i] = DOUBTFUL_PIVOT * diagonal[i]!;
    factorise(factor, firstLate, count, held, limit, (p, c, d) =>
      judge(factor, p, c, d, diagonal, jointK, fixtures, fixtureH),
    );

    const rest = options.jointForce;
    return group.loads.map((loads) => {
      applied(loads);
      const u = new Float64Array(6 * count);
      const end = new Float64Array(12 * s.members.length);
      const joint = new Float64Array(6 * (own + fixtures.length));
      const reaction = new Float64Array(supports.length);
      // Scales: a force and, by the size of the structure, a moment; loads and whatever the parts carry count.
      let scaleF = 0;
      /** sum = K u − f, held freedoms left alone; returns its size. */
      const balance = (): number => {
        sum.fill(0);
        endForces(numbers, u, end, sum);
        jointForces(u, jointK, rest, fixtures, fixtureH, joint, sum);
        scaleF = 0;
        for (let n = 0; n < 6 * count; n += 6)
          for (let i = 0; i < 3; i++) {
            scaleF = Math.max(scaleF, Math.abs(f[n + i]!), Math.abs(f[n + 3 + i]!) / numbers.size);
          }
        for (let e = 0; e < end.length; e += 6)
          for (let i = 0; i < 3; i++)
            scaleF = Math.max(scaleF, Math.abs(end[e + i]!), Math.abs(end[e + 3 + i]!) / numbers.size);
        let worstF = 0;
        let worstM = 0;
        let bad = false;
        for (let n = 0; n < count; n++) {
          const q = 6 * place[n]!;
          for (let i = 0; i < 6; i++) {
            const at = 6 * n + i;
            sum[at]! += springs[at]! * u[at]! - f[at]!;
            if (held[q + i]) continue;
            const size = Math.abs(sum[at]!);
            if (!(size < Infinity)) bad = true;
            if (i < 3) worstF = Math.max(worstF, size);
            else worstM = Math.max(worstM, size);
          }
        }
        if (bad) return NaN;
        if (rest) for (let i = 0; i < rest.length; i++) scaleF = Math.max(scaleF, jointScale(rest[i]!, i));
        return scaleF > 0 ? Math.max(worstF, worstM / numbers.size) / scaleF : 0;
      };
      const jointScale = (value: number, i: number): number => Math.abs(value) / (i % 6 < 3 ? 1 : numbers.size);
      /** u −= K⁻¹ sum */
      const correct = (): void => {
        let first = count;
        for (let p = 0; p < count; p++) {
          const n = 6 * order[p]!;
          for (let i = 0; i < 6; i++) {
            const value = -sum[n + i]!;
            x[6 * p + i] = value;
            if (value !== 0 && p < first) first = p;
          }
        }
        forward(factor, x, first);
        backward(factor, x);
        for (let p = 0; p < count; p++) {
          const n = 6 * order[p]!;
          for (let i = 0; i < 6; i++) u[n + i]! += x[6 * p + i]!;
        }
      };
      for (let i = 0; i < f.length; i++) sum[i] = -f[i]!;
      if (rest) jointForces(u, jointK, rest, fixtures, fixtureH, undefined, sum);
      correct();
      let residual = balance();
      if (residual > REFINE) {
        correct();
        residual = balance();
      }
      if (!(residual <= FRAME_RESIDUAL_LIMIT))
        throw new RangeError(`the frame's forces do not balance (residual ${residual}): its numbers are too far apart`);
      supports.forEach(({ node, component, stiffness }, i) => {
        const at = 6 * node + component;
        if (stiffness !== undefined) reaction[i] = -stiffness * u[at]!;
        else {
          reaction[i] = sum[at]!;
          sum[at] = 0; // a second support of the same freedom bears nothing
        }
      });
      return { u, end, joint, reaction, residual };
    });
  };

  return {
    numbers,
    solve,
    update(next) {
      if (
        next.nodes.length !== count ||
        next.members.length !== structure.members.length ||
        next.joints.length !== structure.joints.length
      )
        throw new RangeError('update keeps the number of nodes, members and joints');
      fillNumbers(numbers, next);
      for (const plan of plans) if (plan) plan.fresh = false;
    },
  };
}
