/**
 * A share counted in a sample, with its confidence interval.
 *
 * Wilson's score interval: of the true shares p with |p̂ − p| ≤ z √(p(1−p)/n), so it stays within 0 and 1 and does not shrink to
 * nothing when everybody or nobody is counted. Source: E. B. Wilson 1927, J. Amer. Statist. Assoc. 22:209-212.
 */
export interface Share {
  readonly share: number;
  /** 95 %. */
  readonly low: number;
  readonly high: number;
}

/** 97.5th percentile of the normal distribution. */
const Z = 1.959963984540054;

/** @throws RangeError for a count outside 0 to n, or no sample. */
export function shareOf(count: number, n: number): Share {
  if (!(n > 0 && count >= 0 && count <= n)) throw new RangeError(`${count} of ${n} is no share`);
  const p = count / n;
  const z2 = Z * Z;
  const centre = (p + z2 / (2 * n)) / (1 + z2 / n);
  const half = (Z / (1 + z2 / n)) * Math.sqrt((p * (1 - p)) / n + z2 / (4 * n * n));
  // the ends are exact at 0 and 1; rounding must not step over them
  return { share: p, low: count === 0 ? 0 : centre - half, high: count === n ? 1 : centre + half };
}
