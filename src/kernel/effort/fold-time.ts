/**
 * Seconds to fold and to unfold, from the motions that a trained person makes.
 *
 * The procedure is worked through move by move in the bicycle's real postures. A lock: go there, open or shut it by its
 * mechanism. A move: take the place that costs least time (saddle, grips, wheels; the body's own shapes where it has none of
 * them), lead it along its real way with the load of `hand-path` in one hand, or halved in two above `ONE_HAND`; then let go.
 * Unfolding undoes the steps in reverse order: a post is raised to its mark, hinges come against their seats, locks are shut for
 * riding and looked at. Holders of the package (catch, hook, strap) are closed after the last move that shifts their two
 * bodies, and opened before it. A stand that the package stands on, low down and without hand action, is worked by a foot; so
 * are the cranks while the hands are not down there. The better side to begin on is taken.
 * Source of the times: motion-times.ts. The analysis (which elements) is ours. First attempts take 1.5 to 2.5 times as long (judgement).
 * Verified: a three-hinge fold written out by hand, verification/effort.
 * Not here: force (`hands`), bags and clothes, balancing a bicycle that does not stand by itself, waiting, wrong moves.
 */
import type { FoldPlan } from '../linkage/fold-plan.ts';
import type { BodyMass } from '../mass/totals.ts';
import { at3, dot, movePoint, sub, type Vec3 } from '../math/rigid.ts';
import { HELD, KIND, type Model, type Move, type State } from '../model/types.ts';
import {
  type GripPlace,
  type HandWay,
  handWay,
  type PathOfMove,
  pathsOfFold,
  shapeGrips,
  usualGrips,
} from './hand-path.ts';
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
/** First attempts against trained ones: judgement. */
export const FIRST_TIME = [1.5, 2.5] as const;
/** A stand's hinge that a foot gets at lies below this, m. */
const FOOT_HEIGHT = 0.35;
/** A hand's way shorter than this share of the load's own way is no hold to lead it by. */
const LEAST_LEVER = 0.4;

export interface FoldTimes {
  readonly fold: HandledTime;
  readonly unfold: HandledTime;
}
type TimedModel = Pick<Model, 'top' | 'fold' | 'roles' | 'wheels' | 'holders' | 'standsOn' | 'handle'>;

interface Hold {
  readonly grip: GripPlace;
  readonly way: HandWay;
}
interface Bench {
  readonly m: TimedModel;
  readonly s: State;
  readonly locks: readonly LockWork[];
  readonly paths: readonly PathOfMove[];
  /** Per path: what may be held, and its way; ends of the bicycle at its start and end. */
  readonly holds: readonly (readonly Hold[])[];
  readonly ends: readonly (readonly [start: Ends, end: Ends])[];
  /** Segment that the holder of that index belongs to: after it when folding. -1: none. */
  readonly heldAfter: readonly number[];
  readonly ride: Float64Array;
}

/**
 * `hangs`: height of the hanging hand (`gripHeightOf`). `s` lends its dimensions and is left in the ride posture.
 * @throws RangeError where a thing is too heavy for two hands in the table.
 */
