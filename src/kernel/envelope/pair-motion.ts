/**
 * How the pairs of shapes move during one motion segment, in the form that the proof needs: the gap of pair k at fraction
 * u, and a bound of how fast that gap can close.
 *
 * One joint turning about a line through o along unit w. Let n be the unit vector between the nearest points at u. The two
 * shapes are separated by the gap g along n, so the gap stays at least g − (reach of the moving shape along n gained), and
 * along n a shape gains at most, per radian,
 *   capsule, box   |n×w| · c,                              c = largest distance of a core end or corner from the axis
 *   disc           |n×w| · c + √(R²+h²) · min(|n×w|, |N×w|),  c = distance of its centre, N its normal
 * (a point's displacement is across w and no longer than c per radian; the support of a disc about its centre depends on
 * the angle between n and N only, which changes no faster than |n×w| and than |N×w|). A disc on its own axis does not
 * move at all. Turning one shape forward is turning the other back about the same axis, so the smaller of the two bounds
 * holds. A sliding joint gains |n·w| per metre. These bounds hold over the whole segment: with them the proof is complete
 * for one moving joint.
 *
 * Loops: see `loop-motion.ts`.
 */
import { rotationAbout, translationAlong } from '../math/rigid.ts';
import { SHAPE } from './convex-distance.ts';
import { gapOf, shapeArray, shapeKind, shapeOffset } from './gap.ts';
import { moveBox, moveCapsule, moveDisc, type PosedShapes } from './posed-shapes.ts';

export interface PairMotion {
  /** Pairs that move relative to each other: shapes, 2 per pair. */
  readonly pairs: Int32Array;
  /**
   * Gap of pair k at fraction u of the segment (0..1); witnesses in world axes to out[0..5]. NaN where the posture
   * cannot be had.
   */
  gap(k: number, u: number, out: Float64Array): number;
  /**
   * How fast the gap of pair k can close going away from a place where the nearest points lie in direction
   * out[3..5] − out[0..2] (length `gap`): m per unit of u, times the `speed` of the interval.
   */
  closing(k: number, gap: number, out: Float64Array): number;
  /** Speed that holds in both halves of an interval, given its three places. 1 for one joint; Infinity: not bounded yet. */
  speed(k: number, u0: number, um: number, u1: number): number;
  /** Speed of the whole segment before anything is known. */
  readonly startSpeed: number;
}

/** Directions are trusted when the nearest points are farther apart than this, m; otherwise any direction is assumed. */
export const TRUSTED = 1e-6;
/** Accuracy of gaps in proofs, m; taken off every proven bound. */
export const PROOF_ACCURACY = 1e-7;

/** A line through a point along a unit vector, world axes. */
export interface Screw {
  readonly point: readonly [number, number, number];
  readonly axis: readonly [number, number, number];
  readonly sliding: boolean;
}

/** c, √(R²+h²) and |N×w| of a shape about a line; see above. */
function leverOf(kind: number, D: Float64Array, o: number, screw: Screw, out: Float64Array, at: number): void {
  const [ox, oy, oz] = screw.point;
  const [wx, wy, wz] = screw.axis;
  const fromAxis = (x: number, y: number, z: number): number => {
    const a = (y - oy) * wz - (z - oz) * wy,
      b = (z - oz) * wx - (x - ox) * wz,
      c = (x - ox) * wy - (y - oy) * wx;
    return Math.sqrt(a * a + b * b + c * c);
  };
  out[at + 1] = 0;
  out[at + 2] = 0;
  if (kind === SHAPE.capsule) {
    out[at] = Math.max(fromAxis(D[o]!, D[o + 1]!, D[o + 2]!), fromAxis(D[o + 3]!, D[o + 4]!, D[o + 5]!));
  } else if (kind === SHAPE.disc) {
    out[at] = fromAxis(D[o]!, D[o + 1]!, D[o + 2]!);
    const R = D[o + 6]!,
      h = D[o + 7]!;
    out[at + 1] = Math.sqrt(R * R + h * h);
    out[at + 2] = fromAxis(ox + D[o + 3]!, oy + D[o + 4]!, oz + D[o + 5]!);
  } else {
    let far = 0;
    for (let corner = 0; corner < 8; corner++) {
      let x = D[o]!,
        y = D[o + 1]!,
        z = D[o + 2]!;
      for (let k = 0; k < 3; k++) {
        const h = (corner >> k) & 1 ? D[o + 12 + k]! : -D[o + 12 + k]!;
        x += h * D[o + 3 + 3 * k]!;
        y += h * D[o + 4 + 3 * k]!;
        z += h * D[o + 5 + 3 * k]!;
      }
      far = Math.max(far, fromAxis(x, y, z));
    }
    out[at] = far;
  }
}

