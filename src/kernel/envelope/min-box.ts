/**
 * The box of least volume around points, exactly, in any orientation.
 *
 * Method: J. O'Rourke, *Finding minimal enclosing boxes*, Int. J. Computer and Information Sciences 14(3), 1985: a least
 * box has two adjacent faces that are each flush with an edge of the hull. For edges e1, e2 with face normals n1 ⟂ e1 and
 * n2 ⟂ e2, n1 ⟂ n2, one freedom is left, written with t = tan of the angle of n1 from the middle of the directions in which
 * e1 is outermost:
 *   n1 = a + t b,   n2 = ±n1 × e2,   n3 = n1 (n1·e2) − e2 (n1·n1)   (unnormalised; linear, linear, quadratic in t).
 * e2 must be outermost along n2: two linear conditions on t. Opposite corners of the box change where an edge of the hull
 * is square to a normal: linear and quadratic equations in t, for the neighbours of the corner at hand only (on a convex body
 * the next outermost corner is a neighbour). Between such events the volume is
 *   V = (n1·d1)(n2·d2)(n3·d3) / (|n1| |n2| |n3|) = N(t) / ((n1·n1) (n1·n1 − (n1·e2)²)),   d: corner to opposite corner,
 * whose stationary points are the roots of N'D − ND', of degree 6 or 7 (`real-roots.ts`). All pieces of all edge pairs are visited.
 * Every candidate is measured with all corners, so each is a box that holds the points; the least is returned.
 * Cost grows as edges²; for a printed figure, not inside a search.
 * Flat sets: the least rectangle (one side flush: H. Freeman, R. Shapira, Comm. ACM 18(7), 1975), volume 0; points on a
 * line: its length.
 */
import { cross, dot, norm, scale, sub, unit, type Vec3 } from '../math/rigid.ts';
import { convexHull, type Hull } from './hull.ts';
import { polynomialAt, rootsBetween } from './real-roots.ts';

export interface MinBox {
  /** m³; 0 for flat sets. */
  readonly volume: number;
  /** Longest first, m. */
  readonly sides: readonly [number, number, number];
  /** Unit axes in the order of `sides`, right-handed. */
  readonly axes: readonly [Vec3, Vec3, Vec3];
  readonly centre: Vec3;
  /** 3: a solid; 2: flat; 1: on a line; 0: one place. */
  readonly rank: 0 | 1 | 2 | 3;
}

/** An edge of the hull: its ends, unit direction, and the normals of the faces beside it. */
interface Edge {
  readonly p: Vec3;
  readonly e: Vec3;
  readonly f: Vec3;
  readonly g: Vec3;
}
/** Edges inside a flat face: the face normals differ by less than this, rad. They add nothing to the face's own edges. */
const FLAT = 1e-9;
/** Room given to the conditions, so that flush faces are not lost to rounding. Harmless: candidates are measured anew. */
const ROOM = 1e-9;

/** The box of least volume around at least one finite point, m. */
export function minBox(points: readonly Vec3[]): MinBox {
  const hull = convexHull(points);
  if (hull.rank < 3) return flatBox(points, hull);
  const solid = solidOf(points, hull);
  const edges = edgesOf(points, hull);
  let best: { volume: number; axes: [Vec3, Vec3, Vec3] } | undefined;
  const consider = (n1: Vec3, n2: Vec3): void => {
    const x = unit(n1);
    const y = unit(sub(n2, scale(x, dot(x, n2))));
    const axes: [Vec3, Vec3, Vec3] = [x, y, cross(x, y)];
    const volume = axes.reduce((v, n) => v * width(solid.corners, n), 1);
    if (volume < (best?.volume ?? Infinity)) best = { volume, axes };
  };
  for (let i = 0; i < edges.length; i++)
    for (let j = i; j < edges.length; j++)
      family(edges[i]!, edges[j]!, solid, () => best?.volume ?? Infinity, consider);
  return boxIn(points, best!.axes, 3);
}

