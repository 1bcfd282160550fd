/**
 * Cables through the fold: does the length reach, does the bend stay wide enough, with what margin, where and when.
 *
 * A cable is a polyline through points carried by bodies. Its free length is the ride posture's path plus the slack. In
 * each posture of each move the path is measured, and bounded between two neighbouring postures: while two bodies turn
 * relative to each other by Δ about one axis, a point moves on an arc whose chord c departs from it by c/2·tan(Δ/4), and
 * along the chord the distance to a point of the other body is convex, so a segment is nowhere longer than its longer end
 * plus that. Exact for a move of one joint; followers of a loop are taken as turning about one axis per step.
 * Bend: the largest arc that touches both segments at a passage with tangents of half a segment (all of it at a cable's
 * end), R = t/tan(β/2), β the angle between their directions; between postures β grows at most by the turns of its two
 * segments, half the angle between their directions at both ends plus asin(departure / length).
 * A housing that doubles back at a hinge does not follow that fillet (its radius goes to 0 at a half turn): it bows out into a
 * loop. No loop turning by β over a length s can be gentler than the even arc R = s/β; with s the same tangents and all the
 * slack this is the *gentlest* bend. Below the least radius asked for, the cable kinks for certain; between the two figures the
 * way in which it is held decides.
 * Assumptions: the cable runs straight between its points (that is the shortest it can be; a housing that bows out needs
 * more), slides freely through them, does not stretch; slack is not credited to the fillet.
 * Source: geometry of fillets and arcs; "no damage to cables when folded" is ISO 4210-2:2014, 4.3.3.
 * Not here: twist about a lengthwise joint, hydraulic hoses' pressure, chafing.
 */
import { movePoint, type Numbers, norm, sub, type Vec3 } from '../math/rigid.ts';

export interface CablePath {
  readonly name: string;
  /** Points in the ride posture and the body that carries each, in order. */
  readonly points: readonly Vec3[];
  readonly bodies: readonly number[];
  /** Spare length beyond the ride posture's path, m. */
  readonly slack: number;
  /** Least bend radius, m; NaN when none is asked for. */
  readonly minBend: number;
}
/** A posture of the fold: which move, how far through it (0 to 1), 12 numbers per body. */
export interface FoldPosture {
  readonly move: number;
  readonly fraction: number;
  readonly bodyT: Numbers;
}
export interface CableResult {
  readonly name: string;
  readonly ridePath: number;
  readonly free: number;
  /** Longest path, proven upper bound, and longest seen. */
  readonly longest: number;
  readonly longestSeen: number;
  /** free − longest; negative: too short. */
  readonly margin: number;
  readonly reaches: boolean;
  /** Where it is longest: the step that ends at this posture (move −1: the ride posture), and the segment that grew most since then. */
  readonly at: { readonly move: number; readonly fraction: number; readonly segment: number };
  /** Smallest bend radius (bounded), at which inner point, move and fraction; Infinity for a cable of one segment. */
  readonly bend: number;
  readonly bendAt: { readonly point: number; readonly move: number; readonly fraction: number };
  /** bend − minBend; NaN when no bend is asked for. */
  readonly bendMargin: number;
  /** Radius of the gentlest bend that its lengths allow, at its tightest inner point, move and fraction. */
  readonly gentlest: number;
  readonly gentlestAt: { readonly point: number; readonly move: number; readonly fraction: number };
  /** gentlest − minBend: negative is certainly too tight; NaN when no bend is asked for. */
  readonly gentlestMargin: number;
}

