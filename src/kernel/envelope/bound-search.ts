/**
 * Least value of a function of one variable, with proof: branch and bound.
 *
 * The caller supplies a floor: a number that the function does not undercut anywhere on [a, b]. Intervals whose floor
 * lies above the best value seen are dropped; the one with the lowest floor is halved next. Ends when the best value
 * exceeds the lowest floor left by no more than `tolerance`, so value − bound is a proven error.
 * Source: Horst & Tuy, Global Optimization (3rd ed. 1996), ch. IV (the general scheme).
 *
 * Also: the floor and ceiling of the width of a convex shadow between two directions. A support point x found at one
 * direction gives h(θ) ≥ x·d(θ), a sinusoid, everywhere; and since h + h″ ≥ 0 for a convex shadow, h lies below the
 * sinusoid through its two end values. For a polygon the floor is exact once both ends share their corners, which makes
 * this the rotating-calipers search, and it holds for round shapes too.
 * Source: Schneider, Convex Bodies: The Brunn–Minkowski Theory (2nd ed. 2014), 1.7 and 2.5 (h + h″ = radius of curvature).
 */

export interface BoundedLeast {
  readonly converged: boolean;
  readonly iterations: number;
  /** value − bound. */
  readonly residual: number;
  readonly reason: 'proved' | 'iterations' | 'not finite';
  readonly at: number;
  readonly value: number;
  /** Proven: the function is nowhere less on the whole interval. */
  readonly bound: number;
}

export function leastProved(
  lo: number,
  hi: number,
  f: (x: number) => number,
  floor: (a: number, b: number) => number,
  tolerance: number,
  start = 8,
  limit = 4000,
): BoundedLeast {
  const open: { a: number; b: number; floor: number }[] = [];
  let at = lo;
  let value = f(lo);
  const look = (x: number): void => {
    const y = f(x);
    if (y < value) {
      value = y;
      at = x;
    }
  };
  for (let k = 0; k < start; k++) {
    const a = lo + ((hi - lo) * k) / start;
    const b = k + 1 === start ? hi : lo + ((hi - lo) * (k + 1)) / start;
    look(b);
    open.push({ a, b, floor: floor(a, b) });
  }
  let iterations = 0;
  for (; iterations < limit; iterations++) {
    let low = 0;
    for (let i = 1; i < open.length; i++) if (open[i]!.floor < open[low]!.floor) low = i;
    const next = open[low]!;
    if (!Number.isFinite(value) || Number.isNaN(next.floor))
      return { converged: false, iterations, residual: Number.NaN, reason: 'not finite', at, value, bound: -Infinity };
    if (value - next.floor <= tolerance) {
      const bound = Math.min(next.floor, value);
      return { converged: true, iterations, residual: value - bound, reason: 'proved', at, value, bound };
    }
    const mid = (next.a + next.b) / 2;
    look(mid);
    open[low] = { a: next.a, b: mid, floor: floor(next.a, mid) };
    open.push({ a: mid, b: next.b, floor: floor(mid, next.b) });
    // Drop what can no longer hold the least value; keeps the list short enough for a plain scan.
    for (let i = open.length - 1; i >= 0; i--)
      if (open.length > 1 && open[i]!.floor > value) {
        open[i] = open[open.length - 1]!;
        open.pop();
      }
  }
  const bound = open.reduce((least, i) => Math.min(least, i.floor), value);
  return { converged: false, iterations, residual: value - bound, reason: 'iterations', at, value, bound };
}

/** Least of p·cos θ + q·sin θ on [a, b], 0 ≤ b − a < 2π. */
export function sinusoidLeast(p: number, q: number, a: number, b: number): number {
  const amplitude = Math.sqrt(p * p + q * q);
  const ends = Math.min(p * Math.cos(a) + q * Math.sin(a), p * Math.cos(b) + q * Math.sin(b));
  if (amplitude === 0) return 0;
  const lowest = Math.atan2(-q, -p);
  const turn = 2 * Math.PI;
  const first = lowest + turn * Math.ceil((a - lowest) / turn);
  return first <= b ? -amplitude : ends;
}

/**
 * Floor of a width on [a, b] from the support chords at both ends: chord A = (pa, qa) gives w ≥ pa·cos θ + qa·sin θ, and
 * so does chord B; the least of the larger of the two.
 */
export function widthFloor(pa: number, qa: number, pb: number, qb: number, a: number, b: number): number {
  const p = pa - pb,
    q = qa - qb;
  if (p === 0 && q === 0) return sinusoidLeast(pa, qa, a, b);
  // The two are equal where p·cos θ + q·sin θ = 0: one direction modulo a half turn. A leads on the side of a.
  const zero = Math.atan2(-p, q);
  const cross = zero + Math.PI * Math.ceil((a - zero) / Math.PI);
  if (cross > b) return Math.max(sinusoidLeast(pa, qa, a, b), sinusoidLeast(pb, qb, a, b));
  return Math.min(sinusoidLeast(pa, qa, a, cross), sinusoidLeast(pb, qb, cross, b));
}

/** Ceiling of a width on [a, b], b − a < π, from its values at both ends: the sinusoid through them bounds it from above. */
export function widthCeiling(wa: number, wb: number, a: number, b: number): number {
  const s = Math.sin(b - a);
  if (!(s > 0)) return Math.max(wa, wb);
  const p = (wa * Math.sin(b) - wb * Math.sin(a)) / s;
  const q = (wb * Math.cos(a) - wa * Math.cos(b)) / s;
  return -sinusoidLeast(-p, -q, a, b);
}
