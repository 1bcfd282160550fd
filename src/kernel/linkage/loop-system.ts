/**
 * The equations that close loops, and their derivatives.
 *
 * Every cut joint between bodies a and b gives six rows, in world axes at the present posture (T_a, T_b from the tree):
 *   pivot that may turn   T_b p − T_a p = 0,                     ℓ · (T_a u × T_b u) = 0
 *   slide that may slide  the same difference, transverse only,  ℓ · ½ Σ_i (A e_i × B e_i) = 0
 *   held or driven        T_b p − T_a exp(S q) p = 0,            ℓ · ½ Σ_i (A exp(S q) e_i × B e_i) = 0
 * with p, u the point and axis of the ride posture, A and B the rotations, q the joint's own value. ℓ (0.3 m by default)
 * turns radians into metres of the size of a bicycle's links. Rows are redundant by design (a pivot needs 5, a planar
 * loop 3): least squares, never a square Newton step.
 *
 * The derivative is geometric: a tree joint with world screw (o, w) moves what it carries by w × (x − o).
 * Cross products vanish also at half a turn, so a false zero exists there; `opposed` tells.
 * Not here: the iteration (close-loops.ts), following a motion (trace-loop.ts).
 */
import { rotationAbout } from '../math/rigid.ts';
import { slides } from '../model/types.ts';
import { type Chain, carriedBodies, jointCount, type Posture } from './chain.ts';
import { dampedScratch } from './least-squares.ts';

/** Which tree joints may adjust themselves, and which cut joints must close. */
export interface LoopSystem {
  /** Tree joints whose values are unknown. */
  readonly unknowns: Int32Array;
  /** Cut joints that must close. */
  readonly cuts: Int32Array;
  /** 1 per cut that must keep the value in `q` (held, or driven); 0 where it may turn or slide freely. */
  readonly fixed: Uint8Array;
}

/** Scratch and report of the closure routines. Owned by the caller, reused by every call; one a thread of work. */
export interface LinkageWorkspace {
  /** ℓ above, m. Values of sliding joints count in units of ℓ beside radians. */
  readonly length: number;
  /** Bodies × joints, see `carriedBodies`. */
  readonly carried: Uint8Array;
  /** 6 rows per cut. */
  readonly residual: Float64Array;
  readonly trial: Float64Array;
  /** Column-major, 6·cuts rows; one column more than there are joints. */
  readonly jacobian: Float64Array;
  readonly column: Float64Array;
  readonly step: Float64Array;
  readonly saved: Float64Array;
  readonly scratch: Float64Array;
  /** dq/dq_driven per joint, written by `followerRates`. */
  readonly rates: Float64Array;
  readonly report: ClosureReport;
}
export type ClosureReason =
  | 'closed'
  | 'nearly closed'
  | 'stuck apart'
  | 'out of iterations'
  | 'opposed'
  | 'not reached';
/** How a closure ended. `residual` is the root of the sum of squares of all rows, m. */
export interface ClosureReport {
  converged: boolean;
  iterations: number;
  residual: number;
  reason: ClosureReason;
}

export const LINK_LENGTH_M = 0.3;

export function newLinkageWorkspace(top: Chain, length: number = LINK_LENGTH_M): LinkageWorkspace {
  const n = jointCount(top);
  const rows = 6 * n;
  return {
    length,
    carried: carriedBodies(top),
    residual: new Float64Array(rows),
    trial: new Float64Array(rows),
    jacobian: new Float64Array(rows * (n + 1)),
    column: new Float64Array(rows),
    step: new Float64Array(n + 1),
    saved: new Float64Array(n),
    scratch: new Float64Array(dampedScratch(rows, n + 1)),
    rates: new Float64Array(n),
    report: { converged: true, iterations: 0, residual: 0, reason: 'closed' },
  };
}

/** One radian, or ℓ metres: makes columns of turning and sliding joints comparable. */
export const jointUnit = (top: Chain, ws: LinkageWorkspace, joint: number): number =>
  slides(top.kind[joint]!) ? ws.length : 1;

