/**
 * The least gap of every two bodies over one motion segment, with a proven lower bound.
 *
 * From a place where the gap is g and can close at most k per unit of u, the gap is at least g − k·|Δu|. Between two places
 * both bounds hold; they are weakest where they cross:
 *   bound = (g0·k1 + g1·k0 − k0·k1·Δu) / (k0 + k1).
 * All intervals of all pairs are halved level by level until their bound is within tolerance of the least gap found for their
 * two bodies, or above `care`. This is conservative advancement (B. Mirtich, PhD thesis, UC Berkeley 1996; X. Zhang,
 * S. Redon, M. Lee, Y. J. Kim, *Continuous collision detection for articulated models using Taylor models and temporal
 * culling*, ACM Trans. Graphics 26(3), 2007) run as a bisection (S. A. Piyavskii 1972; B. O. Shubert 1972), which proves
 * the minimum and not only the absence of contact.
 * A clash ends the proof for its pair of bodies: `proven` is then −Infinity, and the first contact is searched from the
 * start, leftmost interval first, until no more than `CONTACT` can have been passed through.
 * The accuracy of the gaps (`PROOF_ACCURACY`) is taken off every bound.
 */
import { at3 } from '../math/rigid.ts';
import type { FirstContact, LeastAlong, ProofOptions } from './clash-types.ts';
import { type PairMotion, PROOF_ACCURACY } from './pair-motion.ts';

const TOLERANCE = 2e-4;
const RELATIVE = 0.05;
const CARE = 0.05;
const BUDGET = 200_000;
const CONTACT = 1e-6;
/** Bodies that clash are still halved down to this share of the segment, to tell about where they are deepest. */
const CLASH_WIDTH = 1 / 32;
/** Narrowest interval, share of the segment: only a loop at a dead point, whose speed has no bound, gets there. */
const NARROWEST = 1e-7;

export interface LeastOfMotion {
  /** Least of every two bodies, smallest gap first. */
  readonly byBodies: readonly LeastAlong[];
  readonly firstContact: FirstContact | undefined;
  readonly complete: boolean;
  readonly reason: string;
  readonly evaluations: number;
}

interface Found {
  gap: number;
  u: number;
  pair: number;
  proven: number;
  readonly points: Float64Array;
  clash: boolean;
}

/** Intervals: 8 numbers each: pair, u0, u1, gap at both, closing at both (per unit of speed), speed. */
const ROW = 8;
class Rows {
  data = new Float64Array(ROW * 512);
  count = 0;
  push(pair: number, u0: number, u1: number, g0: number, g1: number, f0: number, f1: number, speed: number): void {
    const o = ROW * this.count++;
    if (o + ROW > this.data.length) {
      const more = new Float64Array(2 * this.data.length);
      more.set(this.data);
      this.data = more;
    }
    const d = this.data;
    d[o] = pair;
    d[o + 1] = u0;
    d[o + 2] = u1;
    d[o + 3] = g0;
    d[o + 4] = g1;
    d[o + 5] = f0;
    d[o + 6] = f1;
    d[o + 7] = speed;
  }
}

/** Lower bound of the gap between two places `width` apart with gaps g and closing speeds k. */
function boundBetween(g0: number, g1: number, k0: number, k1: number, width: number): number {
  const sum = k0 + k1;
  if (!(sum < Infinity)) return -Infinity;
  const least = g0 < g1 ? g0 : g1;
  if (sum === 0) return least;
  const b = (g0 * k1 + g1 * k0 - k0 * k1 * width) / sum;
  return b < least ? b : least;
}

