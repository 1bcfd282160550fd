/**
 * Shadows of posed shapes on a plane and the rectangle round them: supports, the area at an angle, and its slope.
 *
 * Scratch of `boxAlong`, one shadow at a time: `across` chooses the plane, `shadows` fills the caller's array, `area` measures
 * the rectangle at an angle and leaves its slope in `slope`. Shapes inside the octagon of eight touching points touch no side
 * of any rectangle and may be dropped (`noteTouching` twice, then `dropInner`).
 * Not here: the search for the least rectangle (`fold-box.ts`).
 */
import type { Vec3 } from '../math/rigid.ts';
import type { PosedShapes } from './posed-shapes.ts';

/** Two unit vectors across the unit axis, right-handed with it. */
export function across(a: Vec3, out: Float64Array): void {
  const [x, y, z] = a;
  // The coordinate axis least along `a` gives a well-conditioned start.
  let ux = 0,
    uy = 0,
    uz = 0;
  if (Math.abs(x) <= Math.abs(y) && Math.abs(x) <= Math.abs(z)) {
    uy = z;
    uz = -y;
  } else if (Math.abs(y) <= Math.abs(z)) {
    ux = -z;
    uz = x;
  } else {
    ux = y;
    uy = -x;
  }
  const n = Math.sqrt(ux * ux + uy * uy + uz * uz);
  out[0] = ux /= n;
  out[1] = uy /= n;
  out[2] = uz /= n;
  out[3] = y * uz - z * uy;
  out[4] = z * ux - x * uz;
  out[5] = x * uy - y * ux;
}
/** The two directions of the shadow at hand; filled by `across`. */
export const basis = new Float64Array(6);

/** Numbers of discs, boxes and circles in the shadow at hand. */
let discs = 0,
  boxes = 0,
  circles = 0;
/**
 * Shadows on the plane: discs x y nx ny R h, then boxes x y and three half axes, then circles x y r (two per capsule: its
 * straight sides never touch before its ends do).
 */
export function shadows(posed: PosedShapes, w: Float64Array): void {
  const { nCapsule, nDisc, nBox, capsule, disc, box } = posed;
  const ux = basis[0]!,
    uy = basis[1]!,
    uz = basis[2]!,
    vx = basis[3]!,
    vy = basis[4]!,
    vz = basis[5]!;
  let k = 0;
  for (let i = 0, o = 0; i < nDisc; i++, o += 8, k += 6) {
    w[k] = disc[o]! * ux + disc[o + 1]! * uy + disc[o + 2]! * uz;
    w[k + 1] = disc[o]! * vx + disc[o + 1]! * vy + disc[o + 2]! * vz;
    w[k + 2] = disc[o + 3]! * ux + disc[o + 4]! * uy + disc[o + 5]! * uz;
    w[k + 3] = disc[o + 3]! * vx + disc[o + 4]! * vy + disc[o + 5]! * vz;
    w[k + 4] = disc[o + 6]!;
    w[k + 5] = disc[o + 7]!;
  }
  for (let i = 0, o = 0; i < nBox; i++, o += 15, k += 8) {
    w[k] = box[o]! * ux + box[o + 1]! * uy + box[o + 2]! * uz;
    w[k + 1] = box[o]! * vx + box[o + 1]! * vy + box[o + 2]! * vz;
    for (let m = 0; m < 3; m++) {
      const a = o + 3 + 3 * m;
      const h = box[o + 12 + m]!;
      w[k + 2 + 2 * m] = h * (box[a]! * ux + box[a + 1]! * uy + box[a + 2]! * uz);
      w[k + 3 + 2 * m] = h * (box[a]! * vx + box[a + 1]! * vy + box[a + 2]! * vz);
    }
  }
  for (let i = 0, o = 0; i < nCapsule; i++, o += 7) {
    for (let e = o; e <= o + 3; e += 3, k += 3) {
      w[k] = capsule[e]! * ux + capsule[e + 1]! * uy + capsule[e + 2]! * uz;
      w[k + 1] = capsule[e]! * vx + capsule[e + 1]! * vy + capsule[e + 2]! * vz;
      w[k + 2] = capsule[o + 6]!;
    }
  }
  discs = nDisc;
  boxes = nBox;
  circles = 2 * nCapsule;
}

