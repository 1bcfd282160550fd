/**
 * Foolproof discipline: wrong orders, moves and locks forgotten, locks half-shut, holders left off. Which of them are noticed,
 * and which look shut (or ready to ride) and are not.
 */
import {
  type FoldStates,
  type ForgottenMove,
  foldedPackage,
  foldStates,
  forgottenMoves,
  holdMargins,
  newLinkageWorkspace,
  newMeetings,
  type OrderCause,
  postureLike,
  type State,
  type WrongOrders,
  wrongOrders,
} from '#kernel';
import type { ResolvedCandidate } from '#project';
import { jointValue, plainName } from '../words.ts';
import type { FoldResult } from './fold.ts';
import { latchesOf } from './latch.ts';
import { type LockMishap, lockMishaps } from './lock-mishaps.ts';

/** A latch or strap of the folded package that was left off. */
export interface HolderLeftOff {
  readonly holder: number;
  /** Least of holding over opening without it; Infinity where nothing opens. */
  readonly ratio: number;
  readonly end: 'harmless' | 'looks_shut';
}
export interface Hazard {
  readonly kind: 'wrong_order' | 'forgotten' | 'half_shut';
  readonly words: string;
}
export interface FoolproofResult {
  readonly states: FoldStates;
  readonly orders: WrongOrders;
  readonly forgotten: readonly ForgottenMove[];
  readonly locks: readonly LockMishap[];
  readonly holders: readonly HolderLeftOff[];
  /** Everything that looks shut and is not. */
  readonly hazards: readonly Hazard[];
  /** Sweeps that were needed. */
  readonly sweeps: number;
}

/** `s` must be filled and in the ride posture; it is left there. */
export function runFoolproof(candidate: ResolvedCandidate, s: State, fold: FoldResult): FoolproofResult {
  const { model } = candidate;
  const { plan } = fold;
  const broken = plan.problems.find((p) => p.severity === 'error');
  if (model.fold.length === 0) throw new RangeError('this bicycle does not fold');
  if (broken)
    throw new RangeError(`the procedure stops at move ${broken.move + 1}: ${broken.kind.replaceAll('_', ' ')}`);
  const ws = newLinkageWorkspace(model.top);
  const states = foldStates(model, plan);
  const meetings = newMeetings(model, s, plan, states, ws);
  const here = postureLike(s);
  const orders = wrongOrders(model, plan, states, meetings, here, ws);
  const forgotten = forgottenMoves(model, s, plan, states, meetings, here, ws);
  const folded = new Set(states.motions.flatMap((motion) => motion.locks));
  const locks = lockMishaps(model, s, latchesOf(candidate, s), folded);
  const holders = holdersLeftOff(candidate, s, fold);
  const found = { states, orders, forgotten, locks, holders };
  return { ...found, hazards: hazardsOf(candidate, found), sweeps: meetings.sweeps() };
}

/** Catches and magnets find their place by themselves; latches and straps are put there by hand. */
const BY_HAND = new Set(['latch', 'strap']);

function holdersLeftOff(candidate: ResolvedCandidate, s: State, fold: FoldResult): HolderLeftOff[] {
  const { model } = candidate;
  if (!model.holders.some((h) => BY_HAND.has(h.kind))) return [];
  const folded = foldedPackage(model, s, fold.plan);
  const situation = { heldBody: Math.max(0, model.handle.body), handle: folded.handle, rollingUp: undefined };
  return model.holders.flatMap((h, holder): HolderLeftOff[] => {
    if (!BY_HAND.has(h.kind)) return [];
    const rest = folded.holders.filter((_, i) => i !== holder);
    const ratio = holdMargins(folded.freedoms, rest, folded.bodies, situation).least?.ratio ?? Number.POSITIVE_INFINITY;
    return [{ holder, ratio, end: ratio >= 1 ? 'harmless' : 'looks_shut' }];
  });
}

/** `main before post clamp: bar lever left meets saddle at 145°`. */
export function causeWords(candidate: Pick<ResolvedCandidate, 'model'>, states: FoldStates, c: OrderCause): string {
  const { model } = candidate;
  const { names } = model.top;
  const motion = (i: number): string => plainName(names.joints[states.motions[i]!.joint]!);
  const list = (is: readonly number[]): string => is.map(motion).join(', ');
  const verb = c.way === 'fold' ? '' : 'unfolding ';
  const when = [c.before.length && `before ${list(c.before)}`, c.after.length && `after ${list(c.after)}`]
    .filter(Boolean)
    .join(' and ');
  const what = c.meeting
    ? `${c.meeting.shapes.map((k) => plainName(names.shapes[k]!)).join(' meets ')} at ${jointValue(model, states.motions[c.motion]!.joint, c.meeting.value)}`
    : c.why === 'locked'
      ? 'it is still locked'
      : c.why === 'loop'
        ? 'its loop does not move so'
        : 'its pin does not go in';
  return `${verb}${motion(c.motion)} ${when}: ${what}`;
}

function hazardsOf(
  candidate: ResolvedCandidate,
  r: Pick<FoolproofResult, 'states' | 'orders' | 'forgotten' | 'locks' | 'holders'>,
): Hazard[] {
  const { model } = candidate;
  const { joints } = model.top.names;
  const out: Hazard[] = [];
  for (const c of r.orders.causes)
    if (c.end === 'looks_shut') out.push({ kind: 'wrong_order', words: causeWords(candidate, r.states, c) });
  for (const f of r.forgotten)
    if (f.end === 'looks_shut') {
      const joint = plainName(joints[r.states.motions[f.motion]!.joint]!);
      const loose = f.loose.map((i) => plainName(model.holders[i]!.name)).join(', ');
      out.push({
        kind: 'forgotten',
        words: `${joint} forgotten when ${f.way}ing: ${(1000 * f.off).toFixed(0)} mm off${loose ? `, ${loose} not engaged` : ''}`,
      });
    }
  for (const h of r.holders)
    if (h.end === 'looks_shut')
      out.push({
        kind: 'forgotten',
        words: `${plainName(model.holders[h.holder]!.name)} left off: the package opens when it is lifted`,
      });
  for (const l of r.locks)
    if (l.end === 'looks_shut') {
      const mishap = { half_shut: 'half-shut', not_home: 'closed on a joint not home', forgotten: 'left open' }[
        l.mishap
      ];
      out.push({
        kind: l.mishap === 'forgotten' ? 'forgotten' : 'half_shut',
        words: `${plainName(joints[l.joint]!)} ${mishap}${l.posture === 'folded' ? ' when folded' : ''}: ${l.why}`,
      });
    }
  return out;
}
