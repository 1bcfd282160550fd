/**
 * Convex hull of points in space, with its edges.
 *
 * Method: C. B. Barber, D. P. Dobkin, H. Huhdanpaa, *The Quickhull algorithm for convex hulls*, ACM Trans. Mathematical
 * Software 22(4), 1996: a tetrahedron of extreme points, then the farthest point outside a face replaces all faces that see
 * it, until no point is farther outside than `THICK` of the body's size. Farthest first keeps slivers away; points within
 * the tolerance of a face count as on it. The result is triangulated: flat faces have edges inside.
 * Flat, straight and single-point sets have no hull with volume: `rank` says what they are.
 * Not here: hulls in the plane (`min-box.ts` has one).
 */
import { cross, dot, norm, scale, sub, type Vec3 } from '../math/rigid.ts';
import { sideOfPlane } from './orientation.ts';

/** Thinner than this share of the size counts as flat, m/m. */
const THICK = 1e-12;
/** Smaller sets are one place, m: the squares of their squares would underflow. */
const ONE_PLACE = 1e-60;

export interface HullFace {
  /** Corners, counterclockwise seen from outside. */
  readonly corners: readonly [number, number, number];
  readonly normal: Vec3;
  readonly offset: number;
}
export interface Hull {
  /** 3: a solid; 2: all points in a plane; 1: on a line; 0: one place. */
  readonly rank: 0 | 1 | 2 | 3;
  /** Up to rank + 1 points that span it, indices. */
  readonly frame: readonly number[];
  /** Empty unless rank 3. */
  readonly faces: readonly HullFace[];
}

interface Working {
  corners: [number, number, number];
  normal: Vec3;
  offset: number;
  outside: number[];
  gone: boolean;
}

/** The hull of at least one finite point, m. */
export function convexHull(points: readonly Vec3[]): Hull {
  const frame = spanning(points);
  if (frame.length < 4) return { rank: (frame.length - 1) as 0 | 1 | 2, frame, faces: [] };
  const make = (a: number, b: number, c: number): Working => {
    const p = points[a]!;
    const n = cross(sub(points[b]!, p), sub(points[c]!, p));
    const normal = scale(n, 1 / norm(n));
    return { corners: [a, b, c], normal, offset: dot(normal, p), outside: [], gone: false };
  };
  const above = (f: Working, i: number): number => {
    const [a, b, c] = f.corners;
    return sideOfPlane(points[a]!, points[b]!, points[c]!, points[i]!);
  };
  const height = (f: Working, i: number): number => dot(f.normal, points[i]!) - f.offset;
  let faces: Working[] = [
    [0, 1, 2],
    [0, 1, 3],
    [0, 2, 3],
    [1, 2, 3],
  ].map(([a, b, c]) => {
    const f = make(frame[a!]!, frame[b!]!, frame[c!]!);
    return above(f, frame.find((i) => !f.corners.includes(i))!) > 0 ? make(frame[a!]!, frame[c!]!, frame[b!]!) : f;
  });
  const share = (candidates: readonly number[], among: readonly Working[]): void => {
    for (const i of candidates) among.find((f) => above(f, i) > 0)?.outside.push(i);
  };
  share(
    points.map((_, i) => i).filter((i) => !frame.includes(i)),
    faces,
  );
  for (;;) {
    const start = faces.find((f) => f.outside.length > 0);
    if (!start) break;
    const eye = start.outside.reduce((a, b) => (height(start, b) > height(start, a) ? b : a));
    // Directed edges of visible faces; those whose opposite is not visible make the horizon.
    const seen = faces.filter((f) => above(f, eye) > 0);
    const edges = new Map<string, [number, number]>();
    for (const f of seen) {
      f.gone = true;
      for (let k = 0; k < 3; k++) {
        const a = f.corners[k]!,
          b = f.corners[(k + 1) % 3]!;
        if (!edges.delete(`${b} ${a}`)) edges.set(`${a} ${b}`, [a, b]);
      }
    }
    const fresh = [...edges.values()].map(([a, b]) => make(a, b, eye));
    share(
      seen.flatMap((f) => f.outside).filter((i) => i !== eye),
      fresh,
    );
    faces = [...faces.filter((f) => !f.gone), ...fresh];
  }
  return { rank: 3, frame, faces: faces.map(({ corners, normal, offset }) => ({ corners, normal, offset })) };
}

/** Up to four points that span the set: far apart, far from their line, far from their plane. */
function spanning(points: readonly Vec3[]): number[] {
  const far = (measure: (p: Vec3) => number): number => {
    let best = 0;
    points.forEach((p, i) => {
      if (measure(p) > measure(points[best]!)) best = i;
    });
    return best;
  };
  const o = far((p) => norm(sub(p, points[0]!)));
  const a = far((p) => norm(sub(p, points[o]!)));
  const length = norm(sub(points[a]!, points[o]!));
  if (!(length > ONE_PLACE)) return [o];
  const u = scale(sub(points[a]!, points[o]!), 1 / length);
  const b = far((p) => norm(cross(u, sub(p, points[o]!))));
  const n = cross(u, sub(points[b]!, points[o]!));
  if (!(norm(n) > THICK * length)) return [o, a];
  const w = scale(n, 1 / norm(n));
  const c = far((p) => Math.abs(dot(w, sub(p, points[o]!))));
  if (!(Math.abs(dot(w, sub(points[c]!, points[o]!))) > THICK * length)) return [o, a, b];
  return [o, a, b, c];
}

/** Volume of a solid hull, m³; 0 for flat ones. */
export function hullVolume(points: readonly Vec3[], hull: Hull): number {
  if (hull.rank < 3) return 0;
  const o = points[hull.frame[0]!]!;
  let six = 0;
  for (const { corners } of hull.faces) {
    const [a, b, c] = corners.map((i) => sub(points[i]!, o)) as [Vec3, Vec3, Vec3];
    six += dot(a, cross(b, c));
  }
  return six / 6;
}
