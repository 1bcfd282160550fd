/**
 * The gap between any two posed shapes, with witness points: one entrance to the closed forms and the convex search.
 *
 * capsule–capsule: `segment-distance.ts`; capsule–disc: `segment-disc.ts`; capsule–box: `segment-box.ts`; the others by
 * `convex-distance.ts`. Apart: the true distance, m. Overlapping: minus the estimate of `overlap-depth.ts`.
 * Accuracy: 1e-9 m when apart.
 */
import { ACCURACY, convexDistance, SHAPE } from './convex-distance.ts';
import { overlapDepth } from './overlap-depth.ts';
import type { PosedShapes } from './posed-shapes.ts';
import { nearestOnBox, segmentBox } from './segment-box.ts';
import { nearestOnDisc, segmentDisc } from './segment-disc.ts';
import { segmentSegment } from './segment-distance.ts';

/** Cores nearer than this cross, m: below it the direction between witness points means nothing. */
const CROSS = 1e-12;
/** Parameters of the segment routines; leaf scratch, never re-entered. */
const st = new Float64Array(2);

/** Moves the core point at out[o] by r towards out[to] (distance d between them). */
function surface(out: Float64Array, o: number, to: number, d: number, r: number): void {
  const k = r / d;
  for (let c = 0; c < 3; c++) out[o + c] = out[o + c]! + k * (out[to + c]! - out[o + c]!);
}
/** Puts both witnesses at the middle between them: for overlapping shapes. */
function meet(out: Float64Array): void {
  for (let c = 0; c < 3; c++) out[c] = out[3 + c] = 0.5 * (out[c]! + out[3 + c]!);
}

function capsuleCapsule(A: Float64Array, i: number, B: Float64Array, j: number, out: Float64Array): number {
  const d = Math.sqrt(segmentSegment(A, i, B, j, st));
  const ra = A[i + 6]!,
    rb = B[j + 6]!;
  const s = st[0]!,
    t = st[1]!;
  for (let c = 0; c < 3; c++) {
    out[c] = A[i + c]! + s * (A[i + 3 + c]! - A[i + c]!);
    out[3 + c] = B[j + c]! + t * (B[j + 3 + c]! - B[j + c]!);
  }
  if (d > ra + rb) {
    const ka = ra / d,
      kb = rb / d;
    for (let c = 0; c < 3; c++) {
      const u = out[3 + c]! - out[c]!;
      out[c] = out[c]! + ka * u;
      out[3 + c] = out[3 + c]! - kb * u;
    }
    return d - ra - rb;
  }
  meet(out);
  if (d === ra + rb) return 0;
  return -overlapDepth(SHAPE.capsule, A, i, SHAPE.capsule, B, j, d > CROSS ? d : 0);
}

function capsuleSolid(kind: number, A: Float64Array, i: number, B: Float64Array, j: number, out: Float64Array): number {
  const d = Math.sqrt(kind === SHAPE.disc ? segmentDisc(A, i, B, j, st) : segmentBox(A, i, B, j, st));
  const t = st[0]!;
  const r = A[i + 6]!;
  for (let c = 0; c < 3; c++) out[c] = A[i + c]! + t * (A[i + 3 + c]! - A[i + c]!);
  if (kind === SHAPE.disc) nearestOnDisc(B, j, out[0]!, out[1]!, out[2]!, out, 3);
  else nearestOnBox(B, j, out[0]!, out[1]!, out[2]!, out, 3);
  if (d > r) {
    surface(out, 0, 3, d, r);
    return d - r;
  }
  meet(out);
  if (d === r) return 0;
  return -overlapDepth(SHAPE.capsule, A, i, kind, B, j, d > CROSS ? d : 0);
}

/** An edge of a box as a segment, and the nearest points of the best edge. Leaf scratch. */
const edge = new Float64Array(6);
const near = new Float64Array(6);
/**
 * Distance of two boxes apart, as the least over the edges of each to the other: exact, but 24 segment tests. For boxes
 * so nearly parallel (1e-8 rad) that the convex search stops nanometres early.
 */
