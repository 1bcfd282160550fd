/**
 * All real roots of a polynomial in an interval, for low degrees.
 *
 * Between two neighbouring stationary points a polynomial is monotone: the roots of the derivative (by the same routine)
 * cut the interval, and a piece whose ends differ in sign holds one root, found by bisection to rounding. A double root
 * shows as a stationary point with value 0 and is given when its value is within rounding. Elementary; no source needed.
 * First the coefficients in Bernstein's form over the interval are looked at: when all have one sign there is no root
 * (the polynomial lies within their hull; G. Farin, *Curves and Surfaces for CAGD*, 5th ed. 2002, ch. 6).
 */

/** p(t) = Σ c[k] t^k. */
export const polynomialAt = (c: readonly number[], t: number): number => {
  let sum = 0;
  for (let k = c.length - 1; k >= 0; k--) sum = sum * t + c[k]!;
  return sum;
};

/** True when the Bernstein coefficients over [lo, hi] have one sign: no root there. */
function oneSign(c: readonly number[], lo: number, hi: number): boolean {
  const n = c.length - 1;
  const p = [...c];
  // Taylor shift to lo (Horner's scheme), then scaling to [0, 1].
  for (let i = 0; i < n; i++) for (let k = n - 1; k >= i; k--) p[k] = p[k]! + lo * p[k + 1]!;
  for (let k = 1, w = hi - lo; k <= n; k++, w *= hi - lo) p[k] = p[k]! * w;
  let positive = false,
    negative = false;
  for (let j = 0; j <= n; j++) {
    let sum = 0,
      ratio = 1; // C(j, k) / C(n, k)
    for (let k = 0; k <= j; k++) {
      sum += ratio * p[k]!;
      ratio *= (j - k) / (n - k || 1);
    }
    if (!(sum > 0)) negative = true;
    if (!(sum < 0)) positive = true;
    if (positive && negative) return false;
  }
  return true;
}

/** Real roots of Σ c[k] t^k in [lo, hi], rising. Constants have none. */
export function rootsBetween(c: readonly number[], lo: number, hi: number): number[] {
  let degree = c.length - 1;
  while (degree > 0 && c[degree] === 0) degree--;
  if (degree < 1) return [];
  if (degree === 1) {
    const t = -c[0]! / c[1]!;
    return t >= lo && t <= hi ? [t] : [];
  }
  if (oneSign(c, lo, hi)) return [];
  const derivative = Array.from({ length: degree }, (_, k) => (k + 1) * c[k + 1]!);
  const cuts = [lo, ...rootsBetween(derivative, lo, hi), hi];
  const roots: number[] = [];
  const small = 64 * Number.EPSILON * c.reduce((m, x) => Math.max(m, Math.abs(x)), 0);
  for (let i = 0; i + 1 < cuts.length; i++) {
    let a = cuts[i]!,
      b = cuts[i + 1]!;
    const fa = polynomialAt(c, a),
      fb = polynomialAt(c, b);
    if (Math.abs(fa) <= small) roots.push(a);
    if (!(fa * fb < 0)) continue;
    for (let k = 0; k < 200; k++) {
      const m = 0.5 * (a + b);
      if (!(m > a && m < b)) break;
      if (polynomialAt(c, m) * fa > 0) a = m;
      else b = m;
    }
    roots.push(0.5 * (a + b));
  }
  if (Math.abs(polynomialAt(c, hi)) <= small) roots.push(hi);
  return roots;
}
