/**
 * Effort discipline: seconds, bends, hands and grips of folding and unfolding. Follows a dragging hand.
 * Lifting and carrying the package need its box: they are a discipline of their own, `burden`.
 */
import type { HandledTime, State } from '#kernel';
import type { ResolvedCandidate } from '#project';
import type { Setting } from '../setting.ts';
import type { FoldResult } from './fold.ts';
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
  _candidate: ResolvedCandidate,
  _s: State,
  _setting: Setting,
  _mass: MassResult,
  _fold: FoldResult,
): EffortResult {
  throw new RangeError('the times of the moves are not there yet');
}
