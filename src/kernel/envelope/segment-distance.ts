/**
 * Closest points of two line segments, and of a point and a segment.
 *
 * Method: closed form with clamping (C. Ericson, *Real-Time Collision Detection*, Morgan Kaufmann 2005, 5.1.9). Where the
 * segments are nearly parallel the determinant a·e − b² loses its digits (D. Eberly, *Robust Computation of Distance
 * Between Line Segments*, Geometric Tools, lists hard cases); then the four end-point-to-segment distances are tried as
 * well and the least is taken: for exactly parallel segments one of them is always a solution.
 * Degenerate segments (points) are allowed.
 * Not here: lines and rays; exact rational arithmetic.
 */

/** Below this ratio det/(a·e) = sin² of the angle between the segments the end points are tried too (0.06°). */
const NEARLY_PARALLEL = 1e-6;
/** Squared length under which a segment is a point (1e-12 m)². */
const POINT = 1e-24;

const clamp01 = (t: number): number => (t < 0 ? 0 : t > 1 ? 1 : t);

/**
 * Squared distance between segment A (6 numbers at `i`: p, q) and segment B (at `j`); `out` gets the parameters on A and
 * B (0 at p, 1 at q).
 */
export function segmentSegment(A: Float64Array, i: number, B: Float64Array, j: number, out: Float64Array): number {
  const ax = A[i]!,
    ay = A[i + 1]!,
    az = A[i + 2]!,
    bx = B[j]!,
    by = B[j + 1]!,
    bz = B[j + 2]!;
  const ux = A[i + 3]! - ax,
    uy = A[i + 4]! - ay,
    uz = A[i + 5]! - az,
    vx = B[j + 3]! - bx,
    vy = B[j + 4]! - by,
    vz = B[j + 5]! - bz,
    rx = ax - bx,
    ry = ay - by,
    rz = az - bz;
  const a = ux * ux + uy * uy + uz * uz,
    e = vx * vx + vy * vy + vz * vz,
    f = vx * rx + vy * ry + vz * rz;
  let s = 0,
    t = 0;
  if (a <= POINT) {
    if (e > POINT) t = clamp01(f / e);
  } else {
    const c = ux * rx + uy * ry + uz * rz;
    if (e <= POINT) s = clamp01(-c / a);
    else {
      const b = ux * vx + uy * vy + uz * vz;
      const det = a * e - b * b;
      if (det > 0) s = clamp01((b * f - c * e) / det);
      t = (b * s + f) / e;
      if (t < 0) {
        t = 0;
        s = clamp01(-c / a);
      } else if (t > 1) {
        t = 1;
        s = clamp01((b - c) / a);
      }
      if (det < NEARLY_PARALLEL * a * e) {
        // The four ends against the other segment; squared distances from the same differences r + s u − t v.
        let best = square(rx, ry, rz, ux, uy, uz, vx, vy, vz, s, t);
        let bs = s,
          bt = t;
        for (let k = 0; k < 4; k++) {
          const ks = k < 2 ? k : k === 2 ? clamp01(-c / a) : clamp01((b - c) / a);
          const kt = k < 2 ? clamp01((b * k + f) / e) : k - 2;
          const d = square(rx, ry, rz, ux, uy, uz, vx, vy, vz, ks, kt);
          if (d < best) {
            best = d;
            bs = ks;
            bt = kt;
          }
        }
        out[0] = bs;
        out[1] = bt;
        return best;
      }
    }
  }
  out[0] = s;
  out[1] = t;
  return square(rx, ry, rz, ux, uy, uz, vx, vy, vz, s, t);
}

function square(
  rx: number,
  ry: number,
  rz: number,
  ux: number,
  uy: number,
  uz: number,
  vx: number,
  vy: number,
  vz: number,
  s: number,
  t: number,
): number {
  const x = rx + s * ux - t * vx,
    y = ry + s * uy - t * vy,
    z = rz + s * uz - t * vz;
  return x * x + y * y + z * z;
}
