/**
 * A frame whose joints open, close and rattle: the linear solver, condensed onto the joint components that are not linear.
 *
 * Method: the frame is solved with all joints closed, for the loads and for a unit force in each component that opens.
 * With A the components' motion per force and d₀ their motion under the load, a component's true force F(d) differs from the
 * closed spring's k₀d by r = F(d) − k₀d, and d = d₀ − A r. That is the stationary point of a convex, piecewise quadratic
 * energy (the laws never fall), found by Newton steps on straight branches with an exact line search, so that it cannot
 * cycle; within a play, where a branch is flat, the step leans on 10⁻⁶ of the closed stiffness. The frame's answer is then
 * the closed one less Σ rᵢ times the unit solutions; only components that leave their closed branch need one.
 * Assumes monotone loading (no friction loop), small motions.
 * Source: condensation onto contact unknowns (flexibility method), theory; Newton for piecewise quadratic convex functions.
 * Units: mm, N, rad. Not here: the laws (`joint-law.ts`), wear.
 */

import { solveInto } from '../../steer/dense.ts';
import { jointMotion, jointVectors } from '../beam/assembly.ts';
import type { FrameSolver } from '../beam/solver.ts';
import type { FrameJoint, FrameSolution, JointLaw, LoadGroup, NodeLoad } from '../structure.ts';
import { type Branch, isLinearLaw, type LawSegment, lawSegments, segmentAt } from './joint-law.ts';

/** Where one nonlinear component ended. */
export interface JointBranch {
  /** Index among the structure's joints, then the group's fixtures; component 0–5. */
  readonly joint: number;
  readonly component: number;
  readonly branch: Branch;
  readonly motion: number;
  readonly force: number;
}
export interface JointedSolution {
  readonly solution: FrameSolution;
  readonly branches: readonly JointBranch[];
  readonly converged: boolean;
  readonly iterations: number;
  /** Largest error of a joint's law, over the largest joint force (or moment). */
  readonly residual: number;
  readonly reason: 'linear' | 'branches agree' | 'nothing holds an open joint' | 'too many iterations';
}
export interface JointOptions {
  /** A law in place of the given one: an aged joint, or `withoutPlay`. */
  readonly law?: (law: JointLaw) => JointLaw;
}

const TOLERANCE = 1e-10;
const MOST_ITERATIONS = 60;
/** Stiffness on which a step leans where a branch is flat, as a share of the closed one. */
const LEAN = 1e-6;
/** A joint that has shifted or turned so far (mm, rad) is held by nothing. */
const LOST_SHIFT = 1e4;
const LOST_TURN = 10;
const STEPS = 60;

interface Component {
  readonly index: number;
  readonly segments: readonly LawSegment[];
  readonly k0: number;
  readonly rotation: boolean;
  readonly load: readonly NodeLoad[];
}

/** Unit force that a component of a joint exerts against its own positive motion, as loads on its two nodes. */
function unitPair(joint: FrameJoint, h: Float64Array, o: number): NodeLoad[] {
  const out: NodeLoad[] = [];
  for (const [node, at] of [
    [joint.from, o],
    [joint.to, o + 6],
  ] as const)
    if (node >= 0)
      out.push({ node, force: [h[at]!, h[at + 1]!, h[at + 2]!], moment: [h[at + 3]!, h[at + 4]!, h[at + 5]!] });
  return out;
}

function nonlinearComponents(solver: FrameSolver, group: LoadGroup, law: (law: JointLaw) => JointLaw): Component[] {
  const { structure, jointH } = solver.numbers;
  const own = structure.joints.length;
  const out: Component[] = [];
  const fixtureH = new Float64Array(72);
  [...structure.joints, ...group.fixtures].forEach((joint, j) => {
    let vectors: { h: Float64Array; o: number } | undefined;
    joint.laws.forEach((given, c) => {
      const changed = law(given);
      if (changed.closed !== given.closed)
        throw new RangeError(`joint ${joint.name}: options may not change a closed stiffness`);
      if (isLinearLaw(changed)) return;
      if (!vectors) {
        if (j >= own) jointVectors(joint, structure, fixtureH, 0);
        vectors = j < own ? { h: jointH, o: 72 * j } : { h: fixtureH, o: 0 };
      }
      const { h, o } = vectors;
      out.push({
        index: 6 * j + c,
        segments: lawSegments(changed),
        k0: given.closed,
        rotation: c > 2,
        load: unitPair(joint, h, o + 12 * c),
      });
    });
  });
  return out;
}

/**
 * All load vectors of the group on a frame with one-sided, preloaded and loose joints (and fixtures).
 * @param options.law changes preload, play and opening, never the closed stiffness.
 * @throws as the solver; RangeError for laws that are none.
 */
