/**
 * Seconds to fold and to unfold, from the motions that a trained person makes.
 *
 * The procedure is worked through move by move in the bicycle's real postures. A lock: go there, open or shut it by its
 * mechanism. A move: take the place where a hand holds it (`hand-place`), lead it along its real way with its load in one hand,
 * or halved in two above `ONE_HAND`; then let go. Unfolding undoes the steps in reverse order: a post is raised to its mark,
 * hinges come against their seats, locks are shut for riding and looked at. Holders of the package (catch, hook, strap) are
 * closed after the last move that shifts their two bodies, and opened before it. What a foot works, a foot works; so are the cranks
 * turned while the hands are not down there. The better side to begin on is taken.
 * Source of the times: motion-times.ts. The analysis (which elements) is ours. First attempts take 1.5 to 2.5 times as long (judgement).
 * Verified: a three-hinge fold written out by hand, verification/effort.
 * Not here: force (`hands`), bags and clothes, balancing a bicycle that does not stand by itself, waiting, wrong moves.
 */
import type { FoldPlan } from '../linkage/fold-plan.ts';
import type { BodyMass } from '../mass/totals.ts';
import { at3, movePoint, type Vec3 } from '../math/rigid.ts';
import { HELD, KIND, type Model, type Move, type State } from '../model/types.ts';
import { type HandWay, handWay, type PathOfMove, pathsOfFold } from './hand-path.ts';
import type { HandPlace } from './hand-place.ts';
import {
  copyOf,
  type Ends,
  fixed,
  goTo,
  HEAVIEST,
  ledTo,
  leg,
  moveBy,
  rise,
  standFor,
  standingAt,
  tmuOf,
  type Worker,
} from './hand-work.ts';
import type { ElementKind, HandledStep, HandledTime } from './handed-time.ts';
import { type LockWork, openLock, shutLock, worksAlone } from './lock-work.ts';
import { TMU_SECONDS } from './motion-times.ts';

/** One hand leads up to so much, kg; beyond it both do. Default, from memory. */
export const ONE_HAND = 4;
/** From the ground to what a foot works, m. */
const FOOT_REACH = 0.3;
/** First attempts against trained ones: judgement. */
export const FIRST_TIME = [1.5, 2.5] as const;
export interface FoldTimes {
  readonly fold: HandledTime;
  readonly unfold: HandledTime;
}
type TimedModel = Pick<Model, 'top' | 'fold' | 'roles' | 'wheels' | 'holders' | 'standsOn' | 'handle'>;

/** Where a move is held, and the greatest force that it asks for, N. */
export interface MoveHold {
  readonly place: HandPlace;
  readonly force: number;
}
interface Bench {
  readonly m: TimedModel;
  readonly s: State;
  readonly locks: readonly LockWork[];
  readonly paths: readonly PathOfMove[];
  /** Per path: what is held, how far it goes; ends of the bicycle at its start and end. */
  readonly places: readonly HandPlace[];
  readonly ways: readonly HandWay[];
  readonly ends: readonly (readonly [start: Ends, end: Ends])[];
  /** Segment that the holder of that index belongs to: after it when folding. -1: none. */
  readonly heldAfter: readonly number[];
  readonly ride: Float64Array;
}

/**
 * `holds`: one per segment of the plan. `hangs`: height of the hanging hand (`gripHeightOf`). `s` lends its dimensions and
 * is left in the ride posture.
 * @throws RangeError where nothing that moves can be held, or two hands cannot move it.
 */
