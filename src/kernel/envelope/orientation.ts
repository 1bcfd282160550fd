/**
 * On which side of a plane through three points a fourth lies, with the right sign always.
 *
 * Method: J. R. Shewchuk, *Adaptive Precision Floating-Point Arithmetic and Fast Robust Geometric Predicates*, Discrete &
 * Computational Geometry 18, 1997: the determinant in doubles decides when it exceeds its error bound
 * (7 + 56 ε) ε times the permanent, ε = 2⁻⁵³; otherwise it is computed exactly. Where he adds expansions, here whole numbers
 * of any length are used: coordinates are multiples of a power of two. Slower by far, and rarely needed.
 */
import type { Vec3 } from '../math/rigid.ts';

const EPSILON = 1.1102230246251565e-16;
const BOUND = (7 + 56 * EPSILON) * EPSILON;

const view = new DataView(new ArrayBuffer(8));
/** A finite double as a whole multiple of 2⁻¹⁰⁷⁴. */
function whole(x: number): bigint {
  view.setFloat64(0, x);
  const bits = view.getBigUint64(0);
  const exponent = Number((bits >> 52n) & 0x7ffn);
  const fraction = bits & 0xfffffffffffffn;
  const size = exponent === 0 ? fraction : (fraction | 0x10000000000000n) << BigInt(exponent - 1);
  return bits >> 63n ? -size : size;
}

/**
 * Positive when d lies above the plane of a, b, c (counterclockwise seen from above), negative below, 0 exactly in it: six
 * times the volume of the tetrahedron where that is sure (m³), else only a sign.
 */
export function sideOfPlane(a: Vec3, b: Vec3, c: Vec3, d: Vec3): number {
  const ax = a[0] - d[0],
    ay = a[1] - d[1],
    az = a[2] - d[2],
    bx = b[0] - d[0],
    by = b[1] - d[1],
    bz = b[2] - d[2],
    cx = c[0] - d[0],
    cy = c[1] - d[1],
    cz = c[2] - d[2];
  const det = az * (bx * cy - cx * by) + bz * (cx * ay - ax * cy) + cz * (ax * by - bx * ay);
  const permanent =
    (Math.abs(bx * cy) + Math.abs(cx * by)) * Math.abs(az) +
    (Math.abs(cx * ay) + Math.abs(ax * cy)) * Math.abs(bz) +
    (Math.abs(ax * by) + Math.abs(bx * ay)) * Math.abs(cz);
  // Below 1e-290 products may underflow, which the bound does not cover.
  if (Math.abs(det) > BOUND * permanent && Math.abs(det) > 1e-290) return -det;
  return exactSide(a, b, c, d);
}

function exactSide(a: Vec3, b: Vec3, c: Vec3, d: Vec3): number {
  const origin = d.map(whole);
  const [p, q, r] = [a, b, c].map((v) => v.map((x, k) => whole(x) - origin[k]!)) as [bigint[], bigint[], bigint[]];
  const det =
    p[2]! * (q[0]! * r[1]! - r[0]! * q[1]!) +
    q[2]! * (r[0]! * p[1]! - p[0]! * r[1]!) +
    r[2]! * (p[0]! * q[1]! - q[0]! * p[1]!);
  return det === 0n ? 0 : det > 0n ? -1 : 1;
}
