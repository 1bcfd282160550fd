/**
 * Powers with real exponents, for the empirical formulas of handbooks.
 *
 * x^a = exp(a ln x): `**` and Math.pow differ between engines in the last digit. Error about |a ln x| ulp, 1e-14 of the
 * value for any formula here. Source: theory.
 */

/** x^a for x ≥ 0; 0^a is 0 for a > 0; NaN for negative x. */
export const power = (x: number, a: number): number => (a === 0 ? 1 : Math.exp(a * Math.log(x)));
