/** What is known of the brief's reference bicycle: how it handles, and how the same riders sit on it. */
import type { HandlingProfile, KneeMeans } from '#kernel';

export interface Reference {
  readonly profile: HandlingProfile;
  /** Computed when first asked for; undefined when nobody can sit on it. */
  knees(): KneeMeans | undefined;
}
