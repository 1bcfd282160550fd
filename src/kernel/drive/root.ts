/**
 * The root of a function that grows: a bracket halved until it is as narrow as doubles allow.
 *
 * About 50 halvings, whatever the function: nothing here is hot enough to need more than that, and nothing can go wrong.
 * Source: theory.
 */
export interface Root {
  readonly x: number;
  readonly converged: boolean;
  readonly iterations: number;
  /** |f(x)|. */
  readonly residual: number;
  readonly reason: 'root' | 'not in the bracket' | 'iterations';
}

const NARROW = 4 * Number.EPSILON;
const MOST = 200;

/** f(low) ≤ 0 ≤ f(high), f grows between them. Outside that the nearer end is returned, not converged. */
export function increasingRoot(f: (x: number) => number, low: number, high: number): Root {
  const end = (x: number): Root => ({
    x,
    converged: false,
    iterations: 0,
    residual: Math.abs(f(x)),
    reason: 'not in the bracket',
  });
  if (!(f(low) <= 0)) return end(low);
  if (!(f(high) >= 0)) return end(high);
  let [a, b] = [low, high];
  for (let i = 1; i <= MOST; i++) {
    const x = (a + b) / 2;
    if (f(x) > 0) b = x;
    else a = x;
    if (b - a <= NARROW * Math.abs(b))
      return { x: a, converged: true, iterations: i, residual: Math.abs(f(a)), reason: 'root' };
  }
  return { x: a, converged: false, iterations: MOST, residual: Math.abs(f(a)), reason: 'iterations' };
}