/** Corners of the hull, each with the corners next to it. */
interface Corners {
  readonly corners: readonly Vec3[];
  readonly next: readonly (readonly number[])[];
}
function solidOf(points: readonly Vec3[], hull: Hull): Corners {
  const used = [...new Set(hull.faces.flatMap((f) => f.corners))];
  const place = new Map(used.map((p, i) => [p, i]));
  const next = used.map(() => new Set<number>());
  for (const { corners } of hull.faces)
    for (const a of corners) for (const b of corners) if (a !== b) next[place.get(a)!]!.add(place.get(b)!);
  return { corners: used.map((i) => points[i]!), next: next.map((list) => [...list]) };
}
/** The outermost corner along n, climbing from corner `i`. */
function climb({ corners, next }: Corners, i: number, n: Vec3): number {
  let at = i,
    high = dot(corners[i]!, n);
  for (let from = -1; from !== at; ) {
    from = at;
    for (const k of next[from]!) {
      const h = dot(corners[k]!, n);
      if (h > high) {
        high = h;
        at = k;
      }
    }
  }
  return at;
}
/** The first t in (from, to) at which c0 + c1 t + c2 t² is 0; `to` when there is none. */
function firstZero(c0: number, c1: number, c2: number, from: number, to: number): number {
  const inside = (t: number): number => (t > from && t < to ? t : to);
  if (Math.abs(c2) < 1e-14 * (Math.abs(c0) + Math.abs(c1))) return c1 === 0 ? to : inside(-c0 / c1);
  const square = c1 * c1 - 4 * c2 * c0;
  if (!(square >= 0)) return to;
  const q = -0.5 * (c1 + (c1 < 0 ? -1 : 1) * Math.sqrt(square));
  return Math.min(inside(q / c2), q === 0 ? to : inside(c0 / q));
}

function edgesOf(points: readonly Vec3[], hull: Hull): Edge[] {
  const half = new Map<string, Vec3>();
  const edges: Edge[] = [];
  for (const { corners, normal } of hull.faces)
    for (let k = 0; k < 3; k++) {
      const a = corners[k]!,
        b = corners[(k + 1) % 3]!;
      const other = half.get(`${b} ${a}`);
      if (!other) {
        half.set(`${a} ${b}`, normal);
        continue;
      }
      if (norm(cross(normal, other)) < FLAT) continue;
      edges.push({ p: points[a]!, e: unit(sub(points[b]!, points[a]!)), f: normal, g: other });
    }
  return edges;
}

