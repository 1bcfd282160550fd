/**
 * Effort discipline: seconds, bends, hands and grips of folding and unfolding. Follows a dragging hand.
 * Lifting and carrying the package need its box: they are a discipline of their own, `burden`.
 */
import { gripHeightOf, type HandledTime, HELD, type LockWork, type MoveHold, type State, timeToFold } from '#kernel';
import { findPrinciple, type ResolvedCandidate } from '#project';
import type { Setting } from '../setting.ts';
import type { FoldResult } from './fold.ts';
import type { HandsResult } from './hands.ts';
import type { MassResult } from './mass.ts';

export interface EffortResult {
  readonly fold: HandledTime;
  readonly unfold: HandledTime;
  /** Of the fold: times the body bends, most hands needed at once, changes of grip. */
  readonly bends: number;
  readonly hands: 1 | 2;
  readonly gripChanges: number;
}

/**
 * `s` must be filled and in the ride posture; it is left there. A bicycle without procedure takes no time.
 * @throws RangeError when the procedure cannot be done as written.
 */
export function runEffort(
  candidate: ResolvedCandidate,
  s: State,
  setting: Setting,
  mass: MassResult,
  { plan }: FoldResult,
  hands: HandsResult,
): EffortResult {
  const { model } = candidate;
  const wrong = plan.problems.find((p) => p.severity === 'error');
  if (wrong) throw new RangeError(`the procedure stops at move ${wrong.move + 1}: ${wrong.kind.replaceAll('_', ' ')}`);
  const holds = hands.moves.map(
    (move): MoveHold | undefined => move && { place: move.place, force: move.greatest.force },
  );
  const hangs = gripHeightOf(setting.usual);
  const { fold, unfold } = timeToFold(model, s, plan, mass.bodies, locksOf(candidate, s), holds, hangs);
  const { bends, gripChanges, twoHandMoves } = fold;
  return { fold, unfold, bends, hands: twoHandMoves > 0 ? 2 : 1, gripChanges };
}

/** What a hand does at each joint's lock: the mechanism of its principle, the usual one of its kind where the file names none. */
export function locksOf(candidate: ResolvedCandidate, s: State): readonly LockWork[] {
  const { held } = candidate.model.top;
  return candidate.hardware.map((h, j): LockWork => {
    if (held[j] !== HELD.latch && held[j] !== HELD.clamp) return { kind: 'none', lever: 0, actions: 0 };
    const { actions } = h;
    if (actions === 0) return { kind: 'detent', lever: 0, actions };
    const principle = findPrinciple(h.principle || h.basis);
    if (!principle) return { kind: 'detent', lever: 0, actions };
    const lever = h.lever >= 0 ? s.value[h.lever]! : principle.lever.typical / 1e3;
    const machine = principle.mechanism?.(1e3 * lever, principle.stack.typical);
    return { kind: machine?.kind ?? 'pin', lever, actions };
  });
}
