import type { State } from '#kernel';
import type { ResolvedCandidate } from '#project';
import type { Setting } from '../setting.ts';
import type { MassResult } from './mass.ts';

export interface DriveResult {
  readonly pending: true;
}

/** `s` must be filled and in the ride posture; it is left there. */
export function runDrive(_candidate: ResolvedCandidate, _s: State, _setting: Setting, _mass: MassResult): DriveResult {
  return { pending: true };
}
