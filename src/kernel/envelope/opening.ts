/**
 * The ways through an opening into the place behind it, and exactly what each one proves.
 *
 * straight  The package keeps its attitude and is pushed along the depth. Its shadow along the push must lie within the
 *           opening: sufficient, and necessary for a straight push in that attitude.
 * rolled    It is pushed straight while held rolled by ρ about the push axis. With a roomier place behind (`room`) it is
 *           rolled back there, and every attitude on the way back is proven to lie within the room. Without one it stays
 *           rolled. The best ρ for the given direction is proven; other directions of push are only sampled.
 * turned    There is no room to line up: an aisle of width p in front (turned in plan by 90°), or a sloping approach with
 *           headroom p (tilted in side view by the slope β). The package is taken as its bounding rectangle a × b in the
 *           plane of the turn, its long side sliding on both outer walls. With the outer corner O as origin and the inner
 *           corner C, the side stands off C by
 *             f(α) = Cx·sin α + p·cos α − a·sin α·sin(β − α)/sin β,   Cx = (q − p·cos β)/sin β,   0 ≤ α ≤ β,
 *           and the turn is free when f(α) ≥ b throughout. For β = 90° that is the known corridor condition
 *           q·sin α + p·cos α − a·sin α·cos α ≥ b. Sufficient: a package slimmer than its rectangle, or an aisle that
 *           runs on past the opening, may pass where this says no.
 * Source: own derivation from plane geometry; the right-angled case with b = 0 is the classical ladder problem,
 * a = (p^(2/3) + q^(2/3))^(3/2) (any calculus textbook), which verifies it.
 * Not here: the hand and arm that hold the package, soft parts that give way, lifting over a sill with a turn about two
 * axes at once.
 */
import type { Vec3 } from '../math/rigid.ts';
import { leastProved } from './bound-search.ts';
import { bestTurn, shadowOf, worstTurn } from './shadow.ts';
import type { Solid } from './solid.ts';

export const ENTRY = {
  straight: 'pushed straight in without a turn',
  rolled: 'pushed straight in while rolled about the push axis',
  turned: 'turned in round a corner, as its bounding rectangle',
} as const;
export type EntryKind = keyof typeof ENTRY;

/** Room in front of the opening: an aisle (turn in plan) or a sloping floor with headroom square to it (tilt in side view). */
export type Approach =
  | { readonly kind: 'aisle'; readonly width: number }
  | { readonly kind: 'slope'; readonly angle: number; readonly headroom: number };

/** Proof tolerance of the searches in this discipline, m: far below what a tape shows. */
export const SPACE_TOLERANCE = 1e-6;

/**
 * Least of f(α) − b (m) for a rectangle of length `a` and breadth `b` that turns by `beta` (rad, 0 < β ≤ 90°) from a
 * corridor of width `p` into one of width `q`. Not negative: it gets round. The value is proven from below.
 */
export function cornerMargin(p: number, q: number, beta: number, a: number, b: number): number {
  if (!(beta > 0 && beta <= Math.PI / 2 + 1e-12))
    throw new RangeError(`a turn of ${beta} rad is not between 0 and 90°`);
  const cx = (q - p * Math.cos(beta)) / Math.sin(beta);
  const k = a / Math.sin(beta);
  const f = (x: number): number => cx * Math.sin(x) + p * Math.cos(x) - k * Math.sin(x) * Math.sin(beta - x);
  // |f″| ≤ |Cx| + p + 2k: the chord between two values is undercut by at most |f″|·δ²/8.
  const bend = Math.abs(cx) + p + 2 * k;
  const least = leastProved(
    0,
    beta,
    f,
    (u, v) => Math.min(f(u), f(v)) - (bend * (v - u) * (v - u)) / 8,
    SPACE_TOLERANCE,
  );
  return least.bound - b;
}

/** Margin of getting from the approach into the opening: a straight line-up if there is length for it, else the turn. */
export function approachMargin(
  approach: Approach,
  opening: readonly [number, number],
  along: number,
  across: number,
  up: number,
): { readonly margin: number; readonly turned: boolean } {
  const turn =
    approach.kind === 'aisle'
      ? cornerMargin(approach.width, opening[0], Math.PI / 2, along, across)
      : cornerMargin(approach.headroom, opening[1], approach.angle, along, up);
  if (approach.kind === 'aisle' && approach.width - along >= turn)
    return { margin: approach.width - along, turned: false };
  return { margin: turn, turned: true };
}

export interface RolledEntry {
  /** Least clearance (m) at the opening and, with a room, on the way back to upright; proven reachable. */
  readonly margin: number;
  readonly roll: number;
  readonly across: number;
  readonly up: number;
  /** Proven: no roll in the range gives more than margin + gap at the opening, for this direction of push. */
  readonly gap: number;
}

/**
 * The best roll about the push axis within ±`most` (rad). `across` and `up` are unit vectors square to the push.
 * With a `room` (width, height) behind the opening the package is rolled back to 0 there.
 */
export function rolledEntry(
  solid: Solid,
  push: Vec3,
  across: Vec3,
  up: Vec3,
  opening: readonly [number, number],
  room: readonly [number, number] | undefined,
  most: number,
  tolerance: number = SPACE_TOLERANCE,
): RolledEntry {
  const shadow = shadowOf(solid, push, [across, up]);
  const [w, h] = opening;
  const best = bestTurn(shadow, -most, most, (x, z) => Math.max(x - w, z - h), tolerance);
  const size = shadow.width(best.at);
  let margin = -best.value;
  if (room && best.at !== 0) {
    const [from, to] = best.at < 0 ? [best.at, 0] : [0, best.at];
    const back = worstTurn(shadow, from, to, (x, z) => Math.max(x - room[0], z - room[1]), tolerance);
    margin = Math.min(margin, back.bound);
  }
  return { margin, roll: best.at, across: size.along, up: size.across, gap: best.residual };
}
