/**
 * Eigenvalues against speed, and the speeds at which stability changes.
 *
 * det(s² M + s v C1 + g K0 + v² K2) = a4 s⁴ + a3 s³ + a2 s² + a1 s + a0, whose coefficients are polynomials in v. A pair
 * ±iω solves it where a3 a2 a1 − a4 a1² − a3² a0 = 0 with ω² = a1/a3 > 0 (Routh 1877), a zero root where a0 = 0. Divided
 * by v², the first is a quadratic in v² and so is the second: the critical speeds are closed forms, found without
 * sampling, and the direction of each crossing follows from ds/dv = −(∂p/∂v)/(∂p/∂s) at the root.
 *
 * Source: Meijaard et al. 2007 (see whipple.ts), section 6; names weave, capsize and castering as there.
 * Not here: which of several modes deserves the name weave away from the crossing (that is a reading, not a number).
 */
import { type QuarticEnd, quarticRoots } from './quartic.ts';
import type { WhippleSystem } from './whipple.ts';

/** a4; a3 = v a31; a2 = a20 + v² a22; a1 = v (a11 + v² a13); a0 = a00 + v² a02 + v⁴ a04. */
export interface Characteristic {
  readonly a4: number;
  readonly a31: number;
  readonly a20: number;
  readonly a22: number;
  readonly a11: number;
  readonly a13: number;
  readonly a00: number;
  readonly a02: number;
  readonly a04: number;
}

export function characteristic(system: WhippleSystem): Characteristic {
  const { M, C1, K0, K2, g } = system;
  /** Mixed determinant: d/dε det(X + εY) for X ≠ Y. */
  const mixed = (x: readonly number[], y: readonly number[]): number =>
    x[0]! * y[3]! + y[0]! * x[3]! - x[1]! * y[2]! - y[1]! * x[2]!;
  const det = (x: readonly number[]): number => x[0]! * x[3]! - x[1]! * x[2]!;
  return {
    a4: det(M),
    a31: mixed(M, C1),
    a20: g * mixed(M, K0),
    a22: mixed(M, K2) + det(C1),
    a11: g * mixed(C1, K0),
    a13: mixed(C1, K2),
    a00: g * g * det(K0),
    a02: g * mixed(K0, K2),
    a04: det(K2),
  };
}

/**
 * The four eigenvalues at a speed (m/s), 1/s, into `out` from `o`: re, im four times, by real part, largest first,
 * conjugates +im first.
 */
export function eigenvalues(p: Characteristic, speed: number, out: Float64Array, o = 0): QuarticEnd {
  const w = speed * speed;
  return quarticRoots(
    p.a4,
    speed * p.a31,
    p.a20 + w * p.a22,
    speed * (p.a11 + w * p.a13),
    p.a00 + w * (p.a02 + w * p.a04),
    out,
    o,
  );
}

/** Positive roots of c2 w² + c1 w + c0, ascending, double roots once. */
function positiveRoots(c2: number, c1: number, c0: number): number[] {
  if (c2 === 0) {
    const w = -c0 / c1;
    return w > 0 && w < Infinity ? [w] : [];
  }
  const d = c1 * c1 - 4 * c2 * c0;
  if (!(d >= 0)) return [];
  const q = -(c1 + (c1 < 0 ? -1 : 1) * Math.sqrt(d)) / 2;
  const roots = [q / c2, q === 0 ? 0 : c0 / q].filter((w) => w > 0 && w < Infinity).sort((a, b) => a - b);
  return roots[0] === roots[1] ? roots.slice(0, 1) : roots;
}

export interface Crossing {
  readonly speed: number;
  /** +1: becomes unstable as speed rises; −1: becomes stable. */
  readonly direction: 1 | -1;
  /** Angular frequency of the pair there, rad/s; 0 for a real eigenvalue. */
  readonly frequency: number;
}

/** Every speed above 0 at which a complex pair crosses the imaginary axis, ascending. Touching without crossing is left out. */
export function weaveCrossings(p: Characteristic): Crossing[] {
  const { a4, a31, a20, a22, a11, a13, a00, a02, a04 } = p;
  const w0 = a31 * a20 * a11 - a4 * a11 * a11 - a31 * a31 * a00;
  const w1 = a31 * (a20 * a13 + a22 * a11) - 2 * a4 * a11 * a13 - a31 * a31 * a02;
  const w2 = a31 * a22 * a13 - a4 * a13 * a13 - a31 * a31 * a04;
  const out: Crossing[] = [];
  for (const w of positiveRoots(w2, w1, w0)) {
    const omega2 = (a11 + w * a13) / a31;
    if (!(omega2 > 0)) continue;
    const v = Math.sqrt(w);
    const omega = Math.sqrt(omega2);
    // At s = iω: ∂p/∂v = a31 s³ + 2v a22 s² + (a11 + 3w a13) s + 2v a02 + 4v³ a04, ∂p/∂s = 4a4 s³ + 3a3 s² + 2a2 s + a1.
    const vRe = -2 * v * a22 * omega2 + 2 * v * (a02 + 2 * w * a04);
    const vIm = omega * (a11 + 3 * w * a13 - a31 * omega2);
    const sRe = -3 * v * a31 * omega2 + v * (a11 + w * a13);
    const sIm = omega * (2 * (a20 + w * a22) - 4 * a4 * omega2);
    const rate = -(vRe * sRe + vIm * sIm);
    if (rate !== 0) out.push({ speed: v, direction: rate > 0 ? 1 : -1, frequency: omega });
  }
  return out;
}

