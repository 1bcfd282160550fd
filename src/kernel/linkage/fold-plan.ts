/**
 * The fold as motions: what each move of the procedure does to the joints, in order.
 *
 * A move that turns, slides or lowers a joint becomes one segment. Without a closed loop around the joint only that joint
 * moves (`tree`); otherwise the free joints of the loops that hang together with it follow (`loop`), traced once here so that
 * any posture on the way can be had later in any order (trace-loop.ts).
 * What may move: a joint held by a latch or clamp once released and until locked again; one held by its loop, or by nothing,
 * always, within what its loops allow. A released joint outside the driven loops stays as the hand left it. A pin is a pivot
 * of a loop until released and absent afterwards. Other joints that close a loop keep their value while held.
 * Everything doubtful is a problem with its data; words are made elsewhere.
 * Not here: collisions, effort, joint play; two joints driven at once.
 */
import { HELD, KIND, type Model, type State, slides } from '../model/types.ts';
import { type Chain, jointCount, type Posture, poseBodies, postureLike } from './chain.ts';
import { driveSystem } from './drive-system.ts';
import { closureResidual, type LinkageWorkspace, type LoopSystem, newLinkageWorkspace } from './loop-system.ts';
import { type Trace, traceLoop } from './trace-loop.ts';

export type FoldProblemKind =
  /** The joint is turned while its lock is closed. */
  | 'still_locked'
  /** A pin that has been taken out has no motion of its own. */
  | 'absent'
  /** `turn` on a joint that slides, or `slide`/`lower` on one that turns. */
  | 'wrong_motion'
  /** The target lies outside the joint's range: value, low, high. */
  | 'out_of_range'
  /** A follower leaves its own range on the way: value (farthest), low, high; `other` is the follower. */
  | 'follower_out_of_range'
  /** The loop cannot follow beyond `value`; `gap` is what stays open at the move's target. */
  | 'loop_cannot_close'
  /** The joint is there already, or the release or lock changes nothing. */
  | 'no_change'
  /** The followers are not determined by the driven joint: `other` is one that may move by itself. */
  | 'undetermined'
  /** Motions branch here, or the driven joint is at a dead point, at `value`: it may flip. */
  | 'may_flip'
  /** The halves of a pin are `gap` apart when it is to be locked: nothing holds there. */
  | 'lock_apart'
  /** The joint has no lock to release: it is held by its loop or by nothing. */
  | 'nothing_to_release';

export interface FoldProblem {
  readonly kind: FoldProblemKind;
  /** `error`: the move cannot be done as written; `caution`: it can, read on. */
  readonly severity: 'error' | 'caution';
  /** Index into `Model.fold`. */
  readonly move: number;
  readonly joint: number;
  readonly other?: number;
  /** Values of the joint (of `other` where that is given): rad, or m where it slides. */
  readonly value?: number;
  readonly low?: number;
  readonly high?: number;
  /** m. */
  readonly gap?: number;
}

/** One motion of the fold. */
export interface FoldSegment {
  readonly kind: 'tree' | 'loop';
  /** Index into `Model.fold`. */
  readonly move: number;
  /** The driven joint and its value at the ends, rad or m. */
  readonly joint: number;
  readonly from: number;
  readonly to: number;
  /** Joints that move with the driven one (tree joints whose values the loops give); empty for `tree`. */
  readonly followers: Int32Array;
  /** Cut joints that are kept closed; empty for `tree`. */
  readonly cuts: Int32Array;
  /** Values of all joints at the start and at the end (or where the motion stops). */
  readonly startQ: Float64Array;
  readonly endQ: Float64Array;
  /** 1 per body that moves. */
  readonly moving: Uint8Array;
  /** Fraction that can be done: 1 unless a loop cannot close. */
  readonly reached: number;
  /** Unknowns, cuts and knots of a loop motion; null for `tree`. */
  readonly trace: Trace | null;
}
export interface FoldPlan {
  readonly segments: readonly FoldSegment[];
  readonly problems: readonly FoldProblem[];
  /** Values of all joints at the end of the whole fold. */
  readonly foldedQ: Float64Array;
  /** `JointFreedom` of each joint before each move, and after the last: (moves + 1) rows of joints. */
  readonly freedom: Uint8Array;
}

/** What a joint is free to do at a stage of the fold. */
export const FREEDOM = { held: 0, free: 1, absent: 2 } as const;

/** Freedom of each joint while riding: latches and clamps hold, pins are pivots of their loops. */
export function ridingFreedom(top: Chain): Uint8Array {
  return Uint8Array.from(top.kind, (kind, j) =>
    kind === KIND.pin || top.held[j] === HELD.none || top.held[j] === HELD.loop ? FREEDOM.free : FREEDOM.held,
  );
}

/** A joint value is reached within this (rad or m). */
const SAME_VALUE = 1e-9;
/** Ranges are typed in degrees and millimetres: an excess below this is rounding. */
const RANGE_SLACK = 1e-6;
/** A pin whose halves are within this can be put in again, m. */
const PIN_FITS_M = 1e-4;

/**
 * The segments of the fold of `m` at the dimensions filled into `s` (slots, screws, ranges; its posture is not touched).
 * Starts from the ride posture. Traced loops cost about 1 ms each; open trees nearly nothing.
 */
