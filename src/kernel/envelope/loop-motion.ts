/**
 * How pairs of shapes move while a loop is driven, for the proof in `prove-least.ts`.
 *
 * Postures come from the traced loop and are kept per fraction u (all fractions are halvings of the segment, so pairs share
 * them). Followers have no fixed axis; the speed of a pair within an interval is bounded from its three places:
 *   in the frame of one shape's body the other's core moves between two places by at most
 *   |Δ centre| + 2 sin(φ/2)·(radius of its core about that centre), φ the relative rotation;
 *   s0, s1 = that distance over each half's width; bound = 1.05·(max(s0, s1) + |s0 − s1|).
 * That holds for any motion whose speed changes within the interval no more than twice as much as between its halves (a
 * speed linear in u needs half of the allowance; 1.05 covers arc over chord up to a relative turn of 1 rad per half). The
 * halves are believed only when |s0 − s1| ≤ max/3, otherwise the interval is halved again; near a dead point, where speed
 * grows without bound, that never comes and the proof says so. Of the two frames the smaller bound is taken.
 * Where all axes of the motion are parallel (a planar loop) relative displacements lie across that direction w and only
 * the share |n×w| of the speed closes the gap.
 */
import { type FoldPlan, type LinkageWorkspace, poseAlong } from '../linkage/index.ts';
import { type Model, type State, slides } from '../model/types.ts';
import { SHAPE } from './convex-distance.ts';
import { gapBetween, shapeArray, shapeKind, shapeOffset } from './gap.ts';
import { type PairMotion, TRUSTED } from './pair-motion.ts';
import { newPosedShapes, type PosedShapes, poseShapes } from './posed-shapes.ts';

const ARC = 1.05;
const AGREE = 1 / 3;
/** Largest relative turn per half for which ARC covers the arc: φ/2 / sin(φ/2) ≤ 1.05 up to 1.08 rad. */
const TURN = 1;
/** Axes are parallel within this (sine). */
const PARALLEL = 1e-9;

interface Place {
  readonly bodyT: Float64Array;
  readonly posed: PosedShapes;
}

/** Motion of segment `i` (a loop) of the plan; `scratch` is a posture of the caller's that is overwritten. */
export function loopMotion(
  m: Pick<Model, 'top'>,
  scratch: State,
  plan: FoldPlan,
  i: number,
  ws: LinkageWorkspace,
): PairMotion {
  const { top } = m;
  const { shapeBody } = top;
  const segment = plan.segments[i]!;
  const list: number[] = [];
  for (let k = 0; k < top.pairs.length; k += 2) {
    const a = top.pairs[k]!,
      b = top.pairs[k + 1]!;
    const p = shapeBody[a]!,
      q = shapeBody[b]!;
    if (p !== q && (segment.moving[p] || segment.moving[q])) list.push(a, b);
  }
  const pairs = Int32Array.from(list);
  const places = new Map<number, Place | null>();
  const place = (u: number): Place | null => {
    let known = places.get(u);
    if (known === undefined) {
      const report = poseAlong(m, plan, i, u * segment.reached, scratch, ws);
      if (report.converged) {
        const posed = newPosedShapes(top);
        poseShapes(top, scratch, posed);
        known = { bodyT: scratch.bodyT.slice(), posed };
      } else known = null;
      places.set(u, known);
    }
    return known;
  };
  const w = planarAxis(m, place(0)?.bodyT, scratch, [segment.joint, ...segment.followers, ...segment.cuts]);

  return {
    pairs,
    startSpeed: Infinity,
    gap(k, u, out) {
      const at = place(u);
      return at ? gapBetween(at.posed, pairs[2 * k]!, pairs[2 * k + 1]!, Infinity, out) : NaN;
    },
    closing(_k, gap, out) {
      if (!w || !(gap > TRUSTED)) return 1;
      const x = (out[3]! - out[0]!) / gap,
        y = (out[4]! - out[1]!) / gap,
        z = (out[5]! - out[2]!) / gap;
      const a = y * w[2] - z * w[1],
        b = z * w[0] - x * w[2],
        c = x * w[1] - y * w[0];
      return Math.min(1, Math.sqrt(a * a + b * b + c * c));
    },
    speed(k, u0, um, u1) {
      const p0 = place(u0),
        pm = place(um),
        p1 = place(u1);
      if (!p0 || !pm || !p1) return Infinity;
      const a = pairs[2 * k]!,
        b = pairs[2 * k + 1]!;
      const half = um - u0;
      let least = Infinity;
      for (let turn = 0; turn < 2; turn++) {
        const frame = shapeBody[turn === 0 ? a : b]!;
        const shape = turn === 0 ? b : a;
        const s0 = displacement(p0, pm, frame, shapeBody[shape]!, shape) / half;
        const s1 = displacement(pm, p1, frame, shapeBody[shape]!, shape) / half;
        const most = Math.max(s0, s1),
          change = Math.abs(s0 - s1);
        // Motions below a nanometre are rounding and need no agreement.
        if (change <= AGREE * most || most * half < 1e-9) least = Math.min(least, ARC * (most + change));
      }
      return least;
    },
  };
}

