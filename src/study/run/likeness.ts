/**
 * Likeness discipline: the candidate's handling profile beside that of the brief's reference bicycle.
 *
 * Both are ridden by the same usual rider under the same stabilising rider model. The reference's profile is made once and
 * handed in, so that dragging a candidate does not compute it again.
 */
import { type HandlingProfile, handlingProfile, type Likeness, likeness } from '#kernel';
import type { SteerResult } from './steer.ts';

export interface LikenessResult extends Likeness {
  readonly profile: HandlingProfile;
}

export const profileOf = (r: SteerResult): HandlingProfile =>
  handlingProfile({ system: r.system, geometry: r.assembled.geometry, lever: r.lever });

export function runLikeness(candidate: SteerResult, reference: HandlingProfile): LikenessResult {
  const profile = profileOf(candidate);
  return { ...likeness(profile, reference), profile };
}
