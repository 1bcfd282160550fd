/**
 * The normal distribution function, to about 1e-15 absolute.
 *
 * Φ(x) = ½ erfc(−x/√2). Near the middle by the series erf z = (2/√π) e^(−z²) Σ 2ⁿ z^(2n+1)/(2n+1)!! (DLMF 7.6.2), farther out
 * by the continued fraction of erfc (DLMF 7.9.2 in even form, evaluated backwards), which keeps the digits of small tails.
 * Not here: quantiles, other distributions.
 */
const SERIES_TO = 3;
const TERMS = 200;
/** Levels of the continued fraction that settle all digits from |z| = 3/√2 on. */
const LEVELS = 120;

/** Share of a standard normal distribution below `x`. NaN for NaN. */
export function normalShare(x: number): number {
  const z = Math.abs(x) / Math.SQRT2;
  if (Number.isNaN(x)) return Number.NaN;
  const bell = Math.exp(-z * z) / Math.sqrt(Math.PI);
  if (Math.abs(x) < SERIES_TO) {
    let term = z;
    let sum = z;
    for (let n = 1; n < TERMS && term > sum * 1e-17; n++) {
      term *= (2 * z * z) / (2 * n + 1);
      sum += term;
    }
    return x < 0 ? 0.5 - bell * sum : 0.5 + bell * sum;
  }
  let fraction = z;
  for (let n = LEVELS; n >= 1; n--) fraction = z + n / 2 / fraction;
  const tail = bell / fraction / 2;
  return x < 0 ? tail : 1 - tail;
}
