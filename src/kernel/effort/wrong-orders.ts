/**
 * Every wrong order of the moves of a fold, and of unfolding: what stops it, or whether it does no harm.
 *
 * States are the subsets of motions (fold-states.ts); an order is a path through them. Each step is *blocked* (a lock is closed, a
 * loop does not move so), a *clash* (shapes meet, fold-meets.ts), *looks shut and is not* (they meet when the farthest point has
 * less than `NEARLY` to go, so that the move looks done and its catch or lock does not engage; or a pin's halves stand apart
 * when it is to be locked), or clear. The number of orders that get to a state is the sum over its clear
 * predecessors; an order that stops after k of n moves stands for (n − k − 1)! orders that begin alike. An order that gets
 * through ends in the very posture of the procedure: harmless.
 * Only states that an order can reach are looked at. Up to `MOST` motions every order is counted (n! − 1 wrong ones); with more,
 * or where motions share a joint, orders with two moves exchanged, one pair at a time, and that is said (`every`).
 * Source: dynamic programming over subsets (Held & Karp 1962, J. SIAM 10:196–210). Not here: moves done half, two at once.
 */
import { closureResidual, type FoldPlan, type LinkageWorkspace, type Posture } from '../linkage/index.ts';
import { KIND, type Model } from '../model/types.ts';
import type { Meeting, Meetings } from './fold-meets.ts';
import { allDone, type FoldStates, poseState, stateFreedom, whatBlocks } from './fold-states.ts';

/** Way of the farthest point below which a move looks done: a finger's breadth, m (default, from memory). */
export const NEARLY = 0.02;
/** Beyond this many motions orders are not all counted. */
export const MOST = 8;
/** A pin goes in when its halves are within this, m. */
const PIN_FITS = 1e-4;

export type OrderEnd = 'blocked' | 'clash' | 'looks_shut';
/** One reason why orders stop. */
export interface OrderCause {
  readonly way: 'fold' | 'unfold';
  readonly end: OrderEnd;
  /** Motion that cannot be done, and those that were done too early or left too late: indices into the states' motions. */
  readonly motion: number;
  /** Motions that should have been done (undone) first, and those that should not yet have been. */
  readonly before: readonly number[];
  readonly after: readonly number[];
  readonly meeting: Meeting | undefined;
  readonly why: 'locked' | 'loop' | 'meets' | 'pin_apart';
  /** Orders that stop for this reason first. */
  readonly orders: number;
}
export interface OrderCount {
  /** Wrong orders looked at; they add up. */
  readonly total: number;
  readonly harmless: number;
  readonly clash: number;
  readonly blocked: number;
  readonly looksShut: number;
}
export interface WrongOrders {
  /** Every order was counted; otherwise exchanges of two moves. */
  readonly every: boolean;
  readonly fold: OrderCount;
  readonly unfold: OrderCount;
  /** Most orders first. */
  readonly causes: readonly OrderCause[];
}

interface Stop {
  readonly end: OrderEnd;
  readonly why: OrderCause['why'];
  readonly meeting: Meeting | undefined;
}

export function wrongOrders(
  m: Pick<Model, 'top' | 'fold'>,
  plan: FoldPlan,
  states: FoldStates,
  meetings: Meetings,
  here: Posture,
  ws: LinkageWorkspace,
): WrongOrders {
  const n = states.motions.length;
  const every = states.independent && n <= MOST;
  /** Why motion `i` stops with `done` done; `done` never holds `i`. */
  const blocks = blockTable(m, plan, states, ws);
  const stopOf = (i: number, done: number, way: 'fold' | 'unfold'): Stop | undefined => {
    const why = blocks(i, done);
    if (why) return { end: 'blocked', why, meeting: undefined };
    const meeting = meetings.first(i, done, way);
    if (meeting) return { end: meeting.left <= NEARLY ? 'looks_shut' : 'clash', why: 'meets', meeting };
    if (way === 'fold' && pinApart(m, plan, states, i, done | (1 << i), here, ws))
      return { end: 'looks_shut', why: 'pin_apart', meeting: undefined };
    return undefined;
  };
  const causes = new Map<string, OrderCause>();
  const tell = (way: 'fold' | 'unfold', i: number, done: number, stop: Stop, orders: number): void => {
    const among = (stop.meeting?.among ?? allDone(states)) & ~(1 << i);
    const bits = (mask: number): number[] => states.motions.map((_, k) => k).filter((k) => (mask >> k) & 1);
    const earlier = (1 << i) - 1;
    const undone = among & ~done & earlier;
    const early = among & done & ~earlier;
    // unfolding goes the other way: what is still folded should have been undone, what is undone should still be folded
    const [before, after] = way === 'fold' ? [undone, early] : [early, undone];
    const key = `${way} ${i} ${before} ${after} ${stop.end} ${stop.meeting?.shapes.join(' ') ?? stop.why}`;
    const known = causes.get(key);
    causes.set(key, {
      way,
      end: stop.end,
      motion: i,
      before: bits(before),
      after: bits(after),
      meeting: stop.meeting,
      why: stop.why,
      orders: orders + (known?.orders ?? 0),
    });
  };
  const count = every ? countAll : countSwaps;
  const fold = count(n, 'fold', stopOf, tell);
  const unfold = count(n, 'unfold', stopOf, tell);
  return { every, fold, unfold, causes: [...causes.values()].sort((a, b) => b.orders - a.orders) };
}

