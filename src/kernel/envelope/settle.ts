/**
 * The floor on which a package comes to rest: a stable supporting plane.
 *
 * A package that rests has its centre of mass straight above a facet of its convex hull; the resting planes are the local
 * minima of the height of the centre of mass above its supporting plane.
 * Method: from an upward direction, find the facet of the lower hull that the vertical through the centre of mass
 * pierces (a portal of three points, refined by support points until no point lies below it by more than `FLAT`), take
 * its normal as the new upward direction, and repeat. The height never rises from one facet to the next (the new plane
 * is no farther than the pierced point, which is no farther than the old plane), so it ends in a stable rest.
 * Assumptions: rigid floor and package, quasi-static; joints hold.
 * Source: resting poses as minima of that height: Goldberg, Mirtich, Zhuang, Craig, Carlisle, Canny, *Part pose statistics*,
 * IEEE Trans. Robotics and Automation 15(5), 1999; portal refinement: Snethen, *XenoCollide*, in Game Programming Gems 7, 2008.
 * Not here: rocking down with momentum, which can pass over a shallow rest.
 */
import { add, cross, dot, norm, scale, sub, unit, type Vec3 } from '../math/rigid.ts';
import { SHAPE } from './convex-distance.ts';
import { type Solid, shapeAt, shapeCount, shapeSupport, solidSupport, squareTo } from './solid.ts';

/** The portal lies on the hull within this, m. */
const FLAT = 1e-9;
const PORTAL_STEPS = 400;
/** Facet after facet: a bicycle needs 3 to 6; round parts creep. */
const FACETS = 60;
/** The floor has stopped turning, rad: under a round part a portal flat to `FLAT` leaves its normal that uncertain (√(2·FLAT/0.1 m)). */
const STILL = 2e-4;
/** Directions from which the first portal is looked for. */
const ROUND = 24;

/** Points within this of the floor count as touching, m: rubber and floor give that much. Default, from memory. */
export const TOUCHING = 0.0005;

export interface Contact {
  readonly point: Vec3;
  /** Index of the shape. */
  readonly shape: number;
}
export interface Rest {
  readonly converged: boolean;
  readonly iterations: number;
  /** Last turn of the floor, rad. */
  readonly residual: number;
  readonly reason: 'rests' | 'facets' | 'portal' | 'com outside the shapes';
  /** Unit normal of the floor, package frame. */
  readonly up: Vec3;
  /** up·x of the floor; height of the centre of mass above it. */
  readonly floor: number;
  readonly height: number;
  readonly contacts: readonly Contact[];
}

/** Facet of the lower hull (seen along `up`) under `com`: its unit normal, or why there is none. */
function facetUnder(solid: Solid, com: Vec3, up: Vec3): Vec3 | 'com outside the shapes' | 'portal' {
  const [e1, e2] = squareTo(up);
  const side = (a: Vec3, b: Vec3): number => {
    // Twice the area of (com, a, b) in the shadow: > 0 when com lies left of a→b.
    const ax = dot(sub(a, com), e1),
      ay = dot(sub(a, com), e2),
      bx = dot(sub(b, com), e1),
      by = dot(sub(b, com), e2);
    return ax * by - ay * bx;
  };
  const round: Vec3[] = [];
  for (let k = 0; k < ROUND; k++) {
    const t = (2 * Math.PI * k) / ROUND;
    // Slightly downward: of a vertical wall the lower edge is wanted.
    round.push(solidSupport(solid, add(add(scale(e1, Math.cos(t)), scale(e2, Math.sin(t))), scale(up, -1e-3))));
  }
  let first: readonly [Vec3, Vec3, Vec3] | undefined;
  search: for (let i = 1; i < ROUND - 1; i++)
    for (let j = i + 1; j < ROUND; j++) {
      const [a, b, c] = [round[0]!, round[i]!, round[j]!];
      if (side(a, b) >= 0 && side(b, c) >= 0 && side(c, a) >= 0 && side(a, b) + side(b, c) + side(c, a) > 0) {
        first = [a, b, c];
        break search;
      }
    }
  if (!first) return 'com outside the shapes';
  let portal: readonly [Vec3, Vec3, Vec3] = first;
  for (let step = 0; step < PORTAL_STEPS; step++) {
    const [a, b, c]: readonly [Vec3, Vec3, Vec3] = portal;
    const n: Vec3 = cross(sub(b, a), sub(c, a));
    const l = norm(n);
    if (!(l > 0)) return up;
    const m = scale(n, 1 / l);
    const s = solidSupport(solid, scale(m, -1));
    if (dot(a, m) - dot(s, m) <= FLAT) return m;
    // com lies in one of the three triangles that s makes with the portal's edges.
    const [sa, sb, sc] = [side(s, a), side(s, b), side(s, c)];
    if (sa >= 0 && sb <= 0) portal = [s, a, b];
    else if (sb >= 0 && sc <= 0) portal = [s, b, c];
    else portal = [s, c, a];
  }
  return 'portal';
}