export function timeToFold(
  m: TimedModel,
  s: State,
  plan: FoldPlan,
  bodies: readonly BodyMass[],
  locks: readonly LockWork[],
  hangs: number,
): FoldTimes {
  const here: State = { ...s, q: s.q.slice(), bodyT: s.bodyT.slice() };
  const paths = pathsOfFold(m, here, plan, bodies);
  const usual = usualGrips(m, s);
  const bench: Bench = {
    m,
    s,
    locks,
    paths,
    holds: paths.map((path) => holdsOn(m, s, path, usual)),
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
      if (after === k && workHolder(bench, w, h, t, true)) steps.push(stepOf(w, -1, `close ${holderName(m, h)}`));
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
      if (after === k && workHolder(bench, w, h, t, false)) steps.push(stepOf(w, -1, `open ${holderName(m, h)}`));
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

/** A foot works it: no hand action, low, and it carries something that the package stands on. */
function byFoot({ m, s, locks }: Bench, j: number): boolean {
  if (locks[j]!.kind !== 'detent' || s.joint[6 * j + 2]! > FOOT_HEIGHT) return false;
  const { shapeBody, nCapsule, nDisc } = m.top;
  return m.standsOn.some(
    (shape) => shapeBody[shape] === m.top.jointB[j] && !(shape >= nCapsule && shape < nCapsule + nDisc),
  );
}

function workLock(bench: Bench, w: Worker, move: Move, opens: boolean, t: Float64Array, unfolding: boolean): void {
  const lock = bench.locks[move.joint]!;
  if (worksAlone(lock)) return;
  const name = nameOf(bench.m, move);
  goTo(w, jointPlace(bench, move.joint, t), endsOf(bench.m, bench.s, t), `reach to the lock of ${name}`);
  if (opens) openLock(w, lock, name);
  else shutLock(w, lock, name, unfolding);
}

/** True where the hand has something to do. */
function workHolder(bench: Bench, w: Worker, h: number, t: Float64Array, closes: boolean): boolean {
  const { m, s } = bench;
  const holder = m.holders[h]!;
  const name = holderName(m, h);
  if (closes && (holder.kind === 'catch' || holder.kind === 'magnet')) {
    fixed(w, 'lock', 'APA', `press until ${name} holds`);
    return true;
  }
  const place = holder.station >= 0 ? movePoint(t, 12 * holder.bodies[0], at3(s.station, 3 * holder.station)) : w.hand;
  if (holder.kind === 'catch' || holder.kind === 'magnet') {
    fixed(w, 'lock', 'APA', `pull ${name} free`);
    return true;
  }
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

/** Leads a move, by foot or by the cheapest hold. */
function lead(bench: Bench, w: Worker, k: number, back: boolean): void {
  const { m, locks } = bench;
  const path = bench.paths[k]!;
  const j = path.segment.joint;
  const ends = bench.ends[k]![back ? 1 : 0];
  if (byFoot(bench, j)) {
    leadByFoot(bench, w, path, back, ends);
    return;
  }
  const best = cheapest(bench, w, k, back, ends);
  if (j === m.roles.cranks && locks[j]!.kind === 'none') {
    const foot = copyOf(w);
    leadByFoot(bench, foot, path, back, ends);
    if (!best || tmuOf(foot.elements) < tmuOf(best.elements)) {
      adopt(w, foot);
      return;
    }
  }
  if (!best)
    throw new RangeError(`${m.top.names.joints[j]}: nothing to hold lets two hands move ${path.mass.toFixed(1)} kg`);
  adopt(w, best);
}
/** Goes on where the trial ended. */
function adopt(w: Worker, trial: Worker): void {
  const elements = [...w.elements, ...trial.elements];
  Object.assign(w, trial, { elements });
}

function leadByFoot(bench: Bench, w: Worker, path: PathOfMove, back: boolean, ends: Ends): void {
  const { m, s } = bench;
  const j = path.segment.joint;
  const name = m.top.names.joints[j]!.replaceAll('_', ' ');
  const place = farthest(bench, path, j, shapeGrips(m, s, m.top.jointB[j]!));
  rise(w);
  standFor(w, back ? place.end : place.start, ends);
  leg(w, 0.3, `foot to ${name}`);
  if (bench.locks[j]!.kind === 'detent') fixed(w, 'foot', 'FMP', 'press it free', 'foot');
  leg(w, place.length, `swing ${name}`);
  leg(w, 0, 'foot back to the ground');
}
function farthest({ s }: Bench, path: PathOfMove, j: number, grips: readonly GripPlace[]): HandWay {
  const [p, axis] = [at3(s.joint, 6 * j), at3(s.joint, 6 * j + 3)];
  let best = grips[0]!;
  let most = -1;
  for (const grip of grips) {
    const r = sub(grip.point, p);
    const along = dot(r, axis);
    const away = Math.sqrt(Math.max(0, dot(r, r) - along * along));
    if (away > most) [most, best] = [away, grip];
  }
  return handWay(path, best);
}

/** What two hands can lead a move by. */
function holdsOn(m: TimedModel, s: State, path: PathOfMove, usual: readonly GripPlace[]): readonly Hold[] {
  const { moving, joint } = path.segment;
  const own = moving[m.top.jointB[joint]!] ? m.top.jointB[joint]! : m.top.jointA[joint]!;
  const some = usual.filter((g) => moving[g.body]);
  return (some.length > 0 ? some : shapeGrips(m, s, own))
    .map((grip) => ({ grip, way: handWay(path, grip) }))
    .filter(({ way }) => way.length > LEAST_LEVER * path.way && way.load <= HEAVIEST);
}

/** The hold that costs least time; undefined where two hands cannot do it. */
function cheapest(bench: Bench, w: Worker, k: number, back: boolean, ends: Ends): Worker | undefined {
  let best: Worker | undefined;
  let least = Infinity;
  for (const { grip, way } of bench.holds[k]!) {
    const trial = copyOf(w);
    leadByHand(bench, trial, bench.paths[k]!, grip.words, way, back, ends);
    const tmu = tmuOf(trial.elements);
    if (tmu < least) [least, best] = [tmu, trial];
  }
  return best;
}

function leadByHand(
  bench: Bench,
  w: Worker,
  path: PathOfMove,
  words: string,
  way: HandWay,
  back: boolean,
  ends: Ends,
): void {
  const { m, locks } = bench;
  const { joint } = path.segment;
  const name = m.top.names.joints[joint]!.replaceAll('_', ' ');
  const [from, to] = back ? [way.end, way.start] : [way.start, way.end];
  const hand = way.load > ONE_HAND ? 'both' : 'one';
  const post = m.top.kind[joint] === KIND.post;
  goTo(w, from, ends, `reach to ${words}`, hand);
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
    bends: elements.filter((e) => e.code === 'B').length,
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
      if (e.kind === 'grasp' && e.code.startsWith('G')) holds++;
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
