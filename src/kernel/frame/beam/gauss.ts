/**
 * Gauss–Legendre rule on 0…1, eight points: exact to degree 15.
 *
 * Points and weights are computed once by Newton's method on the Legendre recurrence, not copied from a table.
 * Source: Abramowitz & Stegun 1964, Handbook of Mathematical Functions, 25.4.29–30 (weights 2/((1−x²)P'²)), theory.
 */
export const GAUSS_POINTS = 8;

function rule(n: number): { readonly t: Float64Array; readonly w: Float64Array } {
  const t = new Float64Array(n);
  const w = new Float64Array(n);
  for (let i = 0; i < n; i++) {
    let x = Math.cos((Math.PI * (i + 0.75)) / (n + 0.5));
    let slope = 0;
    for (let step = 0; step < 20; step++) {
      let p = 1;
      let before = 0;
      for (let k = 1; k <= n; k++) {
        const next = ((2 * k - 1) * x * p - (k - 1) * before) / k;
        before = p;
        p = next;
      }
      slope = (n * (before - x * p)) / (1 - x * x);
      const move = p / slope;
      x -= move;
      if (Math.abs(move) < 1e-16) break;
    }
    t[i] = (1 - x) / 2;
    w[i] = 1 / ((1 - x * x) * slope * slope);
  }
  return { t, w };
}

/** Places 0…1 and weights that sum to 1. */
export const GAUSS = rule(GAUSS_POINTS);
