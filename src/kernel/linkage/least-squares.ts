/**
 * Small dense least squares on column-major typed arrays, for the constraint systems of a linkage.
 *
 * `dampedStep`: min |A x + r|² + λ|x|² by Householder QR of the stacked matrix [A; √λ E] (Golub & Van Loan, *Matrix
 * Computations*, 4th ed. 2013, §5.2–5.3), not by normal equations, which would lose half the digits near a singular posture.
 * `columnSpectrum`: singular values and right vectors by one-sided Jacobi rotations (Hestenes 1958; Golub & Van Loan
 * §8.6.3), accurate to rounding also for tiny singular values: ranks rest on it.
 * Not here: sparse or large systems; sizes are a few dozen at most.
 */

/** Length of the scratch that `dampedStep` needs for m rows and n columns. */
export const dampedScratch = (m: number, n: number): number => (m + n) * (n + 1) + n;

/**
 * Writes into `x` (n) the minimiser of |A x + r|² + λ|x|². A is m × n, column-major at offset 0, left untouched.
 * λ > 0 makes every system solvable.
 */
export function dampedStep(
  a: Float64Array,
  m: number,
  n: number,
  r: Float64Array,
  lambda: number,
  x: Float64Array,
  work: Float64Array,
): void {
  const rows = m + n;
  const root = Math.sqrt(lambda);
  work.fill(0, 0, rows * (n + 1));
  for (let c = 0; c < n; c++) {
    for (let i = 0; i < m; i++) work[c * rows + i] = a[c * m + i]!;
    work[c * rows + m + c] = root;
  }
  for (let i = 0; i < m; i++) work[n * rows + i] = -r[i]!;
  const diagonal = rows * (n + 1);
  for (let c = 0; c < n; c++) {
    // Below the data rows column c holds only its own √λ and fill from earlier columns: rows past m + c are still 0.
    const end = m + c + 1;
    const at = c * rows;
    let square = 0;
    for (let i = c; i < end; i++) square += work[at + i]! * work[at + i]!;
    const length = Math.sqrt(square);
    const head = work[at + c]!;
    const d = head > 0 ? -length : length;
    work[diagonal + c] = d;
    if (length === 0) continue;
    work[at + c] = head - d;
    const beta = 1 / (square - head * d);
    for (let k = c + 1; k <= n; k++) {
      const to = k * rows;
      let sum = 0;
      for (let i = c; i < end; i++) sum += work[at + i]! * work[to + i]!;
      sum *= beta;
      for (let i = c; i < end; i++) work[to + i]! -= sum * work[at + i]!;
    }
  }
  for (let c = n - 1; c >= 0; c--) {
    let sum = work[n * rows + c]!;
    for (let k = c + 1; k < n; k++) sum -= work[k * rows + c]! * x[k]!;
    x[c] = work[diagonal + c] === 0 ? 0 : sum / work[diagonal + c]!;
  }
}

export interface Spectrum {
  /** Singular values, one per column, largest first (columns beyond the row count are 0). */
  readonly values: Float64Array;
  /** Right singular vectors, column-major n × n, in the same order. */
  readonly vectors: Float64Array;
}

/** Singular values and right singular vectors of A (m × n, column-major, left untouched). */
export function columnSpectrum(a: Float64Array, m: number, n: number): Spectrum {
  const u = a.slice(0, m * n);
  const v = new Float64Array(n * n);
  for (let c = 0; c < n; c++) v[c * n + c] = 1;
  let whole = 0;
  for (let i = 0; i < m * n; i++) whole += u[i]! * u[i]!;
  // A column shorter than this is rounding left over from a longer one: it cannot be made orthogonal, and is zero.
  const nothing = 1e-30 * whole;
  for (let sweep = 0; sweep < 60; sweep++) {
    let turned = false;
    for (let p = 0; p < n - 1; p++)
      for (let q = p + 1; q < n; q++) {
        let alpha = 0;
        let beta = 0;
        let gamma = 0;
        for (let i = 0; i < m; i++) {
          const x = u[p * m + i]!;
          const y = u[q * m + i]!;
          alpha += x * x;
          beta += y * y;
          gamma += x * y;
        }
        if (!(Math.abs(gamma) > 1e-14 * Math.sqrt(alpha * beta)) || Math.min(alpha, beta) <= nothing) continue;
        turned = true;
        const zeta = (beta - alpha) / (2 * gamma);
        const t = (zeta < 0 ? -1 : 1) / (Math.abs(zeta) + Math.sqrt(1 + zeta * zeta));
        const c = 1 / Math.sqrt(1 + t * t);
        const s = c * t;
        turn(u, p * m, q * m, m, c, s);
        turn(v, p * n, q * n, n, c, s);
      }
    if (!turned) break;
  }
  const lengths = Array.from({ length: n }, (_, c) => {
    let sum = 0;
    for (let i = 0; i < m; i++) sum += u[c * m + i]! * u[c * m + i]!;
    return Math.sqrt(sum);
  });
  const order = lengths.map((_, c) => c).sort((p, q) => lengths[q]! - lengths[p]! || p - q);
  const values = Float64Array.from(order, (c) => lengths[c]!);
  const vectors = new Float64Array(n * n);
  order.forEach((c, k) => {
    vectors.set(v.subarray(c * n, c * n + n), k * n);
  });
  return { values, vectors };
}

function turn(a: Float64Array, p: number, q: number, count: number, c: number, s: number): void {
  for (let i = 0; i < count; i++) {
    const x = a[p + i]!;
    const y = a[q + i]!;
    a[p + i] = c * x - s * y;
    a[q + i] = s * x + c * y;
  }
}

/** Number of singular values above `relative` times the largest. */
export function rankOf(values: Float64Array, relative: number): number {
  const least = relative * (values[0] ?? 0);
  let rank = 0;
  for (const value of values) if (value > least && value > 0) rank++;
  return rank;
}