export function timeToFold(
  m: TimedModel,
  s: State,
  plan: FoldPlan,
  bodies: readonly BodyMass[],
  locks: readonly LockWork[],
  holds: readonly (MoveHold | undefined)[],
  hangs: number,
): FoldTimes {
  const here: State = { ...s, q: s.q.slice(), bodyT: s.bodyT.slice() };
  const paths = pathsOfFold(m, here, plan, bodies);
  const held = paths.map(({ segment }, k) => {
    const hold = holds[k];
    if (!hold)
      throw new RangeError(`${m.top.names.joints[segment.joint]}: nothing that moves there can be held by a hand`);
    return hold;
  });
  const ways = held.map(({ place, force }, k) => handWay(paths[k]!, place.body, place.point, force));
  const heavy = ways.findIndex((way) => way.load > HEAVIEST);
  if (heavy >= 0)
    throw new RangeError(
      `${m.top.names.joints[paths[heavy]!.segment.joint]}: ${ways[heavy]!.load.toFixed(0)} kg are too much for two hands`,
    );
  const bench: Bench = {
    m,
    s,
    locks,
    paths,
    places: held.map(({ place }) => place),
    ways,
    ends: paths.map(({ poses }) => [endsOf(m, s, poses[0]!), endsOf(m, s, poses.at(-1)!)]),
    heldAfter: m.holders.map((h) =>
      h.kind === 'friction' ? -1 : paths.findLastIndex(({ segment }) => shifts(m, segment.moving, segment, h.bodies)),
    ),
    ride: s.bodyT,
  };
  const either = (work: (side: 1 | -1) => HandledTime): HandledTime => {
    const [left, right] = [work(1), work(-1)];
    return right.seconds < left.seconds ? right : left;
  };
  return {
    fold: either((side) => foldOnce(bench, hangs, side)),
    unfold: either((side) => unfoldOnce(bench, hangs, side)),
  };
}

/** Whether the segment moves the two bodies against one another. */
function shifts(
  { top }: TimedModel,
  moving: Uint8Array,
  segment: { readonly kind: 'tree' | 'loop' },
  [a, b]: readonly [number, number],
): boolean {
  if (a === b || (!moving[a] && !moving[b])) return false;
  if (moving[a] !== moving[b]) return true;
  return segment.kind === 'loop' && top.bodyCount > 2;
}

function foldOnce(bench: Bench, hangs: number, side: 1 | -1): HandledTime {
  const { m, s } = bench;
  const bar = side === 1 ? m.roles.gripLeft : m.roles.gripRight;
  const w = standingAt(bar >= 0 ? at3(s.station, 3 * bar) : [0.5, side * 0.3, hangs], side, hangs);
  const steps: HandledStep[] = [];
  let t = bench.ride;
  m.fold.forEach((move, i) => {
    const name = nameOf(m, move);
    const k = bench.paths.findIndex((p) => p.segment.move === i);
    if (move.to < 0) {
      workLock(bench, w, move, move.kind === 'release', t, false);
      steps.push(stepOf(w, i, `${move.kind} ${name}`));
      return;
    }
    if (k < 0) return;
    lead(bench, w, k, false);
    t = bench.paths[k]!.poses.at(-1)!;
    steps.push(stepOf(w, i, `${move.kind} ${name}`));
    bench.heldAfter.forEach((after, h) => {
      if (after === k && workHolder(bench, w, h, k, t, true)) steps.push(stepOf(w, -1, `close ${holderName(m, h)}`));
    });
  });
  return total(steps, w);
}

function unfoldOnce(bench: Bench, hangs: number, side: 1 | -1): HandledTime {
  const { m, s } = bench;
  let t = bench.paths.at(-1)?.poses.at(-1) ?? bench.ride;
  const at = m.handle.station >= 0 ? movePoint(t, 12 * m.handle.body, at3(s.station, 3 * m.handle.station)) : undefined;
  const w = standingAt(at ? [at[0], at[1], Math.max(at[2], hangs)] : [0.3, side * 0.3, hangs], side, hangs);
  const steps: HandledStep[] = [];
  for (let i = m.fold.length - 1; i >= 0; i--) {
    const move = m.fold[i]!;
    const name = nameOf(m, move);
    if (move.to < 0) {
      const opens = move.kind === 'lock';
      workLock(bench, w, move, opens, t, true);
      steps.push(stepOf(w, i, `${opens ? 'release' : 'lock'} ${name}`));
      continue;
    }
    const k = bench.paths.findIndex((p) => p.segment.move === i);
    if (k < 0) continue;
    bench.heldAfter.forEach((after, h) => {
      if (after === k && workHolder(bench, w, h, k, t, false)) steps.push(stepOf(w, -1, `open ${holderName(m, h)}`));
    });
    lead(bench, w, k, true);
    t = bench.paths[k]!.poses[0]!;
    steps.push(stepOf(w, i, `${move.kind === 'lower' ? 'raise' : `${move.kind} back`} ${name}`));
  }
  return total(steps, w);
}

