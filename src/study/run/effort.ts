import type { State } from '#kernel';
import type { ResolvedCandidate } from '#project';
import type { Setting } from '../setting.ts';
import type { FoldResult } from './fold.ts';
import type { MassResult } from './mass.ts';

export interface EffortResult {
  readonly pending: true;
}

/** `s` must be filled and in the ride posture; it is left there. */
export function runEffort(
  _candidate: ResolvedCandidate,
  _s: State,
  _setting: Setting,
  _mass: MassResult,
  _fold: FoldResult,
): EffortResult {
  return { pending: true };
}
