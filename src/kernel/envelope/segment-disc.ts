/**
 * Closest point of a line segment to a disc (flat cylinder: radius R, half thickness h).
 *
 * In the cylinder's frame a point has height z and distance ρ from the axis; its squared distance to the solid is
 * f = max(|z|−h, 0)² + max(ρ−R, 0)². Both terms are convex along the segment, so f' is monotone and its root on [0, 1]
 * is bracketed; Newton steps kept inside the bracket, bisection otherwise. Where f' is 0 on a stretch with f = 0 the
 * segment enters the solid.
 * Error: the parameter is found to 1e-12, so the distance error is of second order, far below 1e-12 m, except for the
 * rounding of a square root near contact (about 1e-16 m² in f, hence 1e-9 m at worst below 1e-8 m).
 */

/** Newton settles in 3–6 steps; bisection alone would need 40. */
const STEPS = 120;
const PARAMETER = 1e-12;

/**
 * Squared distance between the segment at S[i..i+5] and the disc at D[j..j+7]; `out[0]` gets the segment's parameter.
 * Returns 0 when they meet; the parameter is then a point inside.
 */
export function segmentDisc(S: Float64Array, i: number, D: Float64Array, j: number, out: Float64Array): number {
  const nx = D[j + 3]!,
    ny = D[j + 4]!,
    nz = D[j + 5]!,
    R = D[j + 6]!,
    h = D[j + 7]!;
  const px = S[i]! - D[j]!,
    py = S[i + 1]! - D[j + 1]!,
    pz = S[i + 2]! - D[j + 2]!;
  const dx = S[i + 3]! - S[i]!,
    dy = S[i + 4]! - S[i + 1]!,
    dz = S[i + 5]! - S[i + 2]!;
  const z0 = px * nx + py * ny + pz * nz,
    zd = dx * nx + dy * ny + dz * nz;
  const qx = px - z0 * nx,
    qy = py - z0 * ny,
    qz = pz - z0 * nz,
    ex = dx - zd * nx,
    ey = dy - zd * ny,
    ez = dz - zd * nz;
  // ρ² = A t² + 2 B t + C
  const A = ex * ex + ey * ey + ez * ez,
    B = qx * ex + qy * ey + qz * ez,
    C = qx * qx + qy * qy + qz * qz;
  const R2 = R * R;

  let lo = 0,
    hi = 1,
    t = 0,
    g = 0,
    g2 = 0,
    wide = 1;
  for (let k = 0; k < STEPS; k++) {
    const z = z0 + t * zd;
    const m = A * t + B;
    const rho2 = C + t * (B + m);
    g = 0;
    g2 = 0;
    if (z > h) {
      g = (z - h) * zd;
      g2 = zd * zd;
    } else if (z < -h) {
      g = (z + h) * zd;
      g2 = zd * zd;
    }
    if (rho2 > R2) {
      const rho = Math.sqrt(rho2);
      const over = 1 - R / rho;
      g += over * m;
      g2 += over * A + (R / (rho2 * rho)) * m * m;
    }
    if (g === 0) break;
    if (k === 0) {
      if (g >= 0) break; // the first end is nearest
      t = 1;
      continue;
    }
    if (k === 1 && t === 1) {
      if (g <= 0) break; // the last end is nearest
    }
    if (g > 0) hi = t;
    else lo = t;
    if (hi - lo < PARAMETER) break;
    // Newton creeps where the slope has a corner: halve whenever two steps have not halved the bracket.
    const halve = (k & 1) === 0 && hi - lo > 0.5 * wide;
    if ((k & 1) === 0) wide = hi - lo;
    let next = t - g / g2;
    if (halve || !(next > lo && next < hi)) next = 0.5 * (lo + hi);
    else if (Math.abs(next - t) < PARAMETER) {
      t = next;
      break;
    }
    t = next;
  }
  out[0] = t;
  const z = z0 + t * zd;
  const over = z > h ? z - h : z < -h ? -h - z : 0;
  const x = qx + t * ex,
    y = qy + t * ey,
    w = qz + t * ez;
  const rho2 = x * x + y * y + w * w;
  const out2 = rho2 > R2 ? Math.sqrt(rho2) - R : 0;
  return over * over + out2 * out2;
}

/** Writes the point of the disc at D[j..] nearest to (x, y, z) to out[o..o+2]. */
export function nearestOnDisc(
  D: Float64Array,
  j: number,
  x: number,
  y: number,
  z: number,
  out: Float64Array,
  o: number,
): void {
  const nx = D[j + 3]!,
    ny = D[j + 4]!,
    nz = D[j + 5]!,
    R = D[j + 6]!,
    h = D[j + 7]!;
  const px = x - D[j]!,
    py = y - D[j + 1]!,
    pz = z - D[j + 2]!;
  const s = px * nx + py * ny + pz * nz;
  const qx = px - s * nx,
    qy = py - s * ny,
    qz = pz - s * nz;
  const rho = Math.sqrt(qx * qx + qy * qy + qz * qz);
  const k = rho > R ? R / rho : 1;
  const c = s > h ? h : s < -h ? -h : s;
  out[o] = D[j]! + c * nx + k * qx;
  out[o + 1] = D[j + 1]! + c * ny + k * qy;
  out[o + 2] = D[j + 2]! + c * nz + k * qz;
}
