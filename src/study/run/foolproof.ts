import type { State } from '#kernel';
import type { ResolvedCandidate } from '#project';
import type { FoldResult } from './fold.ts';

export interface FoolproofResult {
  readonly pending: true;
}

/** `s` must be filled and in the ride posture; it is left there. */
export function runFoolproof(_candidate: ResolvedCandidate, _s: State, _fold: FoldResult): FoolproofResult {
  return { pending: true };
}
