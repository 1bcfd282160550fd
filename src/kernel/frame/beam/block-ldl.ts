/**
 * LDLᵀ of a symmetric matrix in 6 × 6 node blocks, in the order and with the fill of a `BlockPattern`.
 *
 * Method: right-looking, one node at a time; inside a node one scalar pivot at a time, so that a pivot belongs to one
 * direction of one node. A held freedom is a pivot that is skipped: its column of L and its 1/d are 0, which deletes row and
 * column from what is left. Nothing is permuted for size: stiffness matrices are positive definite once they are held.
 * Source: George & Liu 1981, ch. 2 and 5; Golub & Van Loan, Matrix Computations, 4th ed., 4.1.2; theory.
 * Not here: pivoting for indefinite matrices (an inertia count tolerates a shift that is moved when a pivot is too small).
 */
import type { BlockPattern } from './ordering.ts';

/** Called for a pivot that is not greater than its limit; returning false stops the factorisation. */
export type PivotCheck = (place: number, component: number, pivot: number) => boolean;

export interface BlockFactor {
  readonly pattern: BlockPattern;
  /** Panels: the assembled matrix before, L after (unit diagonal not stored; upper triangles of diagonal blocks unused). */
  readonly values: Float64Array;
  /** 1/d by place and component, 0 where held. */
  readonly inverse: Float64Array;
  readonly scratch: Float64Array;
}

export function blockFactor(pattern: BlockPattern): BlockFactor {
  let widest = 0;
  for (let p = 0; p < pattern.nodes; p++) widest = Math.max(widest, pattern.rowStart[p + 1]! - pattern.rowStart[p]!);
  return {
    pattern,
    values: new Float64Array(pattern.size),
    inverse: new Float64Array(6 * pattern.nodes),
    scratch: new Float64Array(36 * Math.max(1, widest)),
  };
}

/**
 * Eliminates the places from…to − 1 in place.
 * @param held 1 by place and component for held freedoms. @param limit by place and component: a pivot d with !(d > limit) is
 * reported to `small`; without `small` it is used as it is (indefinite matrices).
 * @returns number of negative pivots, or −1 when `small` stopped it.
 */
export function factorise(
  f: BlockFactor,
  from: number,
  to: number,
  held: Uint8Array,
  limit: Float64Array | undefined,
  small: PivotCheck | undefined,
): number {
  const { values: v, inverse, scratch: W, pattern } = f;
  const { start, rowStart, targetStart, targets } = pattern;
  let negative = 0;
  for (let p = from; p < to; p++) {
    const o = start[p]!;
    for (let j = 0; j < 6; j++) {
      const col = o + j;
      const row = o + 6 * j;
      if (held[6 * p + j]) {
        inverse[6 * p + j] = 0;
        for (let i = j + 1; i < 6; i++) v[col + 6 * i] = 0;
        continue;
      }
      // Entries of this column already have the earlier columns taken off (right-looking within the block).
      const d = v[row + j]!;
      if (small && !(d > limit![6 * p + j]!) && !small(p, j, d)) return -1;
      if (d < 0) negative++;
      const inv = 1 / d;
      inverse[6 * p + j] = inv;
      for (let k = j + 1; k < 6; k++) {
        const l = v[col + 6 * k]! * inv;
        for (let i = k; i < 6; i++) v[o + 6 * i + k]! -= v[col + 6 * i]! * l;
      }
      for (let i = j + 1; i < 6; i++) v[col + 6 * i]! *= inv;
    }
    const m = rowStart[p + 1]! - rowStart[p]!;
    if (m === 0) continue;
    const l10 = v[o + 6]!;
    const l20 = v[o + 12]!,
      l21 = v[o + 13]!;
    const l30 = v[o + 18]!,
      l31 = v[o + 19]!,
      l32 = v[o + 20]!;
    const l40 = v[o + 24]!,
      l41 = v[o + 25]!,
      l42 = v[o + 26]!,
      l43 = v[o + 27]!;
    const l50 = v[o + 30]!,
      l51 = v[o + 31]!,
      l52 = v[o + 32]!,
      l53 = v[o + 33]!,
      l54 = v[o + 34]!;
    const i0 = inverse[6 * p]!,
      i1 = inverse[6 * p + 1]!,
      i2 = inverse[6 * p + 2]!,
      i3 = inverse[6 * p + 3]!,
      i4 = inverse[6 * p + 4]!,
      i5 = inverse[6 * p + 5]!;
    const first = o + 36;
    const end = first + 36 * m;
    for (let at = first, w = 0; at < end; at += 6, w += 6) {
      const w0 = v[at]!;
      const w1 = v[at + 1]! - w0 * l10;
      const w2 = v[at + 2]! - w0 * l20 - w1 * l21;
      const w3 = v[at + 3]! - w0 * l30 - w1 * l31 - w2 * l32;
      const w4 = v[at + 4]! - w0 * l40 - w1 * l41 - w2 * l42 - w3 * l43;
      const w5 = v[at + 5]! - w0 * l50 - w1 * l51 - w2 * l52 - w3 * l53 - w4 * l54;
      W[w] = w0;
      W[w + 1] = w1;
      W[w + 2] = w2;
      W[w + 3] = w3;
      W[w + 4] = w4;
      W[w + 5] = w5;
      v[at] = w0 * i0;
      v[at + 1] = w1 * i1;
      v[at + 2] = w2 * i2;
      v[at + 3] = w3 * i3;
      v[at + 4] = w4 * i4;
      v[at + 5] = w5 * i5;
    }
    let next = targetStart[p]!;
    for (let b = 0; b < m; b++) {
      const lb = first + 36 * b;
      for (let a = b; a < m; a++) {
        const target = targets[next++]!;
        const wa = 36 * a;
        for (let j = 0; j < 6; j++) {
          const l = lb + 6 * j;
          const k0 = v[l]!,
            k1 = v[l + 1]!,
            k2 = v[l + 2]!,
            k3 = v[l + 3]!,
            k4 = v[l + 4]!,
            k5 = v[l + 5]!;
          for (let i = a === b ? j : 0; i < 6; i++) {
            const w = wa + 6 * i;
            v[target + 6 * i + j]! -=
              W[w]! * k0 + W[w + 1]! * k1 + W[w + 2]! * k2 + W[w + 3]! * k3 + W[w + 4]! * k4 + W[w + 5]! * k5;
          }
        }
      }
    }
  }
  return negative;
}