/** M = B (A E)ᵀ, row-major 9, with E the joint's own rotation where it is held at a value, else the identity. */
function misalignment(top: Chain, s: Posture, cut: number, held: boolean, out: Float64Array): void {
  const { joint, q, bodyT: t } = s;
  const a = 12 * top.jointA[cut]!;
  const b = 12 * top.jointB[cut]!;
  const turned = held && !slides(top.kind[cut]!) && q[cut] !== 0;
  if (turned) rotationAbout(0, 0, 0, joint[6 * cut + 3]!, joint[6 * cut + 4]!, joint[6 * cut + 5]!, q[cut]!, ROTATION);
  for (let i = 0; i < 3; i++) {
    // Row i of A E.
    let x = t[a + 4 * i]!;
    let y = t[a + 4 * i + 1]!;
    let z = t[a + 4 * i + 2]!;
    if (turned) {
      const r = ROTATION;
      const x0 = x * r[0]! + y * r[4]! + z * r[8]!;
      const y0 = x * r[1]! + y * r[5]! + z * r[9]!;
      z = x * r[2]! + y * r[6]! + z * r[10]!;
      x = x0;
      y = y0;
    }
    for (let k = 0; k < 3; k++) out[3 * k + i] = t[b + 4 * k]! * x + t[b + 4 * k + 1]! * y + t[b + 4 * k + 2]! * z;
  }
}
// Scratch; written before it is read within one call, never held across calls.
const ROTATION = new Float64Array(12);
const M = new Float64Array(9);

/** Writes the closure rows of `system` at the posture in `s.bodyT` into `out`; returns the root of their sum of squares. */
export function closureResidual(
  top: Chain,
  s: Posture,
  system: LoopSystem,
  ws: LinkageWorkspace,
  out: Float64Array = ws.residual,
): number {
  const { joint, q, bodyT: t } = s;
  const l = ws.length;
  let sum = 0;
  for (let k = 0; k < system.cuts.length; k++) {
    const cut = system.cuts[k]!;
    const fixed = system.fixed[k] === 1;
    const sliding = slides(top.kind[cut]!);
    const a = 12 * top.jointA[cut]!;
    const b = 12 * top.jointB[cut]!;
    const o = 6 * cut;
    const px = joint[o]!;
    const py = joint[o + 1]!;
    const pz = joint[o + 2]!;
    const ux = joint[o + 3]!;
    const uy = joint[o + 4]!;
    const uz = joint[o + 5]!;
    let dx = (t[b]! - t[a]!) * px + (t[b + 1]! - t[a + 1]!) * py + (t[b + 2]! - t[a + 2]!) * pz + t[b + 3]! - t[a + 3]!;
    let dy =
      (t[b + 4]! - t[a + 4]!) * px +
      (t[b + 5]! - t[a + 5]!) * py +
      (t[b + 6]! - t[a + 6]!) * pz +
      t[b + 7]! -
      t[a + 7]!;
    let dz =
      (t[b + 8]! - t[a + 8]!) * px +
      (t[b + 9]! - t[a + 9]!) * py +
      (t[b + 10]! - t[a + 10]!) * pz +
      t[b + 11]! -
      t[a + 11]!;
    const wx = t[a]! * ux + t[a + 1]! * uy + t[a + 2]! * uz;
    const wy = t[a + 4]! * ux + t[a + 5]! * uy + t[a + 6]! * uz;
    const wz = t[a + 8]! * ux + t[a + 9]! * uy + t[a + 10]! * uz;
    if (sliding) {
      const along = fixed ? q[cut]! : wx * dx + wy * dy + wz * dz;
      dx -= wx * along;
      dy -= wy * along;
      dz -= wz * along;
    }
    const r = 6 * k;
    out[r] = dx;
    out[r + 1] = dy;
    out[r + 2] = dz;
    if (sliding || fixed) {
      misalignment(top, s, cut, fixed, M);
      out[r + 3] = 0.5 * l * (M[7]! - M[5]!);
      out[r + 4] = 0.5 * l * (M[2]! - M[6]!);
      out[r + 5] = 0.5 * l * (M[3]! - M[1]!);
    } else {
      const vx = t[b]! * ux + t[b + 1]! * uy + t[b + 2]! * uz;
      const vy = t[b + 4]! * ux + t[b + 5]! * uy + t[b + 6]! * uz;
      const vz = t[b + 8]! * ux + t[b + 9]! * uy + t[b + 10]! * uz;
      out[r + 3] = l * (wy * vz - wz * vy);
      out[r + 4] = l * (wz * vx - wx * vz);
      out[r + 5] = l * (wx * vy - wy * vx);
    }
    for (let i = r; i < r + 6; i++) sum += out[i]! * out[i]!;
  }
  return Math.sqrt(sum);
}

