/**
 * The box around a posture: in given axes, and with one axis given (a wheel axle, the vertical) and the other two turned to
 * the least area.
 *
 * Supports are exact: capsule max(p·u, q·u) + r; disc c·u + R√(1−(n·u)²) + h|n·u|; box c·u + Σ|a·u|h.
 * The area A(θ) = U(θ)·V(θ) of the rectangle at angle θ is smooth as long as the same shapes touch its sides, with kinks
 * where a side lies flush against two shapes; its slope follows from the touching points alone. The quarter turn is
 * sampled, every interval whose slope changes from falling to rising is narrowed by the crossing of its end tangents
 * (halved where that stalls), until neither the crossing nor the curvature promises a gain above the accuracy asked for. A
 * minimum between two samples that both fall or both rise is looked for where they are nearly level (`hidden`).
 * Bodies with flush sides only (polygons) have their least rectangle at a flush side (H. Freeman, R. Shapira, *Determining
 * the minimum-area encasing rectangle for an arbitrary closed curve*, Comm. ACM 18(7), 1975); round ones need the search.
 * Not here: boxes with no axis given (`min-box.ts`).
 */
import type { Vec3 } from '../math/rigid.ts';
import type { PosedShapes } from './posed-shapes.ts';

/** A box owned by the caller, with the room that the search needs; make one with `newFoldBox`. */
export interface FoldBox {
  /** Three unit axes, right-handed, one after the other; the given one first. */
  readonly axes: Float64Array;
  /** Full lengths along the axes, m. */
  readonly size: Float64Array;
  readonly centre: Float64Array;
  volume: number;
  /** Shadows of the shapes on the plane across the axis: see `shadows`. */
  readonly work: Float64Array;
}

/** How finely `boxAlong` searches. */
export interface BoxSearch {
  /** Samples of a quarter turn, 2 or more. */
  readonly samples: number;
  /** Relative accuracy of the area. */
  readonly accuracy: number;
  /** Samples within an interval whose ends are nearly level and may hide a minimum; 0 for none. */
  readonly hidden: number;
}
/** For searches: a sample in 7.5°, area to 1e-4 (a tenth of a millimetre in a metre). */
export const BOX_QUICK: BoxSearch = { samples: 12, accuracy: 1e-4, hidden: 0 };
/** For figures that are printed: a sample in 0.5°, area to 1e-12. */
export const BOX_FINE: BoxSearch = { samples: 180, accuracy: 1e-12, hidden: 32 };
const NARROWINGS = 60;

export function newFoldBox(top: Pick<PosedShapes, 'nCapsule' | 'nDisc' | 'nBox'>): FoldBox {
  return {
    axes: new Float64Array(9),
    size: new Float64Array(3),
    centre: new Float64Array(3),
    volume: 0,
    work: new Float64Array(6 * top.nCapsule + 6 * top.nDisc + 8 * top.nBox),
  };
}

/** Result of `reach`: least and greatest support along a direction. */
const span = new Float64Array(2);
/** Least and greatest coordinate of all shapes along the unit direction (x, y, z), into `span`. */
function reach(posed: PosedShapes, x: number, y: number, z: number): void {
  const { nCapsule, nDisc, nBox, capsule, disc, box } = posed;
  let lo = Infinity,
    hi = -Infinity;
  for (let i = 0, o = 0; i < nCapsule; i++, o += 7) {
    const p = capsule[o]! * x + capsule[o + 1]! * y + capsule[o + 2]! * z,
      q = capsule[o + 3]! * x + capsule[o + 4]! * y + capsule[o + 5]! * z,
      r = capsule[o + 6]!;
    const a = (p < q ? p : q) - r,
      b = (p < q ? q : p) + r;
    if (a < lo) lo = a;
    if (b > hi) hi = b;
  }
  for (let i = 0, o = 0; i < nDisc; i++, o += 8) {
    const c = disc[o]! * x + disc[o + 1]! * y + disc[o + 2]! * z;
    const n = disc[o + 3]! * x + disc[o + 4]! * y + disc[o + 5]! * z;
    const e = disc[o + 6]! * Math.sqrt(n * n < 1 ? 1 - n * n : 0) + disc[o + 7]! * Math.abs(n);
    if (c - e < lo) lo = c - e;
    if (c + e > hi) hi = c + e;
  }
  for (let i = 0, o = 0; i < nBox; i++, o += 15) {
    const c = box[o]! * x + box[o + 1]! * y + box[o + 2]! * z;
    let e = 0;
    for (let k = 0; k < 3; k++) {
      const a = o + 3 + 3 * k;
      e += Math.abs(box[a]! * x + box[a + 1]! * y + box[a + 2]! * z) * box[o + 12 + k]!;
    }
    if (c - e < lo) lo = c - e;
    if (c + e > hi) hi = c + e;
  }
  span[0] = lo;
  span[1] = hi;
}

