/**
 * Closest point of a line segment to an oriented box, exactly.
 *
 * In the box's frame the squared distance of the point p + t d is Σ max(|p_i + t d_i| − h_i, 0)²: convex, and its
 * derivative is piecewise linear with at most six corners, where a coordinate passes ±h_i. The derivative is monotone, so
 * the piece that holds its root is found by testing the corners, and the root on it is a division: no iteration.
 * Source: elementary; the distance of a point to a box as in C. Ericson, *Real-Time Collision Detection*, 2005, 5.1.4.
 */

/** Coordinates of the segment in the box's frame (p: 0..2, d: 3..5), half sizes (6..8). Leaf scratch, never re-entered. */
const w = new Float64Array(9);

function slope(t: number): number {
  let g = 0;
  for (let k = 0; k < 3; k++) {
    const x = w[k]! + t * w[k + 3]!;
    const h = w[k + 6]!;
    if (x > h) g += (x - h) * w[k + 3]!;
    else if (x < -h) g += (x + h) * w[k + 3]!;
  }
  return g;
}

/**
 * Squared distance between the segment at S[i..i+5] and the box at B[j..j+14]; `out[0]` gets the segment's parameter.
 * Returns 0 when they meet; the parameter is then a point inside.
 */
export function segmentBox(S: Float64Array, i: number, B: Float64Array, j: number, out: Float64Array): number {
  const px = S[i]! - B[j]!,
    py = S[i + 1]! - B[j + 1]!,
    pz = S[i + 2]! - B[j + 2]!;
  const dx = S[i + 3]! - S[i]!,
    dy = S[i + 4]! - S[i + 1]!,
    dz = S[i + 5]! - S[i + 2]!;
  for (let k = 0; k < 3; k++) {
    const o = j + 3 + 3 * k;
    const ax = B[o]!,
      ay = B[o + 1]!,
      az = B[o + 2]!;
    w[k] = px * ax + py * ay + pz * az;
    w[k + 3] = dx * ax + dy * ay + dz * az;
    w[k + 6] = B[j + 12 + k]!;
  }
  let t = 0;
  let g0 = slope(0);
  if (g0 < 0) {
    let g1 = slope(1);
    if (g1 <= 0) t = 1;
    else {
      // Shrink [lo, hi] to one linear piece of the derivative.
      let lo = 0,
        hi = 1;
      for (let k = 0; k < 3; k++) {
        const d = w[k + 3]!;
        if (d === 0) continue;
        for (let sign = -1; sign <= 1; sign += 2) {
          const c = (sign * w[k + 6]! - w[k]!) / d;
          if (c > lo && c < hi) {
            const g = slope(c);
            if (g < 0) {
              lo = c;
              g0 = g;
            } else {
              hi = c;
              g1 = g;
            }
          }
        }
      }
      t = g1 > g0 ? lo - (g0 * (hi - lo)) / (g1 - g0) : lo;
    }
  }
  out[0] = t;
  let d2 = 0;
  for (let k = 0; k < 3; k++) {
    const x = Math.abs(w[k]! + t * w[k + 3]!) - w[k + 6]!;
    if (x > 0) d2 += x * x;
  }
  return d2;
}

/** Writes the point of the box at B[j..] nearest to (x, y, z) to out[o..o+2]. */
export function nearestOnBox(
  B: Float64Array,
  j: number,
  x: number,
  y: number,
  z: number,
  out: Float64Array,
  o: number,
): void {
  const px = x - B[j]!,
    py = y - B[j + 1]!,
    pz = z - B[j + 2]!;
  let rx = B[j]!,
    ry = B[j + 1]!,
    rz = B[j + 2]!;
  for (let k = 0; k < 3; k++) {
    const a = j + 3 + 3 * k;
    const h = B[j + 12 + k]!;
    let c = px * B[a]! + py * B[a + 1]! + pz * B[a + 2]!;
    c = c > h ? h : c < -h ? -h : c;
    rx += c * B[a]!;
    ry += c * B[a + 1]!;
    rz += c * B[a + 2]!;
  }
  out[o] = rx;
  out[o + 1] = ry;
  out[o + 2] = rz;
}
