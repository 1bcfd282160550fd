/**
 * Signed distance of a point to a posed shape: the closed forms, for fields that are read many times.
 *
 * Capsule: distance to the segment less the radius. Disc (flat cylinder): in its frame (ρ − R, |z| − h). Box: in its frame
 * |p_i| − h_i. Outside the last two give the length of the positive parts; inside, the largest (negative) one: minus the
 * way out. Source: elementary; C. Ericson, *Real-Time Collision Detection*, 2005, 5.1. Units: m.
 */
import type { PosedShapes } from './posed-shapes.ts';

function toSegment(S: Float64Array, i: number, x: number, y: number, z: number): number {
  const dx = S[i + 3]! - S[i]!,
    dy = S[i + 4]! - S[i + 1]!,
    dz = S[i + 5]! - S[i + 2]!;
  const px = x - S[i]!,
    py = y - S[i + 1]!,
    pz = z - S[i + 2]!;
  const l2 = dx * dx + dy * dy + dz * dz;
  let t = l2 > 0 ? (px * dx + py * dy + pz * dz) / l2 : 0;
  t = t < 0 ? 0 : t > 1 ? 1 : t;
  const ex = px - t * dx,
    ey = py - t * dy,
    ez = pz - t * dz;
  return Math.sqrt(ex * ex + ey * ey + ez * ez) - S[i + 6]!;
}

function toDisc(D: Float64Array, i: number, x: number, y: number, z: number): number {
  const px = x - D[i]!,
    py = y - D[i + 1]!,
    pz = z - D[i + 2]!;
  const along = px * D[i + 3]! + py * D[i + 4]! + pz * D[i + 5]!;
  const across2 = px * px + py * py + pz * pz - along * along;
  const a = Math.sqrt(across2 > 0 ? across2 : 0) - D[i + 6]!;
  const b = Math.abs(along) - D[i + 7]!;
  if (a <= 0 || b <= 0) return a > b ? a : b;
  return Math.sqrt(a * a + b * b);
}

function toBox(B: Float64Array, i: number, x: number, y: number, z: number): number {
  const px = x - B[i]!,
    py = y - B[i + 1]!,
    pz = z - B[i + 2]!;
  let sum = 0;
  let most = Number.NEGATIVE_INFINITY;
  for (let k = 0; k < 3; k++) {
    const o = i + 3 + 3 * k;
    const e = Math.abs(px * B[o]! + py * B[o + 1]! + pz * B[o + 2]!) - B[i + 12 + k]!;
    if (e > 0) sum += e * e;
    if (e > most) most = e;
  }
  return most > 0 ? Math.sqrt(sum) : most;
}

/** Signed distance (m) of (x, y, z) to shape `index` (capsules, then discs, then boxes); negative inside. */
export function pointDistance(posed: PosedShapes, index: number, x: number, y: number, z: number): number {
  const { nCapsule, nDisc } = posed;
  if (index < nCapsule) return toSegment(posed.capsule, 7 * index, x, y, z);
  if (index < nCapsule + nDisc) return toDisc(posed.disc, 8 * (index - nCapsule), x, y, z);
  return toBox(posed.box, 15 * (index - nCapsule - nDisc), x, y, z);
}