const distance = (a: Vec3, b: Vec3): number => norm(sub(a, b));
/** Angle between two vectors; well-conditioned at 0 and 180° (atan2 of sum and difference of the unit vectors). */
function angleBetween(a: Vec3, b: Vec3): number {
  const [la, lb] = [norm(a), norm(b)];
  const u: Vec3 = [a[0] * lb, a[1] * lb, a[2] * lb];
  const v: Vec3 = [b[0] * la, b[1] * la, b[2] * la];
  return 2 * Math.atan2(norm(sub(u, v)), norm([u[0] + v[0], u[1] + v[1], u[2] + v[2]]));
}
/** Point `p` of body `from` seen in the (ride posture) frame of body `to`. */
function seenFrom(t: Numbers, to: number, from: number, p: Vec3): Vec3 {
  const w = movePoint(t, 12 * from, p);
  const o = 12 * to;
  const r: Vec3 = [w[0] - t[o + 3]!, w[1] - t[o + 7]!, w[2] - t[o + 11]!];
  return [
    t[o]! * r[0] + t[o + 4]! * r[1] + t[o + 8]! * r[2],
    t[o + 1]! * r[0] + t[o + 5]! * r[1] + t[o + 9]! * r[2],
    t[o + 2]! * r[0] + t[o + 6]! * r[1] + t[o + 10]! * r[2],
  ];
}
/** Turn of body `b` relative to body `a` between two postures, rad: images of three axes, angle from the trace. */
function relativeTurn(s: Numbers, t: Numbers, a: number, b: number): number {
  if (a === b) return 0;
  // |Q − E|² = 4·(1 − cos Δ) for the relative rotation Q: small turns keep their digits.
  let sum = 0;
  const seen = (m: Numbers, i: number, j: number): number => {
    let x = 0;
    for (let k = 0; k < 3; k++) x += m[12 * a + 4 * k + i]! * m[12 * b + 4 * k + j]!;
    return x;
  };
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++) {
      const d = seen(t, i, j) - seen(s, i, j);
      sum += d * d;
    }
  return 2 * Math.asin(Math.min(1, Math.sqrt(sum / 8)));
}

/** How far the arc of a point departs from its chord while body `b` turns relative to `a` between two postures, m. */
function departure(s: Numbers, t: Numbers, a: number, b: number, p: Vec3): number {
  if (a === b) return 0;
  const chord = distance(seenFrom(s, a, b, p), seenFrom(t, a, b, p));
  return (chord / 2) * Math.tan(relativeTurn(s, t, a, b) / 4);
}

/** Radius of the arc that touches both segments with tangents of length `tangent` and turns by `beta`. */
const filletRadius = (tangent: number, beta: number): number =>
  beta <= 0 ? Infinity : beta >= Math.PI ? 0 : tangent / Math.tan(beta / 2);

/**
 * One cable through the postures of a fold, in order; neighbours belong together. The ride posture (all bodies at identity)
 * is the reference and counts too. @throws RangeError for fewer than two points or unequal lists.
 */
