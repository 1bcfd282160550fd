/**
 * A move forgotten, one at a time, folding and unfolding: is it noticed?
 *
 * The other moves are done in the procedure's order. One of them may then be blocked or meet something: noticed. Otherwise the
 * posture differs from the right one: *seen* where the farthest point stands off by more than `NEARLY`; else it *looks shut and is
 * not* where a holder of the package does not reach its place (its two points apart by more than `REACH`), or, unfolded, where the
 * lock of that joint cannot close; else harmless.
 * Not here: locks and holders forgotten (their handles: half-shut.ts), two moves forgotten.
 */
import { type FoldPlan, type LinkageWorkspace, type Posture, poseBodies } from '../linkage/index.ts';
import { at3, invert, movePoint, norm, sub } from '../math/rigid.ts';
import type { Model, State } from '../model/types.ts';
import type { Meeting, Meetings } from './fold-meets.ts';
import { allDone, type FoldStates, poseState, whatBlocks } from './fold-states.ts';
import { NEARLY } from './wrong-orders.ts';

export interface ForgottenMove {
  readonly way: 'fold' | 'unfold';
  /** Index into the states' motions. */
  readonly motion: number;
  readonly end: 'blocked' | 'clash' | 'seen' | 'looks_shut' | 'harmless';
  /** The move that cannot be done for it, and what it meets. */
  readonly stops: number;
  readonly meeting: Meeting | undefined;
  /** How far the farthest point stands from where it should, m. */
  readonly off: number;
  /** Holders (index into `Model.holders`) that do not reach their place. */
  readonly loose: readonly number[];
}

/** Points of a catch farther apart than this do not engage, m (default, from memory). */
const REACH = 0.005;

export function forgottenMoves(
  m: Pick<Model, 'top' | 'fold' | 'holders'>,
  s: State,
  plan: FoldPlan,
  states: FoldStates,
  meetings: Meetings,
  here: Posture,
  ws: LinkageWorkspace,
): readonly ForgottenMove[] {
  const n = states.motions.length;
  const all = allDone(states);
  const out: ForgottenMove[] = [];
  for (const way of ['fold', 'unfold'] as const)
    for (let motion = 0; motion < n; motion++) {
      const others = Array.from({ length: n }, (_, k) => (way === 'fold' ? k : n - 1 - k)).filter((k) => k !== motion);
      let done = way === 'fold' ? 0 : all;
      const base = { way, motion, stops: -1, meeting: undefined, off: 0, loose: [] };
      let stopped: ForgottenMove | undefined;
      for (const k of others) {
        const before = done & ~(1 << k);
        if (whatBlocks(m, plan, states, before, k, ws)) stopped = { ...base, end: 'blocked', stops: k };
        const meeting = stopped ? undefined : meetings.first(k, before, way);
        if (meeting) stopped = { ...base, end: 'clash', stops: k, meeting };
        if (stopped) break;
        done = way === 'fold' ? done | (1 << k) : before;
      }
      if (stopped) {
        out.push(stopped);
        continue;
      }
      const off = meetings.wayBetween(motion, done, 0, 1);
      const loose = way === 'fold' ? looseHolders(m, s, plan, states, done, here) : [];
      const hidden = way === 'unfold' || loose.length > 0 ? 'looks_shut' : 'harmless';
      out.push({ ...base, end: off > NEARLY ? 'seen' : hidden, off, loose });
    }
  return out;
}

/** Holders whose two points, together in the folded package, are apart in the state `done`. */
function looseHolders(
  m: Pick<Model, 'top' | 'holders'>,
  s: State,
  plan: FoldPlan,
  states: FoldStates,
  done: number,
  here: Posture,
): number[] {
  const inverse = new Float64Array(12);
  const points = m.holders.map((h) => {
    if (h.station < 0) return undefined;
    here.q.set(plan.foldedQ);
    poseBodies(m.top, here);
    const own = at3(s.station, 3 * h.station);
    invert(here.bodyT, 12 * h.bodies[1], inverse, 0);
    return { own, other: movePoint(inverse, 0, movePoint(here.bodyT, 12 * h.bodies[0], own)) };
  });
  poseState(m, plan, states, done, here);
  return points.flatMap((p, i) => {
    const [a, b] = m.holders[i]!.bodies;
    return p && norm(sub(movePoint(here.bodyT, 12 * a, p.own), movePoint(here.bodyT, 12 * b, p.other))) > REACH
      ? [i]
      : [];
  });
}
