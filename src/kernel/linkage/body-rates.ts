/**
 * How every body moves while joints do: the velocity field of each for given joint rates.
 *
 * A tree joint with world screw (o, w) turns all that it carries by w and gives the body's point at the origin the velocity
 * o × w; a slide gives w itself. Fields of several joints add (Lynch & Park, *Modern Robotics*, 2017, ch. 5, space Jacobian).
 * The velocity of a body's point p is then v + ω × p.
 * Not here: rates of followers (follower-rates.ts), cut joints, on which no body hangs.
 */
import { slides } from '../model/types.ts';
import { type Chain, jointCount, type Posture } from './chain.ts';

/** Numbers per body: turn ω (3, rad), then velocity v at the origin (3, m), per unit of rate. */
export const RATE_SIZE = 6;

/**
 * Writes 6 numbers a body to `out` and returns it. `s` is posed; `rates` one per joint (rad or m per unit);
 * `carried` is the table of `carriedBodies` (also in the linkage workspace). Allocates nothing.
 */
export function bodyRates(
  top: Chain,
  s: Posture,
  rates: Float64Array,
  carried: Uint8Array,
  out: Float64Array,
): Float64Array {
  const { joint, bodyT: t } = s;
  const n = jointCount(top);
  out.fill(0, 0, RATE_SIZE * top.bodyCount);
  for (let b = 0; b < top.bodyCount; b++) {
    const j = top.parentJoint[b]!;
    if (j < 0 || rates[j] === 0) continue;
    const a = 12 * top.jointA[j]!;
    const o = 6 * j;
    const ux = joint[o + 3]!;
    const uy = joint[o + 4]!;
    const uz = joint[o + 5]!;
    // The screw is given for the second body's motion; where that one is the parent, the child goes the other way.
    const rate = top.jointB[j] === b ? rates[j]! : -rates[j]!;
    const wx = rate * (t[a]! * ux + t[a + 1]! * uy + t[a + 2]! * uz);
    const wy = rate * (t[a + 4]! * ux + t[a + 5]! * uy + t[a + 6]! * uz);
    const wz = rate * (t[a + 8]! * ux + t[a + 9]! * uy + t[a + 10]! * uz);
    let vx = wx;
    let vy = wy;
    let vz = wz;
    const sliding = slides(top.kind[j]!);
    if (!sliding) {
      const px = joint[o]!;
      const py = joint[o + 1]!;
      const pz = joint[o + 2]!;
      const x = t[a]! * px + t[a + 1]! * py + t[a + 2]! * pz + t[a + 3]!;
      const y = t[a + 4]! * px + t[a + 5]! * py + t[a + 6]! * pz + t[a + 7]!;
      const z = t[a + 8]! * px + t[a + 9]! * py + t[a + 10]! * pz + t[a + 11]!;
      vx = y * wz - z * wy;
      vy = z * wx - x * wz;
      vz = x * wy - y * wx;
    }
    for (let c = 0; c < top.bodyCount; c++) {
      if (carried[c * n + j] === 0) continue;
      const i = RATE_SIZE * c;
      if (!sliding) {
        out[i]! += wx;
        out[i + 1]! += wy;
        out[i + 2]! += wz;
      }
      out[i + 3]! += vx;
      out[i + 4]! += vy;
      out[i + 5]! += vz;
    }
  }
  return out;
}