/** The common direction across which everything moves; null when the motion is not planar. */
function planarAxis(
  m: Pick<Model, 'top'>,
  bodyT: Float64Array | undefined,
  s: State,
  joints: readonly number[],
): readonly [number, number, number] | null {
  if (!bodyT) return null;
  const { top } = m;
  let w: readonly [number, number, number] | null = null;
  for (let pass = 0; pass < 2; pass++) {
    for (const j of joints) {
      const o = 12 * top.jointA[j]!;
      const ax = s.joint[6 * j + 3]!,
        ay = s.joint[6 * j + 4]!,
        az = s.joint[6 * j + 5]!;
      const x = bodyT[o]! * ax + bodyT[o + 1]! * ay + bodyT[o + 2]! * az,
        y = bodyT[o + 4]! * ax + bodyT[o + 5]! * ay + bodyT[o + 6]! * az,
        z = bodyT[o + 8]! * ax + bodyT[o + 9]! * ay + bodyT[o + 10]! * az;
      const sliding = slides(top.kind[j]!);
      if (pass === 0) {
        if (!sliding && !w) w = [x, y, z];
        continue;
      }
      if (!w) return null;
      const along = x * w[0] + y * w[1] + z * w[2];
      const a = y * w[2] - z * w[1],
        b = z * w[0] - x * w[2],
        c = x * w[1] - y * w[0];
      if (sliding ? Math.abs(along) > PARALLEL : a * a + b * b + c * c > PARALLEL * PARALLEL) return null;
    }
  }
  return w;
}

/** Largest displacement of a shape's core, seen from body `frame`, between two places. Infinity for a turn above TURN. */
function displacement(from: Place, to: Place, frame: number, body: number, shape: number): number {
  const t = 12 * frame,
    b = 12 * body;
  const A = from.bodyT,
    B = to.bodyT;
  const kind = shapeKind(from.posed, shape);
  const o = shapeOffset(from.posed, shape);
  const D = shapeArray(from.posed, kind),
    E = shapeArray(to.posed, kind);
  // Relative rotation of body in frame: Q = F0ᵀ G0 and F1ᵀ G1; angle from the trace of Q0ᵀ Q1.
  let trace = 0;
  for (let r = 0; r < 3; r++)
    for (let c = 0; c < 3; c++) {
      let q0 = 0,
        q1 = 0;
      for (let k = 0; k < 3; k++) {
        q0 += A[t + 4 * k + r]! * A[b + 4 * k + c]!;
        q1 += B[t + 4 * k + r]! * B[b + 4 * k + c]!;
      }
      // ½ Σ (q0 − q1)² = 3 − trace = 4 sin²(φ/2)·… : kept as a sum of squares for accuracy at small angles.
      trace += (q0 - q1) * (q0 - q1);
    }
  const sine = Math.sqrt(trace / 8); // Frobenius norm² = 8 sin²(φ/2)
  if (sine > Math.sin(TURN / 2)) return Infinity;
  // The centre in the frame's coordinates, before and after.
  let sum = 0;
  for (let r = 0; r < 3; r++) {
    let p0 = 0,
      p1 = 0;
    for (let k = 0; k < 3; k++) {
      const c0 = kind === SHAPE.capsule ? 0.5 * (D[o + k]! + D[o + 3 + k]!) : D[o + k]!;
      const c1 = kind === SHAPE.capsule ? 0.5 * (E[o + k]! + E[o + 3 + k]!) : E[o + k]!;
      p0 += A[t + 4 * k + r]! * (c0 - A[t + 4 * k + 3]!);
      p1 += B[t + 4 * k + r]! * (c1 - B[t + 4 * k + 3]!);
    }
    sum += (p1 - p0) * (p1 - p0);
  }
  return Math.sqrt(sum) + 2 * sine * coreRadius(kind, D, o);
}

/** Radius of a shape's core about its centre: half the length of a capsule's segment, the corner of a disc or box. */
function coreRadius(kind: number, D: Float64Array, o: number): number {
  if (kind === SHAPE.capsule) {
    const x = D[o + 3]! - D[o]!,
      y = D[o + 4]! - D[o + 1]!,
      z = D[o + 5]! - D[o + 2]!;
    return 0.5 * Math.sqrt(x * x + y * y + z * z);
  }
  if (kind === SHAPE.disc) return Math.sqrt(D[o + 6]! * D[o + 6]! + D[o + 7]! * D[o + 7]!);
  return Math.sqrt(D[o + 12]! * D[o + 12]! + D[o + 13]! * D[o + 13]! + D[o + 14]! * D[o + 14]!);
}