function boxBoxByEdges(A: Float64Array, i: number, B: Float64Array, j: number, out: Float64Array): number {
  let least = Infinity;
  for (let side = 0; side < 2; side++) {
    const P = side === 0 ? A : B,
      Q = side === 0 ? B : A;
    const p = side === 0 ? i : j,
      q = side === 0 ? j : i;
    for (let e = 0; e < 12; e++) {
      const along = e >> 2;
      for (let c = 0; c < 3; c++) {
        let middle = P[p + c]!;
        for (let k = 1; k < 3; k++) {
          const axis = (along + k) % 3;
          const h = P[p + 12 + axis]! * P[p + 3 + 3 * axis + c]!;
          middle += (e >> (k - 1)) & 1 ? h : -h;
        }
        const h = P[p + 12 + along]! * P[p + 3 + 3 * along + c]!;
        edge[c] = middle - h;
        edge[3 + c] = middle + h;
      }
      const d2 = segmentBox(edge, 0, Q, q, st);
      if (d2 >= least) continue;
      least = d2;
      const o = 3 * side;
      for (let c = 0; c < 3; c++) near[o + c] = edge[c]! + st[0]! * (edge[3 + c]! - edge[c]!);
      nearestOnBox(Q, q, near[o]!, near[o + 1]!, near[o + 2]!, near, 3 - o);
    }
  }
  for (let c = 0; c < 6; c++) out[c] = near[c]!;
  return Math.sqrt(least);
}

/**
 * Gap between two shapes given by kind, array and offset; witnesses on A and B to out[0..5] (`out` needs 7). May stop early
 * once the gap is known to exceed `cutoff`: it then returns a lower bound above `cutoff` and the witnesses are not valid.
 */
export function gapOf(
  kindA: number,
  A: Float64Array,
  i: number,
  kindB: number,
  B: Float64Array,
  j: number,
  cutoff: number,
  out: Float64Array,
  accuracy = ACCURACY,
): number {
  if (kindA === SHAPE.capsule)
    return kindB === SHAPE.capsule ? capsuleCapsule(A, i, B, j, out) : capsuleSolid(kindB, A, i, B, j, out);
  if (kindB === SHAPE.capsule) {
    const gap = capsuleSolid(kindA, B, j, A, i, out);
    for (let c = 0; c < 3; c++) {
      const x = out[c]!;
      out[c] = out[3 + c]!;
      out[3 + c] = x;
    }
    return gap;
  }
  const d = convexDistance(kindA, A, i, kindB, B, j, cutoff, out, accuracy);
  if (d > 0) {
    const early = d <= cutoff && d - out[6]! > accuracy && kindA === SHAPE.box && kindB === SHAPE.box;
    return early ? boxBoxByEdges(A, i, B, j, out) : d;
  }
  meet(out);
  return -overlapDepth(kindA, A, i, kindB, B, j, 0);
}

/** Kind of a shape by its index: capsules, then discs, then boxes. */
export const shapeKind = (posed: PosedShapes, shape: number): number =>
  shape < posed.nCapsule ? SHAPE.capsule : shape < posed.nCapsule + posed.nDisc ? SHAPE.disc : SHAPE.box;
/** The array of a kind. */
export const shapeArray = (posed: PosedShapes, kind: number): Float64Array =>
  kind === SHAPE.capsule ? posed.capsule : kind === SHAPE.disc ? posed.disc : posed.box;
/** Offset of a shape in the array of its kind. */
export const shapeOffset = (posed: PosedShapes, shape: number): number =>
  shape < posed.nCapsule
    ? 7 * shape
    : shape < posed.nCapsule + posed.nDisc
      ? 8 * (shape - posed.nCapsule)
      : 15 * (shape - posed.nCapsule - posed.nDisc);

/** Gap between shapes `a` and `b` of a posture; see `gapOf`. */
export function gapBetween(posed: PosedShapes, a: number, b: number, cutoff: number, out: Float64Array): number {
  const kindA = shapeKind(posed, a),
    kindB = shapeKind(posed, b);
  return gapOf(
    kindA,
    shapeArray(posed, kindA),
    shapeOffset(posed, a),
    kindB,
    shapeArray(posed, kindB),
    shapeOffset(posed, b),
    cutoff,
    out,
  );
}

/** True when the bounds of two shapes are apart by at least `reach` (0 or more): by more than 0 when `reach` is 0. */
export function boundsApart(bounds: Float64Array, a: number, b: number, reach: number): boolean {
  const i = 6 * a,
    j = 6 * b;
  // One coordinate alone tells most pairs apart.
  let x = bounds[j]! - bounds[i + 3]!;
  const x2 = bounds[i]! - bounds[j + 3]!;
  if (x2 > x) x = x2;
  if (x > reach) return true;
  let y = bounds[j + 1]! - bounds[i + 4]!;
  const y2 = bounds[i + 1]! - bounds[j + 4]!;
  if (y2 > y) y = y2;
  if (y > reach) return true;
  let z = bounds[j + 2]! - bounds[i + 5]!;
  const z2 = bounds[i + 2]! - bounds[j + 5]!;
  if (z2 > z) z = z2;
  if (z > reach) return true;
  if (reach === 0 || reach === Infinity) return false;
  const sum = (x > 0 ? x * x : 0) + (y > 0 ? y * y : 0) + (z > 0 ? z * z : 0);
  return sum >= reach * reach;
}
