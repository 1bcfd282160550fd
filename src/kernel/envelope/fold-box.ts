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
import { across, area, basis, dropInner, noteTouching, shadows, slope } from './box-shadow.ts';
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

/** Axes of the result before they are written; scratch. */
const turned = new Float64Array(9);
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
