import type { State } from '#kernel';
import type { ResolvedCandidate } from '#project';
import type { Setting } from '../setting.ts';

export interface FitResult {
  readonly pending: true;
}
export interface FitChangeResult {
  readonly pending: true;
}

/** `s` must be filled and in the ride posture; it is left there. */
export function runFit(_candidate: ResolvedCandidate, _s: State, _setting: Setting): FitResult {
  return { pending: true };
}
export function runFitChange(
  _candidate: ResolvedCandidate,
  _s: State,
  _setting: Setting,
  _fit: FitResult,
): FitChangeResult {
  return { pending: true };
}
