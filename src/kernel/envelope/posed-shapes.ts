/**
 * Shapes in a posture: every capsule, disc and box of a candidate moved by its body, flat and owned by the caller.
 *
 * Layout per shape as in `State`: capsule 7 (p, q, radius), disc 8 (centre, unit normal, radius, half thickness; a flat
 * cylinder), box 15 (centre, three unit axes, half sizes). `bounds` holds the axis-parallel bounds of each shape, 6 per
 * shape in shape order (min x y z, max x y z): the cheap first test of every pair and the extremes of the package.
 * Bounds: segment ± r; disc c ± (R√(1−n²) + h|n|) per coordinate; box c ± Σ|a|h. Exact but for rounding, which for a disc
 * square to an axis reaches 1.5e-8 of its radius.
 * Not here: tori (a tyre is its flat cylinder), bent tubes (a chain of capsules).
 */
import type { State, Topology } from '../model/types.ts';

export interface PosedShapes {
  readonly nCapsule: number;
  readonly nDisc: number;
  readonly nBox: number;
  /** 7 per capsule. */
  readonly capsule: Float64Array;
  /** 8 per disc. */
  readonly disc: Float64Array;
  /** 15 per box. */
  readonly box: Float64Array;
  /** 6 per shape: min x, y, z, max x, y, z. */
  readonly bounds: Float64Array;
}

/** Room for the posed shapes of a topology; all zero until `poseShapes`. */
export function newPosedShapes(top: Pick<Topology, 'nCapsule' | 'nDisc' | 'nBox'>): PosedShapes {
  const { nCapsule, nDisc, nBox } = top;
  return {
    nCapsule,
    nDisc,
    nBox,
    capsule: new Float64Array(7 * nCapsule),
    disc: new Float64Array(8 * nDisc),
    box: new Float64Array(15 * nBox),
    bounds: new Float64Array(6 * (nCapsule + nDisc + nBox)),
  };
}

/** Moves 3 numbers as a point (`w` 1) or a vector (`w` 0) by the rigid motion t[o..o+11]. */
function put(t: Float64Array, o: number, w: number, from: Float64Array, i: number, to: Float64Array, j: number): void {
  const x = from[i]!,
    y = from[i + 1]!,
    z = from[i + 2]!;
  to[j] = t[o]! * x + t[o + 1]! * y + t[o + 2]! * z + w * t[o + 3]!;
  to[j + 1] = t[o + 4]! * x + t[o + 5]! * y + t[o + 6]! * z + w * t[o + 7]!;
  to[j + 2] = t[o + 8]! * x + t[o + 9]! * y + t[o + 10]! * z + w * t[o + 11]!;
}

/** `to` capsule j = the motion t at o applied to `from` capsule i. */
export function moveCapsule(
  t: Float64Array,
  o: number,
  from: Float64Array,
  i: number,
  to: Float64Array,
  j: number,
): void {
  put(t, o, 1, from, i, to, j);
  put(t, o, 1, from, i + 3, to, j + 3);
  to[j + 6] = from[i + 6]!;
}
/** As `moveCapsule`, for 8 numbers of a disc. */
export function moveDisc(t: Float64Array, o: number, from: Float64Array, i: number, to: Float64Array, j: number): void {
  put(t, o, 1, from, i, to, j);
  put(t, o, 0, from, i + 3, to, j + 3);
  to[j + 6] = from[i + 6]!;
  to[j + 7] = from[i + 7]!;
}
/** As `moveCapsule`, for 15 numbers of a box. */
export function moveBox(t: Float64Array, o: number, from: Float64Array, i: number, to: Float64Array, j: number): void {
  put(t, o, 1, from, i, to, j);
  put(t, o, 0, from, i + 3, to, j + 3);
  put(t, o, 0, from, i + 6, to, j + 6);
  put(t, o, 0, from, i + 9, to, j + 9);
  to[j + 12] = from[i + 12]!;
  to[j + 13] = from[i + 13]!;
  to[j + 14] = from[i + 14]!;
}