const nameOf = (m: TimedModel, move: Move): string => m.top.names.joints[move.joint]!.replaceAll('_', ' ');
const holderName = (m: TimedModel, h: number): string => m.holders[h]!.name.replaceAll('_', ' ');

/** Rear and front end by the wheels. */
function endsOf(m: TimedModel, s: State, t: Float64Array): Ends {
  let [rear, front] = [Infinity, -Infinity];
  for (const wheel of [m.wheels.rear, m.wheels.front]) {
    const [x] = movePoint(t, 12 * wheel.body, at3(s.station, 3 * wheel.station));
    const r = s.value[wheel.radius]!;
    rear = Math.min(rear, x - r);
    front = Math.max(front, x + r);
  }
  return [rear, front];
}
const jointPlace = ({ m, s }: Bench, j: number, t: Float64Array): Vec3 =>
  movePoint(t, 12 * m.top.jointA[j]!, at3(s.joint, 6 * j));

function workLock(bench: Bench, w: Worker, move: Move, opens: boolean, t: Float64Array, unfolding: boolean): void {
  const lock = bench.locks[move.joint]!;
  if (worksAlone(lock)) return;
  const name = nameOf(bench.m, move);
  goTo(w, jointPlace(bench, move.joint, t), endsOf(bench.m, bench.s, t), `reach to the lock of ${name}`);
  if (opens) openLock(w, lock, name);
  else shutLock(w, lock, name, unfolding);
}

/** True where the hand has something to do. */
function workHolder(bench: Bench, w: Worker, h: number, k: number, t: Float64Array, closes: boolean): boolean {
  const { m, s, locks, paths, places } = bench;
  const holder = m.holders[h]!;
  const name = holderName(m, h);
  if (holder.kind === 'catch' || holder.kind === 'magnet') {
    // a foot presses through it, and a detent is overcome by the move itself
    if (places[k]!.foot || (!closes && locks[paths[k]!.segment.joint]!.kind === 'detent')) return false;
    fixed(w, 'lock', 'APA', closes ? `press until ${name} holds` : `pull ${name} free`);
    return true;
  }
  const place = holder.station >= 0 ? movePoint(t, 12 * holder.bodies[0], at3(s.station, 3 * holder.station)) : w.hand;
  goTo(w, place, endsOf(bench.m, bench.s, t), `reach to ${name}`);
  fixed(w, 'grasp', 'G1A', `take ${name}`);
  if (holder.kind === 'strap') {
    moveBy(w, 0.5, closes ? 'C' : 'B', 0, closes ? 'lead it round' : 'lead it off', 'one', 'lock');
    if (closes) fixed(w, 'lock', 'P1SE', 'put it through');
  } else moveBy(w, 0.1, closes ? 'A' : 'B', 0, closes ? 'hook it in' : 'lift it out', 'one', 'lock');
  fixed(w, 'lock', 'APA', closes ? 'press or pull tight' : 'pull it free');
  fixed(w, 'grasp', 'RL1', 'let go');
  return true;
}

/** Leads a move: by foot where a foot works it, the cranks by whichever is nearer, all else by hand. */
function lead(bench: Bench, w: Worker, k: number, back: boolean): void {
  const { m, locks } = bench;
  const j = bench.paths[k]!.segment.joint;
  if (bench.places[k]!.foot) {
    leadByFoot(bench, w, k, back);
    return;
  }
  const hand = copyOf(w);
  leadByHand(bench, hand, k, back);
  if (j === m.roles.cranks && locks[j]!.kind === 'none') {
    const foot = copyOf(w);
    leadByFoot(bench, foot, k, back);
    adopt(w, tmuOf(foot.elements) < tmuOf(hand.elements) ? foot : hand);
  } else adopt(w, hand);
}
/** Goes on where the trial ended. */
function adopt(w: Worker, trial: Worker): void {
  const elements = [...w.elements, ...trial.elements];
  Object.assign(w, trial, { elements });
}