export function planFold(
  m: Pick<Model, 'top' | 'fold'>,
  s: State,
  ws: LinkageWorkspace = newLinkageWorkspace(m.top),
): FoldPlan {
  const { top } = m;
  const n = jointCount(top);
  const here = postureLike(s);
  here.q.fill(0);
  poseBodies(top, here);
  const freedom = ridingFreedom(top);
  const stages = new Uint8Array((m.fold.length + 1) * n);
  const segments: FoldSegment[] = [];
  const problems: FoldProblem[] = [];
  for (const [index, move] of m.fold.entries()) {
    stages.set(freedom, index * n);
    const j = move.joint;
    const say: Say = (kind, severity, more = {}) => {
      problems.push({ kind, severity, move: index, joint: j, ...more });
    };
    if (move.kind === 'release') {
      release(top, freedom, j, say);
      continue;
    }
    if (move.kind === 'lock') {
      lock(top, here, freedom, j, ws, say);
      continue;
    }
    if ((move.kind === 'turn') === slides(top.kind[j]!)) say('wrong_motion', 'error');
    if (freedom[j] === FREEDOM.absent) {
      say('absent', 'error');
      continue;
    }
    if (freedom[j] === FREEDOM.held) say('still_locked', 'error');
    const to = s.value[move.to]!;
    const low = s.range[2 * j]!;
    const high = s.range[2 * j + 1]!;
    if (to < low - RANGE_SLACK || to > high + RANGE_SLACK) say('out_of_range', 'error', { value: to, low, high });
    if (Math.abs(to - here.q[j]!) < SAME_VALUE) say('no_change', 'caution', { value: to });
    else segments.push(motion(top, s, here, freedom, index, j, to, ws, say));
  }
  stages.set(freedom, m.fold.length * n);
  return { segments, problems, foldedQ: here.q, freedom: stages };
}

type Say = (kind: FoldProblemKind, severity: FoldProblem['severity'], more?: Partial<FoldProblem>) => void;

function release(top: Chain, freedom: Uint8Array, j: number, say: Say): void {
  const open = top.kind[j] === KIND.pin ? FREEDOM.absent : FREEDOM.free;
  if (top.kind[j] !== KIND.pin && (top.held[j] === HELD.loop || top.held[j] === HELD.none))
    say('nothing_to_release', 'caution');
  else if (freedom[j] === open) say('no_change', 'caution');
  freedom[j] = open;
}

function lock(top: Chain, here: Posture, freedom: Uint8Array, j: number, ws: LinkageWorkspace, say: Say): void {
  if (top.kind[j] !== KIND.pin) {
    if (freedom[j] === FREEDOM.held) say('no_change', 'caution');
    freedom[j] = FREEDOM.held;
    return;
  }
  if (freedom[j] === FREEDOM.free) {
    say('no_change', 'caution');
    return;
  }
  const system: LoopSystem = {
    unknowns: new Int32Array(0),
    cuts: Int32Array.of(j),
    fixed: new Uint8Array(1),
  };
  const gap = closureResidual(top, here, system, ws);
  if (gap > PIN_FITS_M) say('lock_apart', 'caution', { gap });
  else freedom[j] = FREEDOM.free;
}

function motion(
  top: Chain,
  s: State,
  here: Posture,
  freedom: Uint8Array,
  move: number,
  joint: number,
  to: number,
  ws: LinkageWorkspace,
  say: Say,
): FoldSegment {
  const n = jointCount(top);
  const startQ = here.q.slice();
  const from = startQ[joint]!;
  const system = driveSystem(top, ws.carried, freedom, joint);
  if (system.cuts.length === 0) {
    here.q[joint] = to;
    poseBodies(top, here);
    const moving = Uint8Array.from({ length: top.bodyCount }, (_, b) => ws.carried[b * n + joint]!);
    return {
      kind: 'tree',
      move,
      joint,
      from,
      to,
      followers: system.unknowns,
      cuts: system.cuts,
      startQ,
      endQ: here.q.slice(),
      moving,
      reached: 1,
      trace: null,
    };
  }
  const trace = traceLoop(top, here, system, joint, to, ws);
  const knots = trace.u.length;
  if (trace.reached < 1)
    say('loop_cannot_close', 'error', { value: from + (to - from) * trace.reached, gap: trace.gap });
  // The dead point at which a motion stops has been told.
  for (const place of trace.singular)
    if (trace.reached === 1 || place.u < trace.reached - 1e-3) say('may_flip', 'caution', { value: place.value });
  if (trace.loose >= 0) say('undetermined', 'caution', { other: trace.loose });
  const movers = [joint, ...system.unknowns];
  for (const j of [...system.unknowns, ...system.cuts]) {
    if (j === joint) continue;
    const low = s.range[2 * j]!;
    const high = s.range[2 * j + 1]!;
    let worst = 0;
    let value = 0;
    for (let k = 0; k < knots; k++) {
      const v = trace.q[k * n + j]!;
      const excess = Math.max(low - v, v - high);
      if (excess > worst) {
        worst = excess;
        value = v;
      }
    }
    if (worst > RANGE_SLACK) say('follower_out_of_range', 'caution', { other: j, value, low, high });
  }
  const moving = Uint8Array.from({ length: top.bodyCount }, (_, b) =>
    movers.some((j) => ws.carried[b * n + j] === 1) ? 1 : 0,
  );
  return {
    kind: 'loop',
    move,
    joint,
    from,
    to,
    followers: system.unknowns,
    cuts: system.cuts,
    startQ,
    endQ: here.q.slice(),
    moving,
    reached: trace.reached,
    trace,
  };
}
