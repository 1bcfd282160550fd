/**
 * Discrete-time linear-quadratic regulator with one input.
 *
 * Minimises Σ xᵀQx + R u² for x⁺ = A x + B u. The Riccati equation is solved by the structure-preserving doubling
 * algorithm (Chu, Fan, Lin & Wang 2004, Int. J. Control 77:767–788):
 *   W = I + G H,  A⁺ = A W⁻¹ A,  G⁺ = G + A W⁻¹ G Aᵀ,  H⁺ = H + Aᵀ H W⁻¹ A,  H → X,
 * from G = B R⁻¹ Bᵀ, H = Q. A converges to 0 as the 2^k-th power of the closed loop, quadratically, exactly when the
 * closed loop is stable: the vanishing of A is the certificate of stabilisation that is reported.
 * Not here: several inputs, cross terms.
 */
import { type Dense, largest, multiply, solveInto, zeros } from './dense.ts';

export interface Regulator {
  /** u = −K x; n numbers. NaN when not converged. */
  readonly K: Float64Array;
  /** Answer of u to the costate of the next step (for tracking): (R + BᵀXB)⁻¹ Bᵀ; n numbers. */
  readonly toCostate: Float64Array;
  readonly converged: boolean;
  readonly iterations: number;
  /** Largest entry of the 2^k-th power of the closed loop at the end. */
  readonly residual: number;
  readonly reason: string;
}

const MOST = 40;
const VANISHED = 1e-12;
/** Pivot over largest entry below which W counts as singular. */
const SINGULAR = 1e-14;

/** @param A n × n row-major, @param B n, @param Q n × n symmetric and not negative, @param R above 0. None is changed. */
export function regulator(n: number, A: Dense, B: Float64Array, Q: Dense, R: number): Regulator {
  let a: Dense = A.slice();
  const h: Dense = Q.slice();
  const g = zeros(n);
  for (let i = 0; i < n; i++) for (let j = 0; j < n; j++) g[i * n + j] = (B[i]! * B[j]!) / R;
  const w = zeros(n);
  const both = new Float64Array(2 * n * n);
  const w1 = zeros(n);
  const w2 = zeros(n);
  let t1: Dense = zeros(n);
  const t2 = zeros(n);
  let iterations = 0;
  let residual = largest(a);
  let reason = 'the closed loop does not die out';
  while (iterations < MOST && residual > VANISHED && residual < Infinity) {
    multiply(n, g, h, w);
    for (let i = 0; i < n; i++) {
      w[i * n + i]! += 1;
      for (let j = 0; j < n; j++) {
        both[i * 2 * n + j] = a[i * n + j]!;
        both[i * 2 * n + n + j] = g[i * n + j]!;
      }
    }
    if (!(solveInto(n, w, both, 2 * n) > SINGULAR)) {
      reason = 'singular step';
      residual = NaN;
      break;
    }
    for (let i = 0; i < n; i++)
      for (let j = 0; j < n; j++) {
        w1[i * n + j] = both[i * 2 * n + j]!;
        w2[i * n + j] = both[i * 2 * n + n + j]!;
      }
    multiply(n, h, w1, t1);
    multiply(n, a, t1, t2, 'left');
    for (let i = 0; i < n * n; i++) h[i]! += t2[i]!;
    multiply(n, a, w2, t1);
    multiply(n, t1, a, t2, 'right');
    for (let i = 0; i < n * n; i++) g[i]! += t2[i]!;
    multiply(n, a, w1, t1);
    [a, t1] = [t1, a];
    residual = largest(a);
    iterations++;
  }
  const converged = residual <= VANISHED;
  const K = new Float64Array(n).fill(NaN);
  const toCostate = new Float64Array(n).fill(NaN);
  if (converged) {
    reason = 'the closed loop dies out';
    // BᵀX, then R + BᵀXB, then K = (BᵀX A)/(R + BᵀXB).
    const bx = new Float64Array(n);
    for (let j = 0; j < n; j++) for (let i = 0; i < n; i++) bx[j]! += B[i]! * h[i * n + j]!;
    let d = R;
    for (let j = 0; j < n; j++) d += bx[j]! * B[j]!;
    for (let j = 0; j < n; j++) {
      let sum = 0;
      for (let i = 0; i < n; i++) sum += bx[i]! * A[i * n + j]!;
      K[j] = sum / d;
      toCostate[j] = B[j]! / d;
    }
  }
  return { K, toCostate, converged, iterations, residual, reason };
}