/** All candidates with one face flush with edge 1 and an adjacent one flush with edge 2. */
function family(
  one: Edge,
  two: Edge,
  solid: Corners,
  least: () => number,
  consider: (n1: Vec3, n2: Vec3) => void,
): void {
  // n1 = a + t b runs over the directions between the faces' normals f, g; |t| ≤ reach < ∞.
  const a = unit([one.f[0] + one.g[0], one.f[1] + one.g[1], one.f[2] + one.g[2]]);
  const b = unit(cross(one.e, a));
  const reach = Math.abs(dot(one.f, b) / dot(one.f, a)) * (1 + ROOM) + ROOM;
  const e2 = two.e;
  const ae = dot(a, e2),
    be = dot(b, e2);
  const c0 = cross(a, e2),
    c1 = cross(b, e2);
  // n2 = ±(c0 + t c1) lies between f2 and g2: both (f2 × n2) and (n2 × g2) point along f2 × g2.
  const k = cross(two.f, two.g);
  for (const sign of [1, -1]) {
    let lo = -reach,
      hi = reach;
    for (const [first, second] of [
      [two.f, null],
      [null, two.g],
    ] as const) {
      const turn = (v: Vec3): number => sign * dot(first ? cross(first, v) : cross(v, second!), k);
      const p = turn(c0),
        q = turn(c1);
      // p + q t ≥ −room
      const room = ROOM * norm(k) * norm(k) + 1e-15;
      if (Math.abs(q) < 1e-15) {
        if (p < -room) hi = -Infinity;
      } else if (q > 0) lo = Math.max(lo, (-room - p) / q);
      else hi = Math.min(hi, (-room - p) / q);
    }
    if (!(lo <= hi)) continue;
    const n1 = (t: number): Vec3 => [a[0] + t * b[0], a[1] + t * b[1], a[2] + t * b[2]];
    const n2 = (t: number): Vec3 => [c0[0] + t * c1[0], c0[1] + t * c1[1], c0[2] + t * c1[2]];
    const third = (t: number): Vec3 => {
      const n = n1(t);
      const s = ae + t * be;
      const nn = 1 + t * t;
      return [n[0] * s - e2[0] * nn, n[1] * s - e2[1] * nn, n[2] * s - e2[2] * nn];
    };
    if (!(norm(n2(0.5 * (lo + hi))) > 1e-12)) continue; // e2 along n1: no second normal
    // Coordinates of a vector d along n1, n2, n3 as polynomials in t.
    const along1 = (d: Vec3): number[] => [dot(d, a), dot(d, b)];
    const along2 = (d: Vec3): number[] => [dot(d, c0), dot(d, c1)];
    const along3 = (d: Vec3): number[] => {
      const da = dot(d, a),
        db = dot(d, b),
        de = dot(d, e2);
      return [da * ae - de, da * be + db * ae, db * be - de];
    };
    // n·n of n2 (and, times n1·n1, of n3) is 1 + t² − (n1·e2)².
    const across = [1 - ae * ae, -2 * ae * be, 1 - be * be];
    const { corners, next } = solid;
    const at = [0, 0, 0, 0, 0, 0];
    let t = lo;
    for (let piece = 0; piece < 12 * corners.length + 8; piece++) {
      // Just beyond t the outermost corners are those at a small step; ties at t itself are broken by it.
      const step = Math.min(1e-7 * (1 + Math.abs(t)), 0.5 * (hi - t));
      const probe = t + step;
      const normals = [n1(probe), n2(probe), third(probe)];
      let end = hi;
      const far = at.map((start, m) => {
        const n = normals[m >> 1]!;
        const i = climb(solid, start, m & 1 ? scale(n, -1) : n);
        at[m] = i;
        for (const k of next[i]!) {
          const c = [along1, along2, along3][m >> 1]!(sub(corners[k]!, corners[i]!));
          end = firstZero(c[0]!, c[1]!, c[2] ?? 0, probe, end);
        }
        return corners[i]!;
      });
      const across3 = [0, 2, 4].map((m) => sub(far[m]!, far[m + 1]!)) as [Vec3, Vec3, Vec3];
      const N = product(product(along1(across3[0]), along2(across3[1])), along3(across3[2]));
      // |n1| |n2| |n3| = (1 + t²)^½ · A^½ · (1 + t²)^½ A^½ with A = `across`.
      const D = product([1, 0, 1], across);
      const stationary = subtract(product(slopeOf(N), D), product(N, slopeOf(D)));
      for (const r of [t, ...rootsBetween(stationary, t, end), end]) {
        // The quotient first; the full measure only where it may be the least.
        const y = n2(r);
        if (norm(y) > 1e-12 && !(polynomialAt(N, r) > (1 + ROOM) * least() * polynomialAt(D, r))) consider(n1(r), y);
      }
      if (!(end < hi)) break;
      t = end;
    }
  }
}

const product = (a: readonly number[], b: readonly number[]): number[] => {
  const out = new Array<number>(a.length + b.length - 1).fill(0);
  a.forEach((x, i) => {
    b.forEach((y, j) => {
      out[i + j]! += x * y;
    });
  });
  return out;
};
const slopeOf = (c: readonly number[]): number[] => c.slice(1).map((x, k) => (k + 1) * x);
const subtract = (a: readonly number[], b: readonly number[]): number[] =>
  Array.from({ length: Math.max(a.length, b.length) }, (_, k) => (a[k] ?? 0) - (b[k] ?? 0));