/** Poses every shape by `s.bodyT` and refreshes the bounds. */
export function poseShapes(top: Topology, s: State, posed: PosedShapes): void {
  const { nCapsule, nDisc, nBox, shapeBody } = top;
  const t = s.bodyT;
  for (let i = 0; i < nCapsule; i++) moveCapsule(t, 12 * shapeBody[i]!, s.capsule, 7 * i, posed.capsule, 7 * i);
  for (let i = 0; i < nDisc; i++) moveDisc(t, 12 * shapeBody[nCapsule + i]!, s.disc, 8 * i, posed.disc, 8 * i);
  for (let i = 0; i < nBox; i++) moveBox(t, 12 * shapeBody[nCapsule + nDisc + i]!, s.box, 15 * i, posed.box, 15 * i);
  refreshBounds(posed);
}

/** As `poseShapes`, but only the shapes of `list`: the others keep what they have. */
export function poseShapesOf(top: Topology, s: State, posed: PosedShapes, list: Int32Array): void {
  const { nCapsule, nDisc, shapeBody } = top;
  const t = s.bodyT;
  for (let k = 0; k < list.length; k++) {
    const shape = list[k]!;
    const o = 12 * shapeBody[shape]!;
    if (shape < nCapsule) {
      moveCapsule(t, o, s.capsule, 7 * shape, posed.capsule, 7 * shape);
      boundCapsule(posed, shape);
    } else if (shape < nCapsule + nDisc) {
      const i = shape - nCapsule;
      moveDisc(t, o, s.disc, 8 * i, posed.disc, 8 * i);
      boundDisc(posed, i);
    } else {
      const i = shape - nCapsule - nDisc;
      moveBox(t, o, s.box, 15 * i, posed.box, 15 * i);
      boundBox(posed, i);
    }
  }
}

/** Recomputes `bounds` after shapes were written directly. */
export function refreshBounds(posed: PosedShapes): void {
  for (let i = 0; i < posed.nCapsule; i++) boundCapsule(posed, i);
  for (let i = 0; i < posed.nDisc; i++) boundDisc(posed, i);
  for (let i = 0; i < posed.nBox; i++) boundBox(posed, i);
}

function boundCapsule({ capsule, bounds }: PosedShapes, i: number): void {
  const k = 7 * i;
  const o = 6 * i;
  const r = capsule[k + 6]!;
  for (let c = 0; c < 3; c++) {
    const p = capsule[k + c]!,
      q = capsule[k + 3 + c]!;
    bounds[o + c] = (p < q ? p : q) - r;
    bounds[o + 3 + c] = (p < q ? q : p) + r;
  }
}
function boundDisc({ nCapsule, disc, bounds }: PosedShapes, i: number): void {
  const k = 8 * i;
  const o = 6 * (nCapsule + i);
  const R = disc[k + 6]!,
    h = disc[k + 7]!;
  for (let c = 0; c < 3; c++) {
    const n = disc[k + 3 + c]!;
    const e = R * Math.sqrt(n * n < 1 ? 1 - n * n : 0) + h * Math.abs(n);
    bounds[o + c] = disc[k + c]! - e;
    bounds[o + 3 + c] = disc[k + c]! + e;
  }
}
function boundBox({ nCapsule, nDisc, box, bounds }: PosedShapes, i: number): void {
  const k = 15 * i;
  const o = 6 * (nCapsule + nDisc + i);
  for (let c = 0; c < 3; c++) {
    const e =
      Math.abs(box[k + 3 + c]!) * box[k + 12]! +
      Math.abs(box[k + 6 + c]!) * box[k + 13]! +
      Math.abs(box[k + 9 + c]!) * box[k + 14]!;
    bounds[o + c] = box[k + c]! - e;
    bounds[o + 3 + c] = box[k + c]! + e;
  }
}
