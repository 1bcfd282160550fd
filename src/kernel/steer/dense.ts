/**
 * The few operations on small square matrices that the rider model needs, on caller-owned row-major Float64Arrays of
 * n × n. The general library is an order of magnitude slower at n = 8, and these run inside the interactive tier.
 * Not here: anything for n above about 20; see ml-matrix.
 */
export type Dense = Float64Array;

export const zeros = (n: number): Dense => new Float64Array(n * n);

export function identity(n: number): Dense {
  const out = zeros(n);
  for (let i = 0; i < n; i++) out[i * n + i] = 1;
  return out;
}

/** out = a b, or a bᵀ, or aᵀ b; `out` may not be `a` or `b`. */
export function multiply(
  n: number,
  a: Dense,
  b: Dense,
  out: Dense,
  transposed: 'none' | 'left' | 'right' = 'none',
): Dense {
  const ai = transposed === 'left' ? 1 : n;
  const ak = transposed === 'left' ? n : 1;
  const bk = transposed === 'right' ? 1 : n;
  const bj = transposed === 'right' ? n : 1;
  for (let i = 0; i < n; i++)
    for (let j = 0; j < n; j++) {
      let sum = 0;
      for (let k = 0; k < n; k++) sum += a[i * ai + k * ak]! * b[k * bk + j * bj]!;
      out[i * n + j] = sum;
    }
  return out;
}

/** Largest absolute entry. NaN if any is. */
export function largest(a: Float64Array): number {
  let most = 0;
  for (const x of a) {
    const size = Math.abs(x);
    if (!(size <= most)) most = size;
  }
  return most;
}

/**
 * Solves a X = b by Gauss elimination with row exchange; both are overwritten, `b` (n × m, row-major) with X.
 * Returns the smallest pivot over the largest entry of `a`: near 0 means singular and X worthless.
 */
export function solveInto(n: number, a: Dense, b: Float64Array, m: number): number {
  const size = largest(a);
  let least = Infinity;
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(a[i * n + k]!) > Math.abs(a[pivot * n + k]!)) pivot = i;
    if (pivot !== k) {
      for (let j = 0; j < n; j++) {
        const t = a[k * n + j]!;
        a[k * n + j] = a[pivot * n + j]!;
        a[pivot * n + j] = t;
      }
      for (let j = 0; j < m; j++) {
        const t = b[k * m + j]!;
        b[k * m + j] = b[pivot * m + j]!;
        b[pivot * m + j] = t;
      }
    }
    const d = a[k * n + k]!;
    least = Math.min(least, Math.abs(d) / size);
    for (let i = k + 1; i < n; i++) {
      const f = a[i * n + k]! / d;
      if (f === 0) continue;
      for (let j = k + 1; j < n; j++) a[i * n + j]! -= f * a[k * n + j]!;
      for (let j = 0; j < m; j++) b[i * m + j]! -= f * b[k * m + j]!;
    }
  }
  for (let i = n - 1; i >= 0; i--)
    for (let j = 0; j < m; j++) {
      let sum = b[i * m + j]!;
      for (let k = i + 1; k < n; k++) sum -= a[i * n + k]! * b[k * m + j]!;
      b[i * m + j] = sum / a[i * n + i]!;
    }
  return least;
}

/**
 * exp(a) by Taylor series after halving to norm below 1/2 and squaring back (Moler & Van Loan 2003, SIAM Review
 * 45:3–49, method 3); 14 terms leave less than 1e-16 of the halved matrix.
 */
export function exponential(n: number, a: Dense): Dense {
  let norm = 0;
  for (let i = 0; i < n; i++) {
    let row = 0;
    for (let j = 0; j < n; j++) row += Math.abs(a[i * n + j]!);
    norm = Math.max(norm, row);
  }
  let halvings = 0;
  let factor = 1;
  while (norm * factor > 0.5) {
    factor /= 2;
    halvings++;
  }
  const small = a.map((x) => x * factor);
  let sum = identity(n);
  let term = identity(n);
  let next = zeros(n);
  for (let k = 1; k <= 14; k++) {
    multiply(n, term, small, next);
    for (let i = 0; i < n * n; i++) {
      next[i]! /= k;
      sum[i]! += next[i]!;
    }
    [term, next] = [next, term];
  }
  for (let k = 0; k < halvings; k++) {
    multiply(n, sum, sum, next);
    [sum, next] = [next, sum];
  }
  return sum;
}
