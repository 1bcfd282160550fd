/**
 * All real roots of a polynomial in an interval, for low degrees.
 *
 * Between two neighbouring stationary points a polynomial is monotone: the roots of the derivative (by the same routine)
 * cut the interval, and a piece whose ends differ in sign holds one root, found by bisection to rounding. A double root
 * shows as a stationary point with value 0 and is given when its value is within rounding. Elementary; no source needed.
 */

/** p(t) = Σ c[k] t^k. */
export const polynomialAt = (c: readonly number[], t: number): number => {
  let sum = 0;
  for (let k = c.length - 1; k >= 0; k--) sum = sum * t + c[k]!;
  return sum;
};

/** Real roots of Σ c[k] t^k in [lo, hi], rising. Constants have none. */
export function rootsBetween(c: readonly number[], lo: number, hi: number): number[] {
  let degree = c.length - 1;
  while (degree > 0 && c[degree] === 0) degree--;
  if (degree < 1) return [];
  if (degree === 1) {
    const t = -c[0]! / c[1]!;
    return t >= lo && t <= hi ? [t] : [];
  }
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