/** The corners farthest along and against n. */
function extremes(corners: readonly Vec3[], n: Vec3): [Vec3, Vec3] {
  let most = corners[0]!,
    least = corners[0]!,
    hi = -Infinity,
    lo = Infinity;
  for (const p of corners) {
    const h = dot(p, n);
    if (h > hi) {
      hi = h;
      most = p;
    }
    if (h < lo) {
      lo = h;
      least = p;
    }
  }
  return [most, least];
}
function width(corners: readonly Vec3[], n: Vec3): number {
  const [p, q] = extremes(corners, n);
  return dot(sub(p, q), n);
}

/** The box in given axes, sides sorted; the third axis is turned to keep the set right-handed. */
function boxIn(points: readonly Vec3[], axes: readonly [Vec3, Vec3, Vec3], rank: 0 | 1 | 2 | 3): MinBox {
  const spans = axes.map((n) => {
    const [p, q] = extremes(points, n);
    return { n, length: dot(sub(p, q), n), middle: 0.5 * (dot(p, n) + dot(q, n)) };
  });
  // What is flat has exactly no thickness.
  spans.sort((x, y) => y.length - x.length);
  for (let k = rank; k < 3; k++) spans[k]!.length = 0;
  const [x, y, z] = spans as [(typeof spans)[0], (typeof spans)[0], (typeof spans)[0]];
  const centre = spans.map((s) => scale(s.n, s.middle)).reduce((p, q): Vec3 => [p[0] + q[0], p[1] + q[1], p[2] + q[2]]);
  const third = cross(x.n, y.n);
  return {
    volume: x.length * y.length * z.length,
    sides: [x.length, y.length, z.length],
    axes: [x.n, y.n, third],
    centre,
    rank,
  };
}

function flatBox(points: readonly Vec3[], hull: Hull): MinBox {
  const [o, a, b] = hull.frame.map((i) => points[i]!);
  if (hull.rank === 0)
    return boxIn(
      points,
      [
        [1, 0, 0],
        [0, 1, 0],
        [0, 0, 1],
      ],
      0,
    );
  const u = unit(sub(a!, o!));
  if (hull.rank === 1) {
    const k = Math.abs(u[0]) < 0.6 ? 0 : Math.abs(u[1]) < 0.6 ? 1 : 2;
    const v = unit(cross(u, [k === 0 ? 1 : 0, k === 1 ? 1 : 0, k === 2 ? 1 : 0]));
    return boxIn(points, [u, v, cross(u, v)], 1);
  }
  const w = unit(cross(u, sub(b!, o!)));
  const v = cross(w, u);
  // Hull in the plane (A. M. Andrew's monotone chain, 1979), then one side flush.
  const flat = points
    .map((p) => ({ x: dot(sub(p, o!), u), y: dot(sub(p, o!), v) }))
    .sort((p, q) => p.x - q.x || p.y - q.y);
  const chain = (list: typeof flat): typeof flat => {
    const out: typeof flat = [];
    for (const p of list) {
      while (out.length > 1) {
        const s = out.at(-2)!,
          t = out.at(-1)!;
        if ((t.x - s.x) * (p.y - s.y) - (t.y - s.y) * (p.x - s.x) > 0) break;
        out.pop();
      }
      out.push(p);
    }
    return out.slice(0, -1);
  };
  const ring = [...chain(flat), ...chain([...flat].reverse())];
  let best: MinBox | undefined;
  ring.forEach((p, i) => {
    const q = ring[(i + 1) % ring.length]!;
    const l = Math.sqrt((q.x - p.x) * (q.x - p.x) + (q.y - p.y) * (q.y - p.y));
    if (!(l > 0)) return;
    const x: Vec3 = [0, 1, 2].map((k) => ((q.x - p.x) * u[k]! + (q.y - p.y) * v[k]!) / l) as unknown as Vec3;
    const box = boxIn(points, [x, cross(w, x), w], 2);
    if (!best || box.sides[0] * box.sides[1] < best.sides[0] * best.sides[1]) best = box;
  });
  return best!;
}
