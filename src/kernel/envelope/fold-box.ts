/**
 * The box around a posture: in given axes, and with one axis given (a wheel axle, the vertical) and the other two turned to
 * the least area.
 *
 * Supports are exact: capsule max(p·u, q·u) + r; disc c·u + R√(1−(n·u)²) + h|n·u|; box c·u + Σ|a·u|h.
 * The area A(θ) = U(θ)·V(θ) of the rectangle at angle θ is smooth as long as the same shapes touch its sides, with kinks
 * where a side lies flush against two shapes; its slope follows from the touching points alone. The quarter turn is
 * sampled, every interval whose slope changes from falling to rising is narrowed by the crossing of its end tangents
 * (halved where that stalls), to 1e-7 rad. A minimum narrower than two samples can be missed: more samples settle it.
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

/** Default samples of a quarter turn: one in 5.6°. */
const SAMPLES = 16;
const ANGLE = 1e-7;
const NARROWINGS = 40;

export function newFoldBox(top: Pick<PosedShapes, 'nCapsule' | 'nDisc' | 'nBox'>): FoldBox {
  return {
    axes: new Float64Array(9),
    size: new Float64Array(3),
    centre: new Float64Array(3),
    volume: 0,
    work: new Float64Array(5 * top.nCapsule + 6 * top.nDisc + 8 * top.nBox),
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

/** Shadows on the plane: capsule x1 y1 x2 y2 r; disc x y nx ny R h; box x y and three half axes. */
function shadows(posed: PosedShapes, w: Float64Array): void {
  const { nCapsule, nDisc, nBox, capsule, disc, box } = posed;
  const ux = basis[0]!,
    uy = basis[1]!,
    uz = basis[2]!,
    vx = basis[3]!,
    vy = basis[4]!,
    vz = basis[5]!;
  let k = 0;
  for (let i = 0, o = 0; i < nCapsule; i++, o += 7, k += 5) {
    w[k] = capsule[o]! * ux + capsule[o + 1]! * uy + capsule[o + 2]! * uz;
    w[k + 1] = capsule[o]! * vx + capsule[o + 1]! * vy + capsule[o + 2]! * vz;
    w[k + 2] = capsule[o + 3]! * ux + capsule[o + 4]! * uy + capsule[o + 5]! * uz;
    w[k + 3] = capsule[o + 3]! * vx + capsule[o + 4]! * vy + capsule[o + 5]! * vz;
    w[k + 4] = capsule[o + 6]!;
  }
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
}

/** Width and its slope d/dθ along direction (c, s), into width[o], width[o+1]. */
const width = new Float64Array(4);
function widthAt(posed: PosedShapes, w: Float64Array, c: number, s: number, o: number): void {
  const { nCapsule, nDisc, nBox } = posed;
  let lo = Infinity,
    hi = -Infinity,
    dlo = 0,
    dhi = 0;
  let k = 0;
  for (let i = 0; i < nCapsule; i++, k += 5) {
    const p = w[k]! * c + w[k + 1]! * s,
      q = w[k + 2]! * c + w[k + 3]! * s,
      r = w[k + 4]!;
    const m = p < q ? k : k + 2;
    const a = (p < q ? p : q) - r;
    const b = (p < q ? q : p) + r;
    if (a < lo) {
      lo = a;
      dlo = w[m + 1]! * c - w[m]! * s;
    }
    if (b > hi) {
      hi = b;
      const f = k + k + 2 - m;
      dhi = w[f + 1]! * c - w[f]! * s;
    }
  }
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
  width[o] = hi - lo;
  width[o + 1] = dhi - dlo;
}

/** Slope of the last area computed. */
let slope = 0;
function area(posed: PosedShapes, w: Float64Array, c: number, s: number): number {
  widthAt(posed, w, c, s, 0);
  widthAt(posed, w, -s, c, 2);
  slope = width[1]! * width[2]! + width[0]! * width[3]!;
  return width[0]! * width[2]!;
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

/**
 * The box with one axis along the unit vector `axis` and the least area across it, into `out`. `samples` of the quarter
 * turn: 16 by default, for searches; 90 or more for a figure that is printed.
 */
export function boxAlong(posed: PosedShapes, axis: Vec3, out: FoldBox, samplesOfQuarter = SAMPLES): void {
  across(axis, basis);
  const w = out.work;
  shadows(posed, w);
  const n = samplesOfQuarter;
  prepare(n);
  let best = Infinity,
    angle = 0;
  for (let k = 0; k < n; k++) {
    areas[k] = area(posed, w, cosine[k]!, sine[k]!);
    slopes[k] = slope;
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
    if (!(slopes[k]! < 0 && slopes[k + 1]! > 0)) continue;
    // Widths change by at most the diagonal per radian: an interval far above the best cannot hold the minimum in practice.
    if (Math.min(areas[k]!, areas[k + 1]!) > 1.3 * coarse) continue;
    let lo = k * step,
      hi = lo + step,
      fl = areas[k]!,
      fh = areas[k + 1]!,
      gl = slopes[k]!,
      gh = slopes[k + 1]!;
    let halve = false;
    for (let m = 0; m < NARROWINGS && hi - lo > ANGLE; m++) {
      let t = halve ? 0.5 * (lo + hi) : (fh - fl + gl * lo - gh * hi) / (gl - gh);
      if (!(t > lo && t < hi)) t = 0.5 * (lo + hi);
      const before = hi - lo;
      const f = area(posed, w, Math.cos(t), Math.sin(t));
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
      halve = hi - lo > 0.5 * before;
      // Both tangents already promise no more than the rounding of the best.
      const promise = fl + (gl * (fh - fl - gh * (hi - lo))) / (gl - gh);
      if (!halve && best - promise < 1e-12 * best && promise <= best) break;
    }
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