/** `whatBlocks`, once for every set of freedoms. */
function blockTable(
  m: Pick<Model, 'top' | 'fold'>,
  plan: FoldPlan,
  states: FoldStates,
  ws: LinkageWorkspace,
): (i: number, done: number) => 'locked' | 'loop' | undefined {
  const known = new Map<string, 'locked' | 'loop' | undefined>();
  return (i, done) => {
    const key = `${i} ${stateFreedom(m, states, done, i).join('')}`;
    if (!known.has(key)) known.set(key, whatBlocks(m, plan, states, done, i, ws));
    return known.get(key);
  };
}

type StopOf = (i: number, done: number, way: 'fold' | 'unfold') => Stop | undefined;
type Tell = (way: 'fold' | 'unfold', i: number, done: number, stop: Stop, orders: number) => void;

const factorials = (n: number): number[] => {
  const out = [1];
  for (let k = 1; k <= n; k++) out.push(out[k - 1]! * k);
  return out;
};

function countAll(n: number, way: 'fold' | 'unfold', stopOf: StopOf, tell: Tell): OrderCount {
  const full = (1 << n) - 1;
  const factorial = factorials(n);
  const ends = { blocked: 0, clash: 0, looks_shut: 0 };
  const paths = new Float64Array(full + 1);
  /** Unfolding runs over the motions undone, so that both ways start from nothing and end with everything. */
  const doneOf = (gone: number): number => (way === 'fold' ? gone : full & ~gone);
  paths[0] = 1;
  // a subset's number is greater than that of any part of it: rising order is good enough
  for (let gone = 0; gone < full; gone++) {
    if (paths[gone] === 0) continue;
    let size = 0;
    for (let k = gone; k; k &= k - 1) size++;
    for (let i = 0; i < n; i++) {
      if ((gone >> i) & 1) continue;
      const done = doneOf(gone) & ~(1 << i);
      const stop = stopOf(i, done, way);
      if (!stop) {
        paths[gone | (1 << i)]! += paths[gone]!;
        continue;
      }
      const orders = paths[gone]! * factorial[n - size - 1]!;
      ends[stop.end] += orders;
      tell(way, i, done, stop, orders);
    }
  }
  const total = Math.max(0, factorial[n]! - 1);
  return {
    total,
    harmless: Math.max(0, paths[full]! - 1),
    clash: ends.clash,
    blocked: ends.blocked,
    looksShut: ends.looks_shut,
  };
}

/** The procedure with two moves exchanged, one pair at a time. */
function countSwaps(n: number, way: 'fold' | 'unfold', stopOf: StopOf, tell: Tell): OrderCount {
  const ends = { blocked: 0, clash: 0, looks_shut: 0 };
  const full = (1 << n) - 1;
  let [total, harmless] = [0, 0];
  for (let a = 0; a < n; a++)
    for (let b = a + 1; b < n; b++) {
      total++;
      const order = Array.from({ length: n }, (_, k) => (k === a ? b : k === b ? a : k));
      if (way === 'unfold') order.reverse();
      let gone = 0;
      let stopped = false;
      for (const i of order) {
        const done = (way === 'fold' ? gone : full & ~gone) & ~(1 << i);
        const stop = stopOf(i, done, way);
        if (stop) {
          ends[stop.end]++;
          tell(way, i, done, stop, 1);
          stopped = true;
          break;
        }
        gone |= 1 << i;
      }
      if (!stopped) harmless++;
    }
  return { total, harmless, clash: ends.clash, blocked: ends.blocked, looksShut: ends.looks_shut };
}

/** Whether a pin that motion `i` locks does not go in, in the state `done`. */
function pinApart(
  m: Pick<Model, 'top'>,
  plan: FoldPlan,
  states: FoldStates,
  i: number,
  done: number,
  here: Posture,
  ws: LinkageWorkspace,
): boolean {
  return states.motions[i]!.locks.some((j) => {
    if (m.top.kind[j] !== KIND.pin) return false;
    poseState(m, plan, states, done, here);
    const system = { unknowns: new Int32Array(0), cuts: Int32Array.of(j), fixed: new Uint8Array(1) };
    return closureResidual(m.top, here, system, ws) > PIN_FITS;
  });
}