export function solveWithJoints(solver: FrameSolver, group: LoadGroup, options: JointOptions = {}): JointedSolution[] {
  const components = nonlinearComponents(solver, group, options.law ?? ((law) => law));
  const bases = solver.solve(group);
  const motions = motionReader(solver, group, components);
  const units: (FrameSolution | undefined)[] = components.map(() => undefined);
  /** Motions of all components (a row) under a unit force in one of those that have left their closed branch. */
  const flexibility: (Float64Array | undefined)[] = components.map(() => undefined);
  const free = bases.map((base) => motions(base.u));
  const answers: (Settled | undefined)[] = bases.map(() => undefined);
  // Most joints stay shut under most loads: unit solutions are made for those that leave their closed branch, and only then.
  let stirred = new Set<number>();
  const leave = (d: Float64Array, into: Set<number>): void => {
    components.forEach((c, i) => {
      if (!units[i] && !isClosedAt(c, d[i]!)) into.add(i);
    });
  };
  for (const d of free) leave(d, stirred);
  while (stirred.size > 0) {
    const list = [...stirred];
    solver.solve({ ...group, loads: list.map((i) => components[i]!.load) }).forEach((unit, k) => {
      units[list[k]!] = unit;
      flexibility[list[k]!] = motions(unit.u);
    });
    stirred = new Set();
    const active = components.flatMap((_, i) => (units[i] ? [i] : []));
    const n = active.length;
    const A = new Float64Array(n * n);
    active.forEach((j, column) => {
      const row = flexibility[j]!;
      active.forEach((i, line) => {
        A[line * n + column] = row[i]!;
      });
    });
    const some = active.map((i) => components[i]!);
    free.forEach((d0, load) => {
      const settled = settle(
        some,
        Float64Array.from(active, (i) => d0[i]!),
        A,
      );
      answers[load] = settled;
      const d = d0.slice();
      active.forEach((j, k) => {
        const row = flexibility[j]!;
        for (let i = 0; i < d.length; i++) d[i] = d[i]! - settled.rho[k]! * row[i]!;
      });
      leave(d, stirred);
    });
  }
  const active = components.flatMap((_, i) => (units[i] ? [i] : []));
  return bases.map((base, load) =>
    compose(
      base,
      components,
      active,
      active.map((i) => units[i]!),
      answers[load],
      free[load]!,
      flexibility,
    ),
  );
}

/** Whether the closed spring alone gives the force of the law at this motion. */
function isClosedAt({ segments, k0 }: Component, d: number): boolean {
  const s = segments[segmentAt(segments, d)]!;
  return s.tangent === k0 && s.constant === 0;
}

/** Reads the motion of every component from a solution's displacements. */
function motionReader(solver: FrameSolver, group: LoadGroup, components: readonly Component[]) {
  const { structure, jointH } = solver.numbers;
  const own = structure.joints.length;
  const fixtureH = new Float64Array(72 * group.fixtures.length);
  group.fixtures.forEach((joint, i) => {
    jointVectors(joint, structure, fixtureH, 72 * i);
  });
  return (u: Float64Array): Float64Array =>
    Float64Array.from(components, ({ index }) => {
      const j = Math.floor(index / 6);
      const c = index % 6;
      return j < own
        ? jointMotion(jointH, 72 * j + 12 * c, structure.joints[j]!, u)
        : jointMotion(fixtureH, 72 * (j - own) + 12 * c, group.fixtures[j - own]!, u);
    });
}