/** True where a cut's axes or frames point opposite ways: the cross products vanish, the joint is not closed. */
export function opposed(top: Chain, s: Posture, system: LoopSystem): boolean {
  for (let k = 0; k < system.cuts.length; k++) {
    const cut = system.cuts[k]!;
    const fixed = system.fixed[k] === 1;
    misalignment(top, s, cut, fixed, M);
    if (fixed || slides(top.kind[cut]!)) {
      // trace = 1 + 2 cos(angle): the half turn has −1.
      if (M[0]! + M[4]! + M[8]! < 1) return true;
      continue;
    }
    const a = 12 * top.jointA[cut]!;
    const { joint, bodyT: t } = s;
    const o = 6 * cut + 3;
    const x = t[a]! * joint[o]! + t[a + 1]! * joint[o + 1]! + t[a + 2]! * joint[o + 2]!;
    const y = t[a + 4]! * joint[o]! + t[a + 5]! * joint[o + 1]! + t[a + 6]! * joint[o + 2]!;
    const z = t[a + 8]! * joint[o]! + t[a + 9]! * joint[o + 1]! + t[a + 10]! * joint[o + 2]!;
    const cosine =
      x * (M[0]! * x + M[1]! * y + M[2]! * z) +
      y * (M[3]! * x + M[4]! * y + M[5]! * z) +
      z * (M[6]! * x + M[7]! * y + M[8]! * z);
    if (cosine < 0) return true;
  }
  return false;
}

/**
 * Derivative of all rows by the value of a tree joint (m per rad, or m per m), written to `out` from offset `at`.
 * Needs `s.bodyT`.
 */
export function closureColumn(
  top: Chain,
  s: Posture,
  system: LoopSystem,
  ws: LinkageWorkspace,
  by: number,
  out: Float64Array,
  at: number,
): void {
  const { joint, q, bodyT: t } = s;
  const n = top.kind.length;
  const l = ws.length;
  // World screw of the joint that moves: the first body's motion carries point and axis; the sign says which way the
  // far side of the tree goes.
  const ja = 12 * top.jointA[by]!;
  const jo = 6 * by;
  const sign = ws.carried[top.jointB[by]! * n + by] === 1 ? 1 : -1;
  const turning = !slides(top.kind[by]!);
  const ox = t[ja]! * joint[jo]! + t[ja + 1]! * joint[jo + 1]! + t[ja + 2]! * joint[jo + 2]! + t[ja + 3]!;
  const oy = t[ja + 4]! * joint[jo]! + t[ja + 5]! * joint[jo + 1]! + t[ja + 6]! * joint[jo + 2]! + t[ja + 7]!;
  const oz = t[ja + 8]! * joint[jo]! + t[ja + 9]! * joint[jo + 1]! + t[ja + 10]! * joint[jo + 2]! + t[ja + 11]!;
  const gx = sign * (t[ja]! * joint[jo + 3]! + t[ja + 1]! * joint[jo + 4]! + t[ja + 2]! * joint[jo + 5]!);
  const gy = sign * (t[ja + 4]! * joint[jo + 3]! + t[ja + 5]! * joint[jo + 4]! + t[ja + 6]! * joint[jo + 5]!);
  const gz = sign * (t[ja + 8]! * joint[jo + 3]! + t[ja + 9]! * joint[jo + 4]! + t[ja + 10]! * joint[jo + 5]!);
  for (let k = 0; k < system.cuts.length; k++) {
    const r = at + 6 * k;
    const cut = system.cuts[k]!;
    const ba = top.jointA[cut]!;
    const bb = top.jointB[cut]!;
    const ka = ws.carried[ba * n + by]!;
    const kb = ws.carried[bb * n + by]!;
    if (ka === 0 && kb === 0) {
      out.fill(0, r, r + 6);
      continue;
    }
    const fixed = system.fixed[k] === 1;
    const sliding = slides(top.kind[cut]!);
    const a = 12 * ba;
    const b = 12 * bb;
    const o = 6 * cut;
    const px = joint[o]!;
    const py = joint[o + 1]!;
    const pz = joint[o + 2]!;
    const ax = t[a]! * px + t[a + 1]! * py + t[a + 2]! * pz + t[a + 3]!;
    const ay = t[a + 4]! * px + t[a + 5]! * py + t[a + 6]! * pz + t[a + 7]!;
    const az = t[a + 8]! * px + t[a + 9]! * py + t[a + 10]! * pz + t[a + 11]!;
    const bx = t[b]! * px + t[b + 1]! * py + t[b + 2]! * pz + t[b + 3]!;
    const by_ = t[b + 4]! * px + t[b + 5]! * py + t[b + 6]! * pz + t[b + 7]!;
    const bz = t[b + 8]! * px + t[b + 9]! * py + t[b + 10]! * pz + t[b + 11]!;
    // Velocity of the difference d = T_b p − T_a p.
    let vx: number;
    let vy: number;
    let vz: number;
    if (turning) {
      const ex = kb * (bx - ox) - ka * (ax - ox);
      const ey = kb * (by_ - oy) - ka * (ay - oy);
      const ez = kb * (bz - oz) - ka * (az - oz);
      vx = gy * ez - gz * ey;
      vy = gz * ex - gx * ez;
      vz = gx * ey - gy * ex;
    } else {
      vx = (kb - ka) * gx;
      vy = (kb - ka) * gy;
      vz = (kb - ka) * gz;
    }
    const ux = joint[o + 3]!;
    const uy = joint[o + 4]!;
    const uz = joint[o + 5]!;
    const wx = t[a]! * ux + t[a + 1]! * uy + t[a + 2]! * uz;
    const wy = t[a + 4]! * ux + t[a + 5]! * uy + t[a + 6]! * uz;
    const wz = t[a + 8]! * ux + t[a + 9]! * uy + t[a + 10]! * uz;
    // Rate of the first body's axis.
    const spinA = turning ? ka : 0;
    const spinB = turning ? kb : 0;
    const nx = spinA * (gy * wz - gz * wy);
    const ny = spinA * (gz * wx - gx * wz);
    const nz = spinA * (gx * wy - gy * wx);
    if (sliding) {
      const dx = bx - ax;
      const dy = by_ - ay;
      const dz = bz - az;
      if (fixed) {
        const own = q[cut]!;
        vx -= nx * own;
        vy -= ny * own;
        vz -= nz * own;
      } else {
        const along = wx * dx + wy * dy + wz * dz;
        const rate = nx * dx + ny * dy + nz * dz + wx * vx + wy * vy + wz * vz;
        vx -= nx * along + wx * rate;
        vy -= ny * along + wy * rate;
        vz -= nz * along + wz * rate;
      }
    }
    out[r] = vx;
    out[r + 1] = vy;
    out[r + 2] = vz;
    if (sliding || fixed) {
      // d/dt ½ vee(M − Mᵀ) = ½ [tr M (ω_b − ω_a) − M ω_b + Mᵀ ω_a].
      misalignment(top, s, cut, fixed, M);
      const trace = (M[0]! + M[4]! + M[8]!) * (spinB - spinA);
      const h = 0.5 * l;
      out[r + 3] =
        h *
        (trace * gx - spinB * (M[0]! * gx + M[1]! * gy + M[2]! * gz) + spinA * (M[0]! * gx + M[3]! * gy + M[6]! * gz));
      out[r + 4] =
        h *
        (trace * gy - spinB * (M[3]! * gx + M[4]! * gy + M[5]! * gz) + spinA * (M[1]! * gx + M[4]! * gy + M[7]! * gz));
      out[r + 5] =
        h *
        (trace * gz - spinB * (M[6]! * gx + M[7]! * gy + M[8]! * gz) + spinA * (M[2]! * gx + M[5]! * gy + M[8]! * gz));
    } else {
      const zx = t[b]! * ux + t[b + 1]! * uy + t[b + 2]! * uz;
      const zy = t[b + 4]! * ux + t[b + 5]! * uy + t[b + 6]! * uz;
      const zz = t[b + 8]! * ux + t[b + 9]! * uy + t[b + 10]! * uz;
      const mx = spinB * (gy * zz - gz * zy);
      const my = spinB * (gz * zx - gx * zz);
      const mz = spinB * (gx * zy - gy * zx);
      out[r + 3] = l * (ny * zz - nz * zy + wy * mz - wz * my);
      out[r + 4] = l * (nz * zx - nx * zz + wz * mx - wx * mz);
      out[r + 5] = l * (nx * zy - ny * zx + wx * my - wy * mx);
    }
  }
}

