/**
 * Standing: support polygon, static tip angle in every direction, and the margin on a slope with a jerk.
 *
 * With the centre of mass at height h over the floor and its foot at distance d inside an edge of the support polygon,
 * the package tips over that edge when the floor (or the resultant of gravity and inertia) leans by atan(d/h) square to
 * it; in direction φ by atan(d/(h·cos(angle between φ and the edge's normal))). A jerk of j·g is taken quasi-statically
 * as a lean of atan(j), so a slope σ with a jerk down the slope asks for σ + atan(j), in the worst direction.
 * Source: statics; worked values 120/300 mm → 21.8°, 80/320 mm → 14.0° (half base and height); ISO 4210-2 has no such
 * figure, a target of 12° is common practice for prams (default, from memory).
 * Assumptions: rigid package on its contacts (`settle`), the jerk lasts long enough to count as steady, which is safe.
 * Not here: sliding and rolling away are not margins (no friction is assumed or computed); whether the contacts at least
 * lock the wheels against rolling is reported as `heldFromRolling`.
 */
import { Matrix, SingularValueDecomposition } from 'ml-matrix';
import { add, cross, dot, norm, scale, sub, type Vec3 } from '../math/rigid.ts';
import { SHAPE } from './convex-distance.ts';
import { type Contact, type Rest, settle, TOUCHING } from './settle.ts';
import { partOfSolid, type Solid, shapeAt, squareTo } from './solid.ts';

/**
 * Share of a tyre's width on which it stands: tyres are round, and the print of a lightly loaded one is narrow (about 60 N at
 * 3 bar make 2 cm², some 10 mm wide). Default, from memory.
 */
export const TYRE_PRINT = 0.25;

export interface TipEdge {
  readonly from: Contact;
  readonly to: Contact;
  /** Distance of the centre of mass's foot inside the edge, m; negative outside. */
  readonly distance: number;
  /** Tip angle over this edge, rad; negative: it falls by itself. */
  readonly tip: number;
  /** Unit direction of falling over it, package frame. */
  readonly outward: Vec3;
}

export interface Standing {
  readonly rest: Rest;
  /** Angle between the upward direction in which it was set down and that of the rest, rad: large when it has fallen over. */
  readonly leaned: number;
  /** It rests, and on every listed shape. */
  readonly asMeant: boolean;
  /** Support polygon, counter-clockwise seen from above. One or two edges when it stands on a point or a line. */
  readonly edges: readonly TipEdge[];
  /** The edge that it tips over first; undefined when nothing is touched. */
  readonly first: TipEdge | undefined;
  /** Least tip angle over all directions, rad. */
  readonly tip: number;
  /** Contacts (shapes) that the design does not list. */
  readonly unlisted: readonly number[];
  /** Listed shapes that do not touch the floor. */
  readonly lifted: readonly number[];
  /** The contacts, wheels rolling freely about their axles, leave no motion on the floor. */
  readonly heldFromRolling: boolean;
}

/** Counter-clockwise hull of points in the plane (Andrew 1979, monotone chain), as indices; collinear points dropped. */
function hullOf(p: readonly (readonly [number, number])[]): number[] {
  const order = p.map((_, i) => i).sort((i, j) => p[i]![0] - p[j]![0] || p[i]![1] - p[j]![1]);
  const half = (indices: readonly number[]): number[] => {
    const h: number[] = [];
    for (const i of indices) {
      while (h.length > 1) {
        const a = p[h[h.length - 2]!]!,
          b = p[h[h.length - 1]!]!,
          c = p[i]!;
        if ((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]) > 1e-14) break;
        h.pop();
      }
      h.push(i);
    }
    return h.slice(0, -1);
  };
  return [...half(order), ...half(order.reverse())];
}

/** Edges of the support polygon with their tip angles, for a centre of mass `height` above the floor. */
export function tipEdges(contacts: readonly Contact[], com: Vec3, up: Vec3, height: number): readonly TipEdge[] {
  const [e1, e2] = squareTo(up);
  const foot = contacts.map((c): readonly [number, number] => {
    const r = sub(c.point, com);
    return [dot(r, e1), dot(r, e2)];
  });
  const hull = hullOf(foot);
  return hull.map((i, k) => {
    const j = hull[(k + 1) % hull.length]!;
    const [a, b] = [foot[i]!, foot[j]!];
    const [ex, ey] = [b[0] - a[0], b[1] - a[1]];
    const l = Math.sqrt(ex * ex + ey * ey);
    // Outward normal of a counter-clockwise edge; a single contact has none: away from it, through the foot.
    const away = Math.sqrt(a[0] * a[0] + a[1] * a[1]);
    const [nx, ny] = l > 0 ? [ey / l, -ex / l] : away > 0 ? [-a[0] / away, -a[1] / away] : [1, 0];
    const distance = nx * a[0] + ny * a[1];
    const outward = add(scale(e1, nx), scale(e2, ny));
    return { from: contacts[i]!, to: contacts[j]!, distance, tip: Math.atan2(distance, height), outward };
  });
}