/** Points of the shapes within `touching` of the floor `up`·x = `floor`: ends of capsules, corners of boxes, rims of discs. */
export function contactsOn(solid: Solid, up: Vec3, floor: number, touching: number = TOUCHING): readonly Contact[] {
  const down = scale(up, -1);
  const contacts: Contact[] = [];
  const n = shapeCount(solid);
  for (let shape = 0; shape < n; shape++) {
    const take = (point: Vec3): void => {
      if (dot(point, up) - floor <= touching) contacts.push({ point, shape });
    };
    if (dot(shapeSupport(solid, shape, down), up) - floor > touching) continue;
    const { kind, data: d, at: o } = shapeAt(solid, shape);
    if (kind === SHAPE.capsule) {
      take(add([d[o]!, d[o + 1]!, d[o + 2]!], scale(down, d[o + 6]!)));
      take(add([d[o + 3]!, d[o + 4]!, d[o + 5]!], scale(down, d[o + 6]!)));
    } else if (kind === SHAPE.disc) {
      const c: Vec3 = [d[o]!, d[o + 1]!, d[o + 2]!];
      const normal: Vec3 = [d[o + 3]!, d[o + 4]!, d[o + 5]!];
      const [radius, half] = [d[o + 6]!, d[o + 7]!];
      const onEdge = Math.abs(dot(normal, up)) < Math.SQRT1_2;
      const [r1, r2] = squareTo(normal);
      for (const face of [-1, 1]) {
        const middle = add(c, scale(normal, face * half));
        if (onEdge) {
          const radial = sub(down, scale(normal, dot(down, normal)));
          take(add(middle, scale(radial, radius / norm(radial))));
        } else
          for (let k = 0; k < ROUND; k++) {
            const t = (2 * Math.PI * k) / ROUND;
            take(add(middle, add(scale(r1, radius * Math.cos(t)), scale(r2, radius * Math.sin(t)))));
          }
      }
    } else {
      for (let k = 0; k < 8; k++) {
        let p: Vec3 = [d[o]!, d[o + 1]!, d[o + 2]!];
        for (let i = 0; i < 3; i++) {
          const axis: Vec3 = [d[o + 3 + 3 * i]!, d[o + 4 + 3 * i]!, d[o + 5 + 3 * i]!];
          p = add(p, scale(axis, (k & (1 << i) ? 1 : -1) * d[o + 12 + i]!));
        }
        take(p);
      }
    }
  }
  return contacts;
}

/** One descent from `from`: facet after facet until the floor stays. */
function descend(
  solid: Solid,
  com: Vec3,
  from: Vec3,
): { readonly up: Vec3; readonly turned: number; readonly steps: number; readonly reason: Rest['reason'] } {
  let up = from;
  let turned = Infinity;
  for (let steps = 0; steps < FACETS; steps++) {
    const next = facetUnder(solid, com, up);
    if (typeof next === 'string') return { up, turned, steps, reason: next };
    turned = norm(cross(up, next));
    up = next;
    if (turned <= STILL) return { up, turned, steps: steps + 1, reason: 'rests' };
  }
  return { up, turned, steps: FACETS, reason: 'facets' };
}

/** A rest that a tilt of this (rad) upsets is no rest: half a millimetre at a height of a quarter metre. */
const NUDGE = 2e-3;
const NUDGES = 6;
/** Full descents that one settling may cost. */
const DESCENTS = 30;
/** A lower rest must be lower by this, m: more than the portals' flatness. */
const LOWER = 1e-6;

/**
 * The stable rest reached from the unit upward direction `from`; a balance that a tilt of 0.1° upsets is left for the
 * lower rest. `com` in the frame of the solid.
 * Reason 'com outside the shapes': the shapes do not surround the centre of mass, so no plane holds it.
 */
export function settle(solid: Solid, com: Vec3, from: Vec3, touching: number = TOUCHING): Rest {
  const heightOf = (up: Vec3): number => dot(com, up) - dot(solidSupport(solid, scale(up, -1)), up);
  let found = descend(solid, com, from);
  let height = heightOf(found.up);
  let iterations = found.steps;
  for (let k = 0; k < NUDGES && found.reason === 'rests' && iterations < DESCENTS * FACETS; k++) {
    const [e1, e2] = squareTo(found.up);
    const t = (2 * Math.PI * k) / NUDGES;
    const tilt = add(scale(e1, NUDGE * Math.cos(t)), scale(e2, NUDGE * Math.sin(t)));
    const other = descend(solid, com, unit(add(found.up, tilt)));
    iterations += other.steps;
    const lower = heightOf(other.up);
    if (lower < height - LOWER) {
      found = other;
      height = lower;
      k = -1;
    }
  }
  const { up, turned, reason } = found;
  const floor = dot(com, up) - height;
  return {
    converged: reason === 'rests',
    iterations,
    residual: turned,
    reason,
    up,
    floor,
    height,
    contacts: contactsOn(solid, up, floor, touching),
  };
}
