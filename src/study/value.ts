/**
 * Wishes as values between 0 and 1, their weighted mean, and whether an order survives a change of weights.
 *
 * Value function: straight from `worst` (0) to `best` (1), flat outside. It is the simplest one that a team can argue about
 * line by line; a wish that cannot be computed counts 0 and says so. Weighted mean: additive value model, which asks
 * that wishes be preferentially independent (Keeney & Raiffa, Decisions with Multiple Objectives, 1976, ch. 3; from memory).
 *
 * Sweep: let every weight vary on its own between w(1−s) and w(1+s). A beats B for all such weights exactly when
 * |Σ w d| > s Σ w |d| with d the difference of values wish by wish: the worst case puts every weight at the end that hurts.
 * So the sweep at which the order first flips is s* = |Σ w d| / Σ w |d|, in closed form, no sampling.
 */
export interface Preference {
  readonly best: number;
  readonly worst: number;
  readonly weight: number;
}

/** 0 at `worst` or beyond, 1 at `best` or beyond, straight between. NaN for best = worst: refused in the brief. */
export function worth(preference: Preference, x: number): number {
  return Math.min(1, Math.max(0, (x - preference.worst) / (preference.best - preference.worst)));
}

/** Σ w v / Σ w; 0 when there is no weight at all. */
export function score(preferences: readonly Preference[], values: readonly number[]): number {
  let sum = 0;
  let weight = 0;
  preferences.forEach((p, i) => {
    sum += p.weight * values[i]!;
    weight += p.weight;
  });
  return weight > 0 ? sum / weight : 0;
}

export interface Duel {
  /** Score of A minus score of B. */
  readonly lead: number;
  /** Least relative change of weights at which B could come first; Infinity when B loses on every wish, 0 on a tie. */
  readonly flipsAt: number;
}

/** How firmly A leads B. */
export function duel(preferences: readonly Preference[], a: readonly number[], b: readonly number[]): Duel {
  let sum = 0;
  let spread = 0;
  preferences.forEach((p, i) => {
    const d = p.weight * (a[i]! - b[i]!);
    sum += d;
    spread += Math.abs(d);
  });
  const lead = score(preferences, a) - score(preferences, b);
  if (spread === 0) return { lead, flipsAt: 0 };
  const ratio = Math.abs(sum) / spread;
  return { lead, flipsAt: ratio >= 1 - 1e-12 ? Number.POSITIVE_INFINITY : ratio };
}