/** Derivative of all rows by the held value of a cut joint, written to `out` from offset `at`. */
export function heldValueColumn(
  top: Chain,
  s: Posture,
  system: LoopSystem,
  ws: LinkageWorkspace,
  cut: number,
  out: Float64Array,
  at: number,
): void {
  out.fill(0, at, at + 6 * system.cuts.length);
  const k = system.cuts.indexOf(cut);
  if (k < 0 || system.fixed[k] !== 1) return;
  const { joint, bodyT: t } = s;
  const a = 12 * top.jointA[cut]!;
  const r = at + 6 * k;
  const w: [number, number, number] = [0, 0, 0];
  for (let i = 0; i < 3; i++) for (let c = 0; c < 3; c++) w[i]! += t[a + 4 * i + c]! * joint[6 * cut + 3 + c]!;
  if (slides(top.kind[cut]!)) {
    for (let i = 0; i < 3; i++) out[r + i] = -w[i]!;
    return;
  }
  misalignment(top, s, cut, true, M);
  const trace = M[0]! + M[4]! + M[8]!;
  for (let i = 0; i < 3; i++)
    out[r + 3 + i] = 0.5 * ws.length * (M[i]! * w[0] + M[3 + i]! * w[1] + M[6 + i]! * w[2] - trace * w[i]!);
}
