import type { State } from '#kernel';
import type { ResolvedCandidate } from '#project';
import type { Setting } from '../setting.ts';
import type { DriveResult } from './drive.ts';
import type { EffortResult } from './effort.ts';
import type { MassResult } from './mass.ts';

export interface TripResult {
  readonly pending: true;
}

/** `s` must be filled and in the ride posture; it is left there. */
export function runTrip(
  _candidate: ResolvedCandidate,
  _s: State,
  _setting: Setting,
  _mass: MassResult,
  _effort: EffortResult,
  _drive: DriveResult,
): TripResult {
  return { pending: true };
}