export function followCable(cable: CablePath, postures: readonly FoldPosture[]): CableResult {
  const { points: p, bodies } = cable;
  if (p.length < 2 || p.length !== bodies.length)
    throw new RangeError(`cable ${cable.name} needs two points or more, each with a body`);
  const n = p.length - 1;
  const ride = Array.from({ length: n }, (_, i) => distance(p[i]!, p[i + 1]!));
  const ridePath = ride.reduce((a, b) => a + b, 0);
  const lengths = (t: Numbers): number[] =>
    ride.map((l, i) => {
      const [a, b] = [bodies[i]!, bodies[i + 1]!];
      return a === b ? l : distance(movePoint(t, 12 * a, p[i]!), movePoint(t, 12 * b, p[i + 1]!));
    });
  /** Both arms at the inner point i, seen from its body. */
  const arms = (t: Numbers, i: number): readonly [Vec3, Vec3] => {
    const own = bodies[i]!;
    return [
      sub(p[i]!, seenFrom(t, own, bodies[i - 1]!, p[i - 1]!)),
      sub(seenFrom(t, own, bodies[i + 1]!, p[i + 1]!), p[i]!),
    ];
  };
  const tangentOf = (i: number, before: number, after: number): number =>
    Math.min(i === 1 ? before : before / 2, i === n - 1 ? after : after / 2);

  let longest = ridePath;
  let longestSeen = ridePath;
  let at = { move: -1, fraction: 0, segment: -1 };
  let bend = Infinity;
  let bendAt = { point: -1, move: -1, fraction: 0 };
  let gentlest = Infinity;
  let gentlestAt = bendAt;
  const gentleHere = (i: number, before: number, after: number, beta: number, move: number, fraction: number): void => {
    const length = (i === 1 ? before : before / 2) + (i === n - 1 ? after : after / 2) + cable.slack;
    if (!(beta > 0 && length / beta < gentlest)) return;
    gentlest = length / beta;
    gentlestAt = { point: i, move, fraction };
  };
  const bendHere = (i: number, radius: number, move: number, fraction: number): void => {
    if (radius < bend) {
      bend = radius;
      bendAt = { point: i, move, fraction };
    }
  };
  for (let i = 1; i < n; i++)
    bendHere(
      i,
      filletRadius(tangentOf(i, ride[i - 1]!, ride[i]!), angleBetween(sub(p[i]!, p[i - 1]!), sub(p[i + 1]!, p[i]!))),
      -1,
      0,
    );

  let before: FoldPosture | undefined;
  let lastLengths = ride;
  for (const here of postures) {
    const now = lengths(here.bodyT);
    const seen = now.reduce((a, b) => a + b, 0);
    longestSeen = Math.max(longestSeen, seen);
    const between = before;
    const most = between
      ? now.map((l, i) => {
          // The distance is the same seen from either body: the one whose far point moves less gives the closer bound.
          const [a, b] = [bodies[i]!, bodies[i + 1]!];
          const extra = Math.min(
            departure(between.bodyT, here.bodyT, a, b, p[i + 1]!),
            departure(between.bodyT, here.bodyT, b, a, p[i]!),
          );
          return Math.max(l, lastLengths[i]!) + extra;
        })
      : now;
    const bound = most.reduce((a, b) => a + b, 0);
    if (bound > longest) {
      longest = bound;
      let segment = 0;
      for (let i = 1; i < n; i++) if (most[i]! - ride[i]! > most[segment]! - ride[segment]!) segment = i;
      at = { move: here.move, fraction: here.fraction, segment };
    }
    for (let i = 1; i < n; i++) {
      const [a, b] = arms(here.bodyT, i);
      let beta = angleBetween(a, b);
      let [la, lb] = [norm(a), norm(b)];
      gentleHere(i, la, lb, beta, here.move, here.fraction);
      if (between) {
        const [a0, b0] = arms(between.bodyT, i);
        const swing = (u: Vec3, v: Vec3, j: number): readonly [number, number] => {
          const d = departure(between.bodyT, here.bodyT, bodies[i]!, bodies[j]!, p[j]!);
          // Along the chord the arm is no shorter than its foot on it; its ends' lesser length less the chord is safe.
          const least = Math.max(0, Math.min(norm(u), norm(v)) - distance(u, v) / 2 - d);
          return [angleBetween(u, v) / 2 + (least > d ? Math.asin(d / least) : Math.PI), least];
        };
        const [sa, ma] = swing(a0, a, i - 1);
        const [sb, mb] = swing(b0, b, i + 1);
        beta = Math.min(Math.PI, Math.max(beta, angleBetween(a0, b0)) + sa + sb);
        [la, lb] = [ma, mb];
      }
      bendHere(i, filletRadius(tangentOf(i, la, lb), beta), here.move, here.fraction);
    }
    before = here;
    lastLengths = now;
  }
  const free = ridePath + cable.slack;
  return {
    name: cable.name,
    ridePath,
    free,
    longest,
    longestSeen,
    margin: free - longest,
    reaches: free >= longest,
    at,
    bend,
    bendAt,
    bendMargin: bend - cable.minBend,
    gentlest,
    gentlestAt,
    gentlestMargin: gentlest - cable.minBend,
  };
}