/** Tip angle (rad) when leaned towards the horizontal direction `towards` (any length): the first edge in that direction. */
export function tipTowards(edges: readonly TipEdge[], height: number, towards: Vec3): number {
  const l = Math.sqrt(dot(towards, towards));
  let least = Math.PI / 2;
  for (const e of edges) {
    const c = dot(e.outward, towards) / l;
    if (c > 1e-12) least = Math.min(least, Math.atan2(e.distance, height * c));
    else if (e.distance < 0) least = Math.min(least, e.tip);
  }
  return least;
}

/** Lengths and angles of motions on the floor are compared over a base of this size, m. */
const BASE = 0.3;
/** A motion that the contacts resist by less than this share counts as free. */
const FREE = 1e-3;

/** True when no planar motion is left by contacts whose discs on edge roll freely and whose other shapes stand still. */
function heldFromRolling(solid: Solid, contacts: readonly Contact[], com: Vec3, up: Vec3): boolean {
  const [e1, e2] = squareTo(up);
  const rows: number[][] = [];
  for (const { point, shape } of contacts) {
    const r = sub(point, com);
    const x = dot(r, e1) / BASE,
      y = dot(r, e2) / BASE;
    const { kind, data, at } = shapeAt(solid, shape);
    const axle: Vec3 = [data[at + 3]!, data[at + 4]!, data[at + 5]!];
    const rolls = kind === SHAPE.disc && Math.abs(dot(axle, up)) < Math.SQRT1_2;
    const across = sub(axle, scale(up, dot(axle, up)));
    for (const d of rolls ? [across] : [e1, e2]) {
      const dx = dot(d, e1),
        dy = dot(d, e2);
      rows.push([dx, dy, x * dy - y * dx]);
    }
  }
  if (rows.length < 3) return false;
  const s = new SingularValueDecomposition(new Matrix(rows)).diagonal;
  return s[2]! > FREE * s[0]!;
}

/** The solid with its discs as wide as the print of a round tyre. */
function onPrints(solid: Solid, print: number): Solid {
  const disc = solid.disc.slice();
  for (let o = 7; o < disc.length; o += 8) disc[o]! *= print;
  return { capsule: solid.capsule, disc, box: solid.box };
}

/**
 * How the package stands. `listed` are the shapes that the design stands on; empty means any. The floor is the rest of the
 * listed shapes where they surround the centre of mass, then of the whole package: whatever touches, touches.
 * `from` is the upward direction in which it is set down (unit). Discs stand on `print` of their width.
 */
export function standing(
  solid: Solid,
  com: Vec3,
  listed: readonly number[],
  from: Vec3,
  touching: number = TOUCHING,
  print: number = TYRE_PRINT,
): Standing {
  const narrow = onPrints(solid, print);
  let start = from;
  if (listed.length > 0) {
    const meant = settle(partOfSolid(narrow, listed), com, from, touching);
    if (meant.converged) start = meant.up;
  }
  const rest = settle(narrow, com, start, touching);
  const edges = tipEdges(rest.contacts, com, rest.up, rest.height);
  const first = edges.reduce<TipEdge | undefined>((a, b) => (a && a.tip <= b.tip ? a : b), undefined);
  const touched = [...new Set(rest.contacts.map((c) => c.shape))];
  const lifted = listed.filter((i) => !touched.includes(i));
  return {
    rest,
    leaned: Math.atan2(norm(cross(from, rest.up)), dot(from, rest.up)),
    asMeant: rest.converged && lifted.length === 0,
    edges,
    first,
    tip: rest.converged && first ? first.tip : Number.NaN,
    unlisted: listed.length > 0 ? touched.filter((s) => !listed.includes(s)) : [],
    lifted,
    heldFromRolling: heldFromRolling(solid, rest.contacts, com, rest.up),
  };
}

/**
 * Margin (rad) of a tip angle on a slope `slope` (rad) with a jerk of `jerk` g, both in the worst direction. Not negative: stands.
 * A lean asked for of 90° or more stands nowhere.
 */
export const slopeMargin = (tip: number, slope: number, jerk: number): number => tip - (slope + Math.atan(jerk));