/** Proves the least gaps of a motion; `valueAt` turns the fraction u into the driven joint's value. */
export function proveLeast(
  motion: PairMotion,
  shapeBody: Int32Array,
  valueAt: (u: number) => number,
  options: ProofOptions = {},
): LeastOfMotion {
  const tolerance = options.tolerance ?? TOLERANCE,
    relative = options.relative ?? RELATIVE,
    care = options.care ?? CARE,
    budget = options.budget ?? BUDGET;
  const { pairs } = motion;
  const n = pairs.length / 2;
  const w = new Float64Array(7);
  const groups = new Map<number, Found>();
  const groupOf: Found[] = [];
  const clashing: number[] = [];
  let evaluations = 0;
  let lost = false;
  let open = new Rows(),
    next = new Rows();

  const look = (pair: number, u: number): number => {
    evaluations++;
    const g = motion.gap(pair, u, w);
    const found = groupOf[pair]!;
    if (g < found.gap) {
      found.gap = g;
      found.u = u;
      found.pair = pair;
      for (let c = 0; c < 6; c++) found.points[c] = w[c]!;
    }
    if (g <= 0) {
      found.clash = true;
      if (!clashing.includes(pair)) clashing.push(pair);
    }
    if (Number.isNaN(g)) lost = true;
    return g;
  };

  for (let pair = 0; pair < n; pair++) {
    const a = shapeBody[pairs[2 * pair]!]!,
      b = shapeBody[pairs[2 * pair + 1]!]!;
    const key = a < b ? a * 65536 + b : b * 65536 + a;
    let found = groups.get(key);
    if (!found) {
      found = { gap: Infinity, u: 0, pair, proven: Infinity, points: new Float64Array(6), clash: false };
      groups.set(key, found);
    }
    groupOf.push(found);
    const g0 = look(pair, 0);
    const f0 = motion.closing(pair, g0, w);
    const g1 = look(pair, 1);
    open.push(pair, 0, 1, g0, g1, f0, motion.closing(pair, g1, w), motion.startSpeed);
  }
  let loose = false;
  while (open.count > 0) {
    next.count = 0;
    const d = open.data;
    for (let row = 0, o = 0; row < open.count; row++, o += ROW) {
      const pair = d[o]!,
        u0 = d[o + 1]!,
        u1 = d[o + 2]!,
        g0 = d[o + 3]!,
        g1 = d[o + 4]!,
        f0 = d[o + 5]!,
        f1 = d[o + 6]!,
        v = d[o + 7]!;
      const found = groupOf[pair]!;
      const width = u1 - u0;
      if (found.clash) {
        if (width <= CLASH_WIDTH) continue;
      } else {
        const bound = boundBetween(g0, g1, f0 * v, f1 * v, width);
        const near = found.gap - tolerance - relative * (found.gap > 0 ? found.gap : 0);
        const enough = bound >= (near < care ? near : care);
        const stop = evaluations >= budget || lost || width < NARROWEST;
        if (enough || stop) {
          if (bound < found.proven) found.proven = bound;
          if (!enough) loose = true;
          continue;
        }
      }
      if (evaluations >= budget || lost) continue;
      const um = 0.5 * (u0 + u1);
      const gm = look(pair, um);
      const fm = motion.closing(pair, gm, w);
      const speed = motion.speed(pair, u0, um, u1);
      next.push(pair, u0, um, g0, gm, f0, fm, speed);
      next.push(pair, um, u1, gm, g1, fm, f1, speed);
    }
    [open, next] = [next, open];
  }

  let contact: { u: number; pair: number } | undefined;
  for (const pair of clashing) {
    const u = firstContact(motion, pair, contact?.u ?? 1, w);
    evaluations += u.evaluations;
    if (u.at < (contact?.u ?? Infinity)) contact = { u: u.at, pair };
  }
  const named = (pair: number): { bodies: [number, number]; shapes: [number, number]; swapped: boolean } => {
    const a = pairs[2 * pair]!,
      b = pairs[2 * pair + 1]!;
    const p = shapeBody[a]!,
      q = shapeBody[b]!;
    return p > q
      ? { bodies: [q, p], shapes: [b, a], swapped: true }
      : { bodies: [p, q], shapes: [a, b], swapped: false };
  };
  const byBodies = [...groups.values()].map((f): LeastAlong => {
    const { bodies, shapes, swapped } = named(f.pair);
    const pa = at3(f.points, 0),
      pb = at3(f.points, 3);
    return {
      bodies,
      gap: f.gap,
      shapes,
      points: swapped ? [pb, pa] : [pa, pb],
      proven: f.clash || lost ? -Infinity : f.proven - PROOF_ACCURACY,
      at: valueAt(f.u),
    };
  });
  byBodies.sort((x, y) => x.gap - y.gap || x.shapes[0] - y.shapes[0] || x.shapes[1] - y.shapes[1]);
  return {
    byBodies,
    firstContact: contact
      ? { at: valueAt(contact.u), bodies: named(contact.pair).bodies, shapes: named(contact.pair).shapes }
      : undefined,
    complete: !lost && !loose,
    reason: lost
      ? 'a posture on the way could not be had'
      : loose
        ? evaluations >= budget
          ? 'stopped at the largest number of evaluations; the bounds hold but are loose'
          : 'the speed of a follower has no bound at a dead point'
        : 'proven within tolerance',
    evaluations,
  };
}

/**
 * The smallest u ≤ `until` at which pair k touches, leftmost interval first; Infinity when it does not. Places that touch
 * by less than `CONTACT` may be passed over.
 */
function firstContact(
  motion: PairMotion,
  k: number,
  until: number,
  w: Float64Array,
): { at: number; evaluations: number } {
  let evaluations = 2;
  const g0 = motion.gap(k, 0, w);
  if (g0 <= 0) return { at: 0, evaluations };
  const f0 = motion.closing(k, g0, w);
  const g1 = motion.gap(k, until, w);
  const f1 = motion.closing(k, g1, w);
  const stack = [[0, until, g0, g1, f0, f1, motion.startSpeed]];
  while (stack.length > 0 && evaluations < BUDGET) {
    const [u0, u1, ga, gb, fa, fb, v] = stack.pop() as [number, number, number, number, number, number, number];
    const width = u1 - u0;
    const travel = Math.max(fa, fb) * v * width;
    if (gb > 0) {
      if (travel < CONTACT) continue;
      if (boundBetween(ga, gb, fa * v, fb * v, width) > 0) continue;
    } else if (travel < CONTACT || width < 1e-9) return { at: u1, evaluations };
    if (width < 1e-12) continue;
    const um = 0.5 * (u0 + u1);
    evaluations++;
    const gm = motion.gap(k, um, w);
    const fm = motion.closing(k, gm, w);
    const speed = motion.speed(k, u0, um, u1);
    if (gm > 0) stack.push([um, u1, gm, gb, fm, fb, speed]);
    stack.push([u0, um, ga, gm, fa, fm, speed]);
  }
  return { at: Infinity, evaluations };
}
