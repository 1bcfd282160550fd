/**
 * The value of a joint as the bodies stand: how far the second body has turned or slid relative to the first.
 *
 * A rotation R by θ about the unit axis u has ½ vee(R − Rᵀ) = u sin θ and ½ (tr R − 1) = cos θ, so θ = atan2 of the two;
 * it is then carried to the turn nearest to a known value, so that a pivot followed along a motion does not jump at ±π.
 */
import { slides } from '../model/types.ts';
import type { Chain, Posture } from './chain.ts';

/** Value of `joint` at the posture in `s.bodyT` (rad nearest to `near`, or m). Exact where the joint is closed. */
export function measureJoint(top: Chain, s: Posture, joint: number, near: number): number {
  const { joint: screw, bodyT: t } = s;
  const a = 12 * top.jointA[joint]!;
  const b = 12 * top.jointB[joint]!;
  const o = 6 * joint;
  if (slides(top.kind[joint]!)) {
    let value = 0;
    for (let i = 0; i < 3; i++) {
      let d = t[b + 4 * i + 3]! - t[a + 4 * i + 3]!;
      let w = 0;
      for (let c = 0; c < 3; c++) {
        d += (t[b + 4 * i + c]! - t[a + 4 * i + c]!) * screw[o + c]!;
        w += t[a + 4 * i + c]! * screw[o + 3 + c]!;
      }
      value += w * d;
    }
    return value;
  }
  // R = Aᵀ B, element (r, c).
  const r = (row: number, col: number): number =>
    t[a + row]! * t[b + col]! + t[a + 4 + row]! * t[b + 4 + col]! + t[a + 8 + row]! * t[b + 8 + col]!;
  const sine =
    0.5 *
    (screw[o + 3]! * (r(2, 1) - r(1, 2)) + screw[o + 4]! * (r(0, 2) - r(2, 0)) + screw[o + 5]! * (r(1, 0) - r(0, 1)));
  const cosine = 0.5 * (r(0, 0) + r(1, 1) + r(2, 2) - 1);
  const angle = Math.atan2(sine, cosine);
  return angle + 2 * Math.PI * Math.round((near - angle) / (2 * Math.PI));
}