/** L z = x in place, from the place `from` on (x is zero before it). */
export function forward(f: BlockFactor, x: Float64Array, from = 0): void {
  const { values: v, pattern } = f;
  const { start, rowStart, rows, nodes } = pattern;
  for (let p = from; p < nodes; p++) {
    const o = start[p]!;
    const q = 6 * p;
    const x0 = x[q]!;
    const x1 = x[q + 1]! - v[o + 6]! * x0;
    const x2 = x[q + 2]! - v[o + 12]! * x0 - v[o + 13]! * x1;
    const x3 = x[q + 3]! - v[o + 18]! * x0 - v[o + 19]! * x1 - v[o + 20]! * x2;
    const x4 = x[q + 4]! - v[o + 24]! * x0 - v[o + 25]! * x1 - v[o + 26]! * x2 - v[o + 27]! * x3;
    const x5 = x[q + 5]! - v[o + 30]! * x0 - v[o + 31]! * x1 - v[o + 32]! * x2 - v[o + 33]! * x3 - v[o + 34]! * x4;
    x[q + 1] = x1;
    x[q + 2] = x2;
    x[q + 3] = x3;
    x[q + 4] = x4;
    x[q + 5] = x5;
    let at = o + 36;
    for (let i = rowStart[p]!; i < rowStart[p + 1]!; i++) {
      const r = 6 * rows[i]!;
      for (let k = r; k < r + 6; k++, at += 6)
        x[k]! -= v[at]! * x0 + v[at + 1]! * x1 + v[at + 2]! * x2 + v[at + 3]! * x3 + v[at + 4]! * x4 + v[at + 5]! * x5;
    }
  }
}

/** D Lᵀ x = z in place: all places, or those before `to` when the later ones already hold the answer. */
export function backward(f: BlockFactor, x: Float64Array, to = f.pattern.nodes): void {
  const { values: v, inverse, pattern } = f;
  const { start, rowStart, rows } = pattern;
  for (let p = to - 1; p >= 0; p--) {
    const o = start[p]!;
    const q = 6 * p;
    let t0 = x[q]! * inverse[q]!,
      t1 = x[q + 1]! * inverse[q + 1]!,
      t2 = x[q + 2]! * inverse[q + 2]!,
      t3 = x[q + 3]! * inverse[q + 3]!,
      t4 = x[q + 4]! * inverse[q + 4]!,
      t5 = x[q + 5]! * inverse[q + 5]!;
    let at = o + 36;
    for (let i = rowStart[p]!; i < rowStart[p + 1]!; i++) {
      const r = 6 * rows[i]!;
      for (let k = r; k < r + 6; k++, at += 6) {
        const xk = x[k]!;
        t0 -= v[at]! * xk;
        t1 -= v[at + 1]! * xk;
        t2 -= v[at + 2]! * xk;
        t3 -= v[at + 3]! * xk;
        t4 -= v[at + 4]! * xk;
        t5 -= v[at + 5]! * xk;
      }
    }
    t4 -= v[o + 34]! * t5;
    t3 -= v[o + 33]! * t5 + v[o + 27]! * t4;
    t2 -= v[o + 32]! * t5 + v[o + 26]! * t4 + v[o + 20]! * t3;
    t1 -= v[o + 31]! * t5 + v[o + 25]! * t4 + v[o + 19]! * t3 + v[o + 13]! * t2;
    t0 -= v[o + 30]! * t5 + v[o + 24]! * t4 + v[o + 18]! * t3 + v[o + 12]! * t2 + v[o + 6]! * t1;
    x[q] = t0;
    x[q + 1] = t1;
    x[q + 2] = t2;
    x[q + 3] = t3;
    x[q + 4] = t4;
    x[q + 5] = t5;
  }
}