/**
 * Motion of one joint: the shapes of `moving` bodies turn about (or slide along) the screw from 0 to `stroke` (rad or m,
 * signed), from the posture in `posed`, against all others.
 */
export function screwMotion(
  pairs: Int32Array,
  shapeBody: Int32Array,
  moving: Uint8Array,
  posed: PosedShapes,
  screw: Screw,
  stroke: number,
): PairMotion {
  const list: number[] = [];
  for (let k = 0; k < pairs.length; k += 2) {
    const a = pairs[k]!,
      b = pairs[k + 1]!;
    if (moving[shapeBody[a]!] !== moving[shapeBody[b]!]) list.push(a, b);
  }
  const own = Int32Array.from(list);
  const n = own.length / 2;
  // Per pair: the mover's place and the other's; levers of both.
  const movesFirst = new Uint8Array(n);
  const lever = new Float64Array(6 * n);
  for (let k = 0; k < n; k++) {
    const a = own[2 * k]!,
      b = own[2 * k + 1]!;
    movesFirst[k] = moving[shapeBody[a]!]!;
    for (const [shape, at] of [
      [a, 6 * k],
      [b, 6 * k + 3],
    ] as const) {
      const kind = shapeKind(posed, shape);
      leverOf(kind, shapeArray(posed, kind), shapeOffset(posed, shape), screw, lever, at);
    }
  }
  const { sliding } = screw;
  const [px, py, pz] = screw.point;
  const [wx, wy, wz] = screw.axis;
  const t = new Float64Array(12);
  const moved = new Float64Array(15);
  let at = NaN;
  const length = Math.abs(stroke);
  return {
    pairs: own,
    startSpeed: 1,
    speed: () => 1,
    gap(k, u, out) {
      if (u !== at) {
        at = u;
        if (sliding) translationAlong(wx, wy, wz, u * stroke, t);
        else rotationAbout(px, py, pz, wx, wy, wz, u * stroke, t);
      }
      const a = own[2 * k]!,
        b = own[2 * k + 1]!;
      const kindA = shapeKind(posed, a),
        kindB = shapeKind(posed, b);
      const A = shapeArray(posed, kindA),
        B = shapeArray(posed, kindB);
      const i = shapeOffset(posed, a),
        j = shapeOffset(posed, b);
      const first = movesFirst[k] === 1;
      const kind = first ? kindA : kindB;
      const D = first ? A : B;
      const o = first ? i : j;
      if (kind === SHAPE.capsule) moveCapsule(t, 0, D, o, moved, 0);
      else if (kind === SHAPE.disc) moveDisc(t, 0, D, o, moved, 0);
      else moveBox(t, 0, D, o, moved, 0);
      return first
        ? gapOf(kindA, moved, 0, kindB, B, j, Infinity, out, PROOF_ACCURACY)
        : gapOf(kindA, A, i, kindB, moved, 0, Infinity, out, PROOF_ACCURACY);
    },
    closing(k, gap, out) {
      let across = 1,
        along = 1;
      if (gap > TRUSTED) {
        const x = (out[3]! - out[0]!) / gap,
          y = (out[4]! - out[1]!) / gap,
          z = (out[5]! - out[2]!) / gap;
        const a = y * wz - z * wy,
          b = z * wx - x * wz,
          c = x * wy - y * wx;
        across = Math.sqrt(a * a + b * b + c * c);
        along = Math.abs(x * wx + y * wy + z * wz);
        if (across > 1) across = 1;
        if (along > 1) along = 1;
      }
      if (sliding) return along * length;
      const o = 6 * k;
      const s = lever[o + 2]!,
        q = lever[o + 5]!;
      const a = across * lever[o]! + lever[o + 1]! * (across < s ? across : s);
      const b = across * lever[o + 3]! + lever[o + 4]! * (across < q ? across : q);
      return (a < b ? a : b) * length;
    },
  };
}
