/**
 * The states that a fold can be in when its moves are done in another order, or not all of them.
 *
 * A *motion* is one segment of the plan with what belongs to it: the releases before it and the locks after it in the
 * procedure. A state is the set of motions done, as bits; its posture puts every joint of a done motion to its end, all others to
 * the ride. That is one posture whatever the order, provided that no two motions move the same joint (`independent`).
 * Locks: a motion's releases come first, its locks after it; a joint that neither a release freed nor its kind leaves free is
 * still locked.
 * Not here: motions left half way, two joints moved at once, releases after the last motion.
 */
import { driveSystem } from '../linkage/drive-system.ts';
import {
  type FoldPlan,
  FREEDOM,
  type LinkageWorkspace,
  type Posture,
  poseAlong,
  poseBodies,
  ridingFreedom,
} from '../linkage/index.ts';
import { KIND, type Model } from '../model/types.ts';

export interface FoldMotion {
  /** Index into the plan's segments, and into `Model.fold`. */
  readonly segment: number;
  readonly move: number;
  readonly joint: number;
  /** Tree joints that change their value: the driven one and its followers. */
  readonly joints: readonly number[];
  /** Joints that its hand releases before and locks after it. */
  readonly releases: readonly number[];
  readonly locks: readonly number[];
}
export interface FoldStates {
  readonly motions: readonly FoldMotion[];
  /** False where two motions move the same joint: their states depend on the order. */
  readonly independent: boolean;
}

/** Bits of a whole number. */
const MOST_BITS = 30;

/** @throws RangeError for a fold of more than 30 motions. */
export function foldStates(m: Pick<Model, 'top' | 'fold'>, plan: FoldPlan): FoldStates {
  const { top } = m;
  const motions: {
    segment: number;
    move: number;
    joint: number;
    joints: number[];
    releases: number[];
    locks: number[];
  }[] = [];
  let pending: number[] = [];
  m.fold.forEach((move, index) => {
    const segment = plan.segments.findIndex((s) => s.move === index);
    if (segment >= 0) {
      const { joint, followers } = plan.segments[segment]!;
      const joints = [joint, ...followers].filter((j) => top.parentJoint.includes(j));
      motions.push({ segment, move: index, joint, joints, releases: pending, locks: [] });
      pending = [];
    } else if (move.kind === 'release') pending.push(move.joint);
    else if (move.kind === 'lock') motions.at(-1)?.locks.push(move.joint);
  });
  if (motions.length > MOST_BITS)
    throw new RangeError(
      `states of a fold are told apart for up to ${MOST_BITS} motions, this one has ${motions.length}`,
    );
  const moved = motions.flatMap((motion) => motion.joints);
  return { motions, independent: new Set(moved).size === moved.length };
}

/** Everything done. */
export const allDone = (states: FoldStates): number => (1 << states.motions.length) - 1;

/** Puts `here` in the state `done` (bits). */
export function poseState(
  m: Pick<Model, 'top'>,
  plan: FoldPlan,
  states: FoldStates,
  done: number,
  here: Posture,
): void {
  stateValues(plan, states, done, here.q);
  poseBodies(m.top, here);
}
function stateValues(plan: FoldPlan, states: FoldStates, done: number, q: Float64Array): void {
  q.fill(0);
  states.motions.forEach((motion, i) => {
    if ((done >> i) & 1) for (const j of motion.joints) q[j] = plan.segments[motion.segment]!.endQ[j]!;
  });
}

/** Values of a motion's joints along its way: `STRIPS` + 1 rows, one column a joint of `FoldMotion.joints`. */
export type MotionTable = Float64Array;
/** Half a turn in 0.7°: chords of a follower's curve are within some micrometres of it. */
const STRIPS = 256;

/** Followers of closed loops at equal parts of their way, so that a posture on it needs no closure; empty for open trees. */
export function motionTables(
  m: Pick<Model, 'top'>,
  plan: FoldPlan,
  states: FoldStates,
  probe: Posture,
  ws: LinkageWorkspace,
): readonly MotionTable[] {
  return states.motions.map(({ segment, joints }) => {
    if (plan.segments[segment]!.kind === 'tree') return new Float64Array(0);
    const out = new Float64Array((STRIPS + 1) * joints.length);
    for (let k = 0; k <= STRIPS; k++) {
      poseAlong(m, plan, segment, k / STRIPS, probe, ws);
      joints.forEach((j, c) => {
        out[k * joints.length + c] = probe.q[j]!;
      });
    }
    return out;
  });
}

/** Puts `here` at fraction `u` of motion `i`, the motions in `done` done and the others not. */
export function poseMotion(
  m: Pick<Model, 'top'>,
  plan: FoldPlan,
  states: FoldStates,
  tables: readonly MotionTable[],
  done: number,
  i: number,
  u: number,
  here: Posture,
): void {
  const { joints, joint, segment } = states.motions[i]!;
  stateValues(plan, states, done & ~(1 << i), here.q);
  const { from, to, kind } = plan.segments[segment]!;
  if (kind === 'tree') here.q[joint] = from + (to - from) * u;
  else {
    const table = tables[i]!;
    const k = Math.min(Math.floor(u * STRIPS), STRIPS - 1);
    const share = u * STRIPS - k;
    const n = joints.length;
    for (let c = 0; c < n; c++) here.q[joints[c]!] = table[k * n + c]! * (1 - share) + table[(k + 1) * n + c]! * share;
  }
  poseBodies(m.top, here);
}

/** `FREEDOM` of every joint in the state `done`, and with the releases of motion `next` done too (-1: none). */
export function stateFreedom(m: Pick<Model, 'top'>, states: FoldStates, done: number, next = -1): Uint8Array {
  const freedom = ridingFreedom(m.top);
  const release = (j: number): void => {
    freedom[j] = m.top.kind[j] === KIND.pin ? FREEDOM.absent : FREEDOM.free;
  };
  states.motions.forEach((motion, i) => {
    if (!((done >> i) & 1)) return;
    motion.releases.forEach(release);
    // a pin that is put in again is a pivot of its loop
    for (const j of motion.locks) freedom[j] = m.top.kind[j] === KIND.pin ? FREEDOM.free : FREEDOM.held;
  });
  if (next >= 0) states.motions[next]!.releases.forEach(release);
  return freedom;
}

/** Why motion `i` cannot be begun in the state `done`, as far as locks and loops go. */
export function whatBlocks(
  m: Pick<Model, 'top'>,
  plan: FoldPlan,
  states: FoldStates,
  done: number,
  i: number,
  ws: LinkageWorkspace,
): 'locked' | 'loop' | undefined {
  const { joint, segment } = states.motions[i]!;
  const freedom = stateFreedom(m, states, done, i);
  if (freedom[joint] !== FREEDOM.free) return 'locked';
  const system = driveSystem(m.top, ws.carried, freedom, joint);
  const meant = plan.segments[segment]!;
  // another loop closed, or one open that should be closed: the part does not move as it should
  const same = (a: Int32Array, b: Int32Array): boolean => a.length === b.length && a.every((x, k) => x === b[k]);
  if (system.cuts.length === 0 && meant.cuts.length === 0) return undefined;
  return same(system.unknowns, meant.followers) && same(system.cuts, meant.cuts) ? undefined : 'loop';
}