/** Supports along (c, s): least, greatest, and their slopes d/dθ, into side[o..o+3]. */
const side = new Float64Array(8);
function supports(w: Float64Array, c: number, s: number, o: number): void {
  const nDisc = discs,
    nBox = boxes,
    nCircle = circles;
  let lo = Infinity,
    hi = -Infinity,
    dlo = 0,
    dhi = 0;
  let k = 0;
  for (let i = 0; i < nDisc; i++, k += 6) {
    const x = w[k]! * c + w[k + 1]! * s;
    const n = w[k + 2]! * c + w[k + 3]! * s;
    const q = n * n < 1 ? Math.sqrt(1 - n * n) : 0;
    const e = w[k + 4]! * q + w[k + 5]! * Math.abs(n);
    if (x - e < lo || x + e > hi) {
      const dx = w[k + 1]! * c - w[k]! * s;
      const dn = w[k + 3]! * c - w[k + 2]! * s;
      const de = (q > 1e-9 ? (-w[k + 4]! * n * dn) / q : 0) + w[k + 5]! * (n < 0 ? -dn : dn);
      if (x - e < lo) {
        lo = x - e;
        dlo = dx - de;
      }
      if (x + e > hi) {
        hi = x + e;
        dhi = dx + de;
      }
    }
  }
  for (let i = 0; i < nBox; i++, k += 8) {
    const x = w[k]! * c + w[k + 1]! * s;
    let e = 0,
      de = 0;
    for (let m = k + 2; m < k + 8; m += 2) {
      const a = w[m]! * c + w[m + 1]! * s;
      const d = w[m + 1]! * c - w[m]! * s;
      if (a < 0) {
        e -= a;
        de -= d;
      } else {
        e += a;
        de += d;
      }
    }
    if (x - e < lo || x + e > hi) {
      const dx = w[k + 1]! * c - w[k]! * s;
      if (x - e < lo) {
        lo = x - e;
        dlo = dx - de;
      }
      if (x + e > hi) {
        hi = x + e;
        dhi = dx + de;
      }
    }
  }
  let least = -1,
    most = -1;
  for (let i = 0; i < nCircle; i++, k += 3) {
    const x = w[k]! * c + w[k + 1]! * s,
      r = w[k + 2]!;
    if (x - r < lo) {
      lo = x - r;
      least = k;
    }
    if (x + r > hi) {
      hi = x + r;
      most = k;
    }
  }
  side[o] = lo;
  side[o + 1] = hi;
  side[o + 2] = least < 0 ? dlo : w[least + 1]! * c - w[least]! * s;
  side[o + 3] = most < 0 ? dhi : w[most + 1]! * c - w[most]! * s;
}

/** Slope of the last area computed. */
export let slope = 0;
export function area(w: Float64Array, c: number, s: number): number {
  supports(w, c, s, 0);
  supports(w, -s, c, 4);
  const a = side[1]! - side[0]!,
    b = side[5]! - side[4]!;
  slope = (side[3]! - side[2]!) * b + a * (side[7]! - side[6]!);
  return a * b;
}

/** Touching points in eight directions, about 45° apart, counterclockwise: x, y. */
const touch = new Float64Array(16);
/** Notes the four touching points of the last area, which was at (c, s): h u + h' v each, in places k, k+2, k+4, k+6. */
export function noteTouching(c: number, s: number, k: number): void {
  for (let m = 0; m < 4; m++) {
    // Directions u, v, −u, −v. The least support along u is the greatest along −u, with slopes alike.
    const from = m & 1 ? 4 : 0;
    const top = m < 2 ? 1 : 0;
    const h = side[from + top]!,
      d = side[from + 2 + top]!;
    const ux = m & 1 ? -s : c,
      uy = m & 1 ? c : s;
    touch[2 * (k + 2 * m)] = h * ux - d * uy;
    touch[2 * (k + 2 * m) + 1] = h * uy + d * ux;
  }
}
/** Sides of the octagon: unit inward normal and offset, 3 each. Touching points that coincide make no side. */
const octagon = new Float64Array(24);
function closeOctagon(): void {
  for (let e = 0; e < 8; e++) {
    const f = e === 7 ? 0 : e + 1;
    const ex = touch[2 * f]! - touch[2 * e]!,
      ey = touch[2 * f + 1]! - touch[2 * e + 1]!;
    const l = Math.sqrt(ex * ex + ey * ey);
    const nx = l > 0 ? -ey / l : 0,
      ny = l > 0 ? ex / l : 0;
    octagon[3 * e] = nx;
    octagon[3 * e + 1] = ny;
    octagon[3 * e + 2] = l > 0 ? nx * touch[2 * e]! + ny * touch[2 * e + 1]! : -Infinity;
  }
}
/** True when the circle (x, y, r) lies inside the octagon of touching points. */
function inside(x: number, y: number, r: number): boolean {
  for (let e = 0; e < 24; e += 3) if (!(octagon[e]! * x + octagon[e + 1]! * y - octagon[e + 2]! > r)) return false;
  return true;
}
/** Drops what lies inside the octagon of touching points: it can touch no side of any rectangle. */
export function dropInner(w: Float64Array): void {
  closeOctagon();
  let to = 0,
    kept = 0,
    k = 0;
  for (let i = 0; i < discs; i++, k += 6) {
    if (inside(w[k]!, w[k + 1]!, w[k + 4]! + w[k + 5]!)) continue;
    for (let m = 0; m < 6; m++) w[to++] = w[k + m]!;
    kept++;
  }
  discs = kept;
  kept = 0;
  for (let i = 0; i < boxes; i++, k += 8) {
    let r = 0;
    for (let m = 2; m < 8; m++) r += Math.abs(w[k + m]!);
    if (inside(w[k]!, w[k + 1]!, r)) continue;
    for (let m = 0; m < 8; m++) w[to++] = w[k + m]!;
    kept++;
  }
  boxes = kept;
  kept = 0;
  for (let i = 0; i < circles; i++, k += 3) {
    if (inside(w[k]!, w[k + 1]!, w[k + 2]!)) continue;
    w[to++] = w[k]!;
    w[to++] = w[k + 1]!;
    w[to++] = w[k + 2]!;
    kept++;
  }
  circles = kept;
}
