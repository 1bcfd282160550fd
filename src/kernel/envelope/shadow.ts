/**
 * The widths of a solid's shadow while it turns about one axis, and the best turn, proven.
 *
 * Seen along the axis u the solid is a convex shadow (its hull's). Turned by θ, its sides along
 * d(θ) = e1·cos θ + e2·sin θ and d(θ + 90°) are `along` and `across`. `bestTurn` looks for the θ at which a room's worst
 * excess is least, with the floors of `bound-search`.
 * Not here: turning about two axes at once.
 */
import { dot, type Vec3 } from '../math/rigid.ts';
import { type BoundedLeast, leastProved, widthCeiling, widthFloor } from './bound-search.ts';
import { type Solid, solidSupport, squareTo } from './solid.ts';

export interface ShadowWidth {
  readonly along: number;
  readonly across: number;
  /** Chords of both widths in (e1, e2). */
  readonly chords: readonly [number, number, number, number];
}
export interface Shadow {
  readonly e1: Vec3;
  readonly e2: Vec3;
  direction(theta: number): Vec3;
  width(theta: number): ShadowWidth;
  /** Floors of both widths on [a, b]. */
  floors(a: number, b: number): readonly [number, number];
  /** Ceilings of both widths on [a, b], b − a < π. */
  ceilings(a: number, b: number): readonly [number, number];
}

/** The shadow of a solid along the unit axis `u`; `base` gives the direction of θ = 0 (square to `u`) if it matters. */
export function shadowOf(solid: Solid, u: Vec3, base?: readonly [Vec3, Vec3]): Shadow {
  const [e1, e2] = base ?? squareTo(u);
  const seen = new Map<number, ShadowWidth>();
  const direction = (theta: number): Vec3 => {
    const c = Math.cos(theta),
      s = Math.sin(theta);
    return [c * e1[0] + s * e2[0], c * e1[1] + s * e2[1], c * e1[2] + s * e2[2]];
  };
  const chord = (d: Vec3): readonly [number, number, number] => {
    const a = solidSupport(solid, d);
    const b = solidSupport(solid, [-d[0], -d[1], -d[2]]);
    const v: Vec3 = [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
    return [dot(v, e1), dot(v, e2), dot(v, d)];
  };
  const width = (theta: number): ShadowWidth => {
    const known = seen.get(theta);
    if (known) return known;
    const l = chord(direction(theta));
    const w = chord(direction(theta + Math.PI / 2));
    // The second chord turned back by 90°, so that both floors are sinusoids of the same θ.
    const made: ShadowWidth = { along: l[2], across: w[2], chords: [l[0], l[1], w[1], -w[0]] };
    seen.set(theta, made);
    return made;
  };
  return {
    e1,
    e2,
    direction,
    width,
    floors: (a, b) => {
      const { chords: p } = width(a);
      const { chords: q } = width(b);
      return [widthFloor(p[0], p[1], q[0], q[1], a, b), widthFloor(p[2], p[3], q[2], q[3], a, b)];
    },
    ceilings: (a, b) => {
      const p = width(a);
      const q = width(b);
      return [widthCeiling(p.along, q.along, a, b), widthCeiling(p.across, q.across, a, b)];
    },
  };
}

/**
 * The turn in [lo, hi] at which `excess(along, across)` is least. `excess` must not fall when a width grows: that is what
 * makes the floors of the widths a floor of the excess.
 */
export const bestTurn = (
  shadow: Shadow,
  lo: number,
  hi: number,
  excess: (along: number, across: number) => number,
  tolerance: number,
): BoundedLeast =>
  leastProved(
    lo,
    hi,
    (theta) => {
      const w = shadow.width(theta);
      return excess(w.along, w.across);
    },
    (a, b) => {
      const [along, across] = shadow.floors(a, b);
      return excess(along, across);
    },
    tolerance,
  );

/** The worst excess over all turns in [lo, hi]: `value` = −(worst excess), `bound` = −(proven ceiling of it). */
export const worstTurn = (
  shadow: Shadow,
  lo: number,
  hi: number,
  excess: (along: number, across: number) => number,
  tolerance: number,
): BoundedLeast =>
  leastProved(
    lo,
    hi,
    (theta) => {
      const w = shadow.width(theta);
      return -excess(w.along, w.across);
    },
    (a, b) => {
      const [along, across] = shadow.ceilings(a, b);
      return -excess(along, across);
    },
    tolerance,
  );