interface Settled {
  readonly rho: Float64Array;
  readonly iterations: number;
  readonly residual: number;
  readonly reason: JointedSolution['reason'];
}
/** Motions and corrections ρ of the active components. */
function settle(components: readonly Component[], d0: Float64Array, A: Float64Array): Settled {
  const n = components.length;
  const d = d0.slice();
  /** What the structure has been given so far: d = d₀ − A ρ. */
  const rho = new Float64Array(n);
  const next = new Float64Array(n);
  const nextRho = new Float64Array(n);
  const tangent = new Float64Array(n);
  const constant = new Float64Array(n);
  const matrix = new Float64Array(n * n);
  const at = (i: number, x: number): LawSegment => {
    const { segments } = components[i]!;
    return segments[segmentAt(segments, x)]!;
  };
  const force = (i: number, x: number): number => {
    const s = at(i, x);
    return s.tangent * x + s.constant;
  };
  // Forces and moments are compared each with their own kind.
  const scale = [0, 0];
  components.forEach((c, i) => {
    const kind = c.rotation ? 1 : 0;
    scale[kind] = Math.max(scale[kind]!, Math.abs(c.k0 * d0[i]!), ...c.segments.map((s) => Math.abs(s.constant)));
  });
  /** Largest |ρ − r(x)| over its scale: how far the structure's forces are from the laws'. */
  const error = (x: Float64Array, given: Float64Array): number => {
    let worst = 0;
    for (let i = 0; i < n; i++) {
      const c = components[i]!;
      const size = scale[c.rotation ? 1 : 0]!;
      const off = Math.abs(given[i]! - (force(i, x[i]!) - c.k0 * x[i]!));
      if (off > 0) worst = Math.max(worst, off / size);
    }
    return worst;
  };
  let iterations = 0;
  let residual = error(d, rho);
  let reason: JointedSolution['reason'] = 'branches agree';
  while (!(residual <= TOLERANCE)) {
    if (iterations++ >= MOST_ITERATIONS) {
      reason = 'too many iterations';
      break;
    }
    for (let i = 0; i < n; i++) {
      const s = at(i, d[i]!);
      const { k0 } = components[i]!;
      tangent[i] = Math.max(s.tangent, LEAN * k0) - k0;
      constant[i] = force(i, d[i]!) - k0 * d[i]! - tangent[i]! * d[i]!;
    }
    // (I + A D) d = d₀ − A c
    for (let i = 0; i < n; i++) {
      let b = d0[i]!;
      for (let j = 0; j < n; j++) {
        const a = A[i * n + j]!;
        matrix[i * n + j] = a * tangent[j]! + (i === j ? 1 : 0);
        b -= a * constant[j]!;
      }
      next[i] = b;
    }
    solveInto(n, matrix, next, 1);
    for (let i = 0; i < n; i++) nextRho[i] = tangent[i]! * next[i]! + constant[i]!;
    const step = lineSearch(d, next, rho, nextRho, components, force);
    for (let i = 0; i < n; i++) {
      d[i] = d[i]! + step * (next[i]! - d[i]!);
      rho[i] = rho[i]! + step * (nextRho[i]! - rho[i]!);
    }
    residual = error(d, rho);
    if (!d.every((x, i) => Math.abs(x) < (components[i]!.rotation ? LOST_TURN : LOST_SHIFT))) {
      reason = 'nothing holds an open joint';
      break;
    }
  }
  return { rho, iterations, residual, reason };
}

/** The closed solution less ρ times the unit solutions. */
function compose(
  base: FrameSolution,
  components: readonly Component[],
  active: readonly number[],
  units: readonly FrameSolution[],
  settled: Settled | undefined,
  d0: Float64Array,
  flexibility: readonly (Float64Array | undefined)[],
): JointedSolution {
  const rho = new Float64Array(components.length);
  const d = d0.slice();
  const solution: FrameSolution = settled
    ? {
        u: base.u.slice(),
        end: base.end.slice(),
        joint: base.joint.slice(),
        reaction: base.reaction.slice(),
        residual: units.reduce((worst, u) => Math.max(worst, u.residual), base.residual),
      }
    : base;
  active.forEach((i, k) => {
    const r = settled!.rho[k]!;
    rho[i] = r;
    if (r === 0) return;
    const row = flexibility[i]!;
    for (let j = 0; j < d.length; j++) d[j] = d[j]! - r * row[j]!;
    for (const key of ['u', 'end', 'joint', 'reaction'] as const) {
      const [to, from] = [solution[key], units[k]![key]];
      for (let j = 0; j < to.length; j++) to[j] = to[j]! - r * from[j]!;
    }
  });
  const branches = components.map(({ index, k0, segments }, i): JointBranch => {
    // The springs carry k₀d in the superposition; the rest of the law is ρ.
    const force = k0 * d[i]! + rho[i]!;
    solution.joint[index] = force;
    const { branch } = segments[segmentAt(segments, d[i]!)]!;
    return { joint: Math.floor(index / 6), component: index % 6, branch, motion: d[i]!, force };
  });
  const reason = settled?.reason ?? (components.length === 0 ? 'linear' : 'branches agree');
  return {
    solution,
    branches,
    converged: reason === 'branches agree' || reason === 'linear',
    iterations: settled?.iterations ?? 0,
    residual: settled?.residual ?? 0,
    reason,
  };
}

/** Share of the step, 0…1, at which the energy is least along it: where its slope δᵀ(r(d) − ρ), which only grows, is 0. */
function lineSearch(
  d: Float64Array,
  next: Float64Array,
  rho: Float64Array,
  nextRho: Float64Array,
  components: readonly Component[],
  force: (i: number, x: number) => number,
): number {
  const slope = (t: number): number => {
    let sum = 0;
    for (let i = 0; i < d.length; i++) {
      const step = next[i]! - d[i]!;
      const x = d[i]! + t * step;
      sum += step * (force(i, x) - components[i]!.k0 * x - (rho[i]! + t * (nextRho[i]! - rho[i]!)));
    }
    return sum;
  };
  if (slope(1) <= 0) return 1;
  let [low, high] = [0, 1];
  for (let k = 0; k < STEPS && high - low > 1e-15; k++) {
    const mid = (low + high) / 2;
    if (slope(mid) <= 0) low = mid;
    else high = mid;
  }
  return high;
}