/** Every speed above 0 at which a real eigenvalue passes through 0, ascending. */
export function capsizeCrossings(p: Characteristic): Crossing[] {
  const out: Crossing[] = [];
  for (const w of positiveRoots(p.a04, p.a02, p.a00)) {
    const v = Math.sqrt(w);
    const rate = -(2 * v * (p.a02 + 2 * w * p.a04)) / (v * (p.a11 + w * p.a13));
    if (rate !== 0 && Number.isFinite(rate)) out.push({ speed: v, direction: rate > 0 ? 1 : -1, frequency: 0 });
  }
  return out;
}

/** Lowest speed (m/s) at which an unstable complex pair turns stable; null when there is none. */
export const weaveSpeed = (p: Characteristic): number | null =>
  weaveCrossings(p).find((c) => c.direction === -1)?.speed ?? null;

/** Lowest speed (m/s) at which a stable real eigenvalue turns unstable; null when there is none. */
export const capsizeSpeed = (p: Characteristic): number | null =>
  capsizeCrossings(p).find((c) => c.direction === 1)?.speed ?? null;

export interface Merge {
  /** Speed, m/s, and the double eigenvalue there, 1/s. NaN when not converged. */
  readonly speed: number;
  readonly eigenvalue: number;
  readonly converged: boolean;
  readonly iterations: number;
  readonly residual: number;
  readonly reason: string;
}

/**
 * Where the two unstable real eigenvalues of standstill become the weave pair: bisection on "the two largest are real"
 * between 0 and `upTo`, then Newton on p = ∂p/∂s = 0 in (s, v), which does not suffer from the double root.
 */
export function mergeSpeed(p: Characteristic, upTo: number): Merge {
  const roots = new Float64Array(8);
  const none = (reason: string): Merge => ({
    speed: NaN,
    eigenvalue: NaN,
    converged: false,
    iterations: 0,
    residual: NaN,
    reason,
  });
  const real = (v: number): boolean => {
    eigenvalues(p, v, roots);
    return roots[1] === 0 && roots[3] === 0;
  };
  if (!real(0) || real(upTo)) return none('no change from two real eigenvalues to a pair in this range');
  let low = 0;
  let high = upTo;
  let iterations = 0;
  for (; iterations < 30; iterations++) {
    const v = (low + high) / 2;
    if (real(v)) low = v;
    else high = v;
  }
  let v = high;
  real(v);
  let s = roots[0]!;
  for (let k = 0; k < 20; k++, iterations++) {
    const w = v * v;
    const a3 = v * p.a31;
    const a2 = p.a20 + w * p.a22;
    const a1 = v * (p.a11 + w * p.a13);
    const a0 = p.a00 + w * (p.a02 + w * p.a04);
    const f = (((p.a4 * s + a3) * s + a2) * s + a1) * s + a0;
    const fs = ((4 * p.a4 * s + 3 * a3) * s + 2 * a2) * s + a1;
    const fss = (12 * p.a4 * s + 6 * a3) * s + 2 * a2;
    const d3 = p.a31;
    const d2 = 2 * v * p.a22;
    const d1 = p.a11 + 3 * w * p.a13;
    const fv = ((d3 * s + d2) * s + d1) * s + 2 * v * (p.a02 + 2 * w * p.a04);
    const fsv = (3 * d3 * s + 2 * d2) * s + d1;
    const det = fs * fsv - fv * fss;
    if (det === 0) break;
    const ds = (-f * fsv + fs * fv) / det;
    const dv = (-fs * fs + f * fss) / det;
    s += ds;
    v += dv;
    const residual = Math.max(Math.abs(ds / s), Math.abs(dv / v));
    if (residual < 1e-14)
      return { speed: v, eigenvalue: s, converged: true, iterations, residual, reason: 'step below 1e-14' };
  }
  return { ...none('Newton did not settle'), iterations };
}