/** The box of all shapes in the given axes (9 numbers: three orthonormal axes one after the other), into `out`. */
export function boxAxes(posed: PosedShapes, axes: Float64Array | readonly number[], out: FoldBox): void {
  let volume = 1;
  out.centre.fill(0);
  for (let k = 0; k < 3; k++) {
    const x = axes[3 * k]!,
      y = axes[3 * k + 1]!,
      z = axes[3 * k + 2]!;
    reach(posed, x, y, z);
    const middle = 0.5 * (span[0]! + span[1]!);
    out.size[k] = span[1]! - span[0]!;
    volume *= out.size[k]!;
    out.axes[3 * k] = x;
    out.axes[3 * k + 1] = y;
    out.axes[3 * k + 2] = z;
    out.centre[0] = out.centre[0]! + middle * x;
    out.centre[1] = out.centre[1]! + middle * y;
    out.centre[2] = out.centre[2]! + middle * z;
  }
  out.volume = volume;
}

/** Two unit vectors across the unit axis, right-handed with it. */
function across(a: Vec3, out: Float64Array): void {
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
const basis = new Float64Array(6);
const turned = new Float64Array(9);

/** Numbers of discs, boxes and circles in the shadow at hand. */
let discs = 0,
  boxes = 0,
  circles = 0;
/**
 * Shadows on the plane: discs x y nx ny R h, then boxes x y and three half axes, then circles x y r (two per capsule: its
 * straight sides never touch before its ends do).
 */
function shadows(posed: PosedShapes, w: Float64Array): void {
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
let slope = 0;
function area(w: Float64Array, c: number, s: number): number {
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
function noteTouching(c: number, s: number, k: number): void {
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
function dropInner(w: Float64Array): void {
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

/** Directions and results of the samples of a quarter turn, grown as needed; scratch. */
let samples = 0;
let cosine = new Float64Array(0),
  sine = new Float64Array(0),
  areas = new Float64Array(0),
  slopes = new Float64Array(0);
function prepare(n: number): void {
  if (n === samples) return;
  samples = n;
  cosine = new Float64Array(n + 1);
  sine = new Float64Array(n + 1);
  areas = new Float64Array(n + 1);
  slopes = new Float64Array(n + 1);
  for (let k = 0; k <= n; k++) {
    cosine[k] = Math.cos((k * Math.PI) / (2 * n));
    sine[k] = Math.sin((k * Math.PI) / (2 * n));
  }
}

/** Least area so far and its angle. */
let best = Infinity,
  angle = 0;
/** Follows a minimum between two angles: the slope falls at `lo` and rises at `hi`. */
function narrow(
  w: Float64Array,
  lo: number,
  hi: number,
  fl: number,
  fh: number,
  gl: number,
  gh: number,
  accuracy: number,
): void {
  let halve = false;
  for (let m = 0; m < NARROWINGS; m++) {
    const width = hi - lo;
    // Tangents cross at the least value of a convex piece; a concave one may lie below by its curvature, about 2·area.
    const cross = lo + (fh - fl - gh * width) / (gl - gh);
    const promise = fl + gl * (cross - lo) - best * width * width;
    if (best - promise <= accuracy * best) break;
    let t = halve ? 0.5 * (lo + hi) : cross;
    if (!(t > lo && t < hi)) t = 0.5 * (lo + hi);
    if (!(t > lo && t < hi)) break;
    const f = area(w, Math.cos(t), Math.sin(t));
    if (f < best) {
      best = f;
      angle = t;
    }
    if (slope < 0) {
      lo = t;
      fl = f;
      gl = slope;
    } else {
      hi = t;
      fh = f;
      gh = slope;
    }
    halve = hi - lo > 0.5 * width;
  }
}

/** Samples an interval more finely for a minimum that its ends do not show. */
function lookWithin(w: Float64Array, from: number, step: number, fl: number, gl: number, search: BoxSearch): void {
  let [f0, g0] = [fl, gl];
  const fine = step / search.hidden;
  for (let i = 1; i <= search.hidden; i++) {
    const t = from + i * fine;
    const f = area(w, Math.cos(t), Math.sin(t));
    const g = slope;
    if (f < best) {
      best = f;
      angle = t;
    }
    if (g0 < 0 && g > 0) narrow(w, t - fine, t, f0, f, g0, g, search.accuracy);
    [f0, g0] = [f, g];
  }
}

/**
 * The box with one axis along the unit vector `axis` and the least area across it, into `out`. `search` is `BOX_QUICK` by
 * default.
 */
export function boxAlong(posed: PosedShapes, axis: Vec3, out: FoldBox, search: BoxSearch = BOX_QUICK): void {
  across(axis, basis);
  const w = out.work;
  shadows(posed, w);
  const n = search.samples;
  prepare(n);
  best = Infinity;
  angle = 0;
  const diagonal = n >> 1;
  areas[0] = area(w, 1, 0);
  slopes[0] = slope;
  noteTouching(1, 0, 0);
  areas[diagonal] = area(w, cosine[diagonal]!, sine[diagonal]!);
  slopes[diagonal] = slope;
  noteTouching(cosine[diagonal]!, sine[diagonal]!, 1);
  dropInner(w);
  for (let k = 0; k < n; k++) {
    if (k !== 0 && k !== diagonal) {
      areas[k] = area(w, cosine[k]!, sine[k]!);
      slopes[k] = slope;
    }
    if (areas[k]! < best) {
      best = areas[k]!;
      angle = (k * Math.PI) / (2 * n);
    }
  }
  areas[n] = areas[0]!; // a quarter turn swaps the two widths
  slopes[n] = slopes[0]!;
  const step = Math.PI / (2 * n);
  const coarse = best;
  for (let k = 0; k < n; k++) {
    const [fl, fh, gl, gh] = [areas[k]!, areas[k + 1]!, slopes[k]!, slopes[k + 1]!];
    // Widths change by at most the diagonal per radian: an interval far above the best cannot hold the minimum in practice.
    if (Math.min(fl, fh) > 1.3 * coarse) continue;
    if (gl < 0 && gh > 0) narrow(w, k * step, (k + 1) * step, fl, fh, gl, gh, search.accuracy);
    // A kink turns a slope up and curvature (down to about −2·area) turns it back within one interval only where it is slight.
    else if (search.hidden > 0 && Math.min(Math.abs(gl), Math.abs(gh)) < 2 * Math.max(fl, fh) * step)
      lookWithin(w, k * step, step, fl, gl, search);
  }
  const c = Math.cos(angle),
    s = Math.sin(angle);
  for (let k = 0; k < 3; k++) {
    turned[k] = axis[k]!;
    turned[3 + k] = c * basis[k]! + s * basis[3 + k]!;
    turned[6 + k] = c * basis[3 + k]! - s * basis[k]!;
  }
  boxAxes(posed, turned, out);
}