function leadByFoot(bench: Bench, w: Worker, k: number, back: boolean): void {
  const way = bench.ways[k]!;
  const j = bench.paths[k]!.segment.joint;
  const name = bench.m.top.names.joints[j]!.replaceAll('_', ' ');
  rise(w);
  standFor(w, back ? way.end : way.start, bench.ends[k]![back ? 1 : 0]);
  leg(w, FOOT_REACH, `foot to ${name}`);
  if (bench.locks[j]!.kind === 'detent') fixed(w, 'foot', 'FMP', 'press it free', 'foot');
  leg(w, way.length, `swing ${name}`);
  leg(w, 0, 'foot back to the ground');
}

function leadByHand(bench: Bench, w: Worker, k: number, back: boolean): void {
  const { m, locks } = bench;
  const { joint } = bench.paths[k]!.segment;
  const way = bench.ways[k]!;
  const name = m.top.names.joints[joint]!.replaceAll('_', ' ');
  const words = m.top.names.shapes[bench.places[k]!.shape]!.replaceAll(/[._]/g, ' ');
  const [from, to] = back ? [way.end, way.start] : [way.start, way.end];
  const hand = way.load > ONE_HAND ? 'both' : 'one';
  const post = m.top.kind[joint] === KIND.post;
  goTo(w, from, bench.ends[k]![back ? 1 : 0], `reach to ${words}`, hand);
  fixed(w, 'grasp', 'G1A', `take ${words}`, hand);
  if (locks[joint]!.kind === 'detent') fixed(w, 'lock', 'APA', 'press it out of its catch', hand);
  const seated = back && m.top.held[joint] !== HELD.none;
  const kase = seated ? (post ? 'C' : 'A') : 'B';
  moveBy(w, way.length, kase, way.load, `lead ${name} by ${words}, ${way.length.toFixed(2)} m`, hand);
  ledTo(w, to);
  if (seated && post) fixed(w, 'eye', 'EF', 'look at the mark', 'body');
  fixed(w, 'grasp', 'RL1', 'let go', hand);
}

function stepOf(w: Worker, move: number, words: string): HandledStep {
  const elements = w.elements;
  w.elements = [];
  return {
    move,
    words,
    elements,
    seconds: tmuOf(elements) * TMU_SECONDS,
    bends: elements.filter((e) => e.code === 'B' || e.code === '(B)').length,
  };
}

function total(steps: HandledStep[], w: Worker): HandledTime {
  if (w.bent) {
    rise(w);
    steps.push(stepOf(w, -1, 'stand up'));
  }
  const shares: Record<ElementKind, number> = { reach: 0, grasp: 0, lock: 0, move: 0, body: 0, foot: 0, eye: 0 };
  let holds = 0;
  let twoHandMoves = 0;
  let walks = 0;
  for (const { elements } of steps)
    for (const e of elements) {
      shares[e.kind] += e.tmu * TMU_SECONDS;
      // a touch (G5) is no hold: the lever that follows a second catch is taken once
      if (e.kind === 'grasp' && e.code.startsWith('G') && e.code !== 'G5') holds++;
      if (e.kind === 'move' && e.hand === 'both') twoHandMoves++;
      if (e.code === 'TBC1') walks += 0.5;
    }
  const seconds = steps.reduce((sum, step) => sum + step.seconds, 0);
  return {
    steps,
    seconds,
    firstTime: [FIRST_TIME[0] * seconds, FIRST_TIME[1] * seconds],
    shares,
    bends: steps.reduce((sum, step) => sum + step.bends, 0),
    gripChanges: Math.max(0, holds - 1),
    twoHandMoves,
    walks,
  };
}
