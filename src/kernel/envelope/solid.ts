/**
 * A posed solid as flat shapes in one frame, and how far it reaches in a direction.
 *
 * `PosedShapes` is one; so is any part of it. The support function h(d) = max of d·x over the solid is exact for every
 * shape, and is all that the package calculations (space, standing, rolling, carrying) need. h(k·d) = k·h(d), k > 0.
 * Source: support functions of convex sets, e.g. Schneider, Convex Bodies (2nd ed. 2014), 1.7.
 * Not here: distances between shapes, what a body is.
 */
import { cross, dot, type Numbers, norm, scale, sub, unit, type Vec3 } from '../math/rigid.ts';
import { SHAPE, supportPoint } from './convex-distance.ts';
import { moveBox, moveCapsule, moveDisc } from './posed-shapes.ts';

/** 7 per capsule, 8 per disc, 15 per box (layouts of `State`); shape order is capsules, discs, boxes. */
export interface Solid {
  readonly capsule: Float64Array;
  readonly disc: Float64Array;
  readonly box: Float64Array;
}
const SIZE = [7, 8, 15] as const;

/** A solid from lists of shapes, each in the layout of `State`. @throws RangeError when a row has another length. */
export function solidOf(list: {
  readonly capsules?: readonly Numbers[];
  readonly discs?: readonly Numbers[];
  readonly boxes?: readonly Numbers[];
}): Solid {
  const flat = (rows: readonly Numbers[] = [], size: number): Float64Array => {
    for (const row of rows)
      if (row.length !== size) throw new RangeError(`${row.length} numbers for a shape of ${size}`);
    return Float64Array.from(rows.flatMap((row) => [...row]));
  };
  return { capsule: flat(list.capsules, 7), disc: flat(list.discs, 8), box: flat(list.boxes, 15) };
}

export const shapeCount = (s: Solid): number => s.capsule.length / 7 + s.disc.length / 8 + s.box.length / 15;

/** Kind (`SHAPE`), array and offset of shape `i`. */
export function shapeAt(
  s: Solid,
  i: number,
): { readonly kind: number; readonly data: Float64Array; readonly at: number } {
  let k = i;
  const arrays = [s.capsule, s.disc, s.box];
  for (let kind = 0; kind < 3; kind++) {
    const data = arrays[kind]!;
    const n = data.length / SIZE[kind]!;
    if (k >= 0 && k < n) return { kind, data, at: k * SIZE[kind]! };
    k -= n;
  }
  throw new RangeError(`no shape ${i} among ${shapeCount(s)}`);
}

/** The shapes with the given indices; they keep their kinds' order and get new indices. */
export function partOfSolid(s: Solid, indices: Iterable<number>): Solid {
  const rows: Float64Array[][] = [[], [], []];
  for (const i of indices) {
    const { kind, data, at } = shapeAt(s, i);
    rows[kind]!.push(data.slice(at, at + SIZE[kind]!));
  }
  return solidOf({ capsules: rows[0]!, discs: rows[1]!, boxes: rows[2]! });
}

/** The solid after a rigid motion (12 numbers at offset `o`). */
export function movedSolid(s: Solid, t: Float64Array, o = 0): Solid {
  const out = { capsule: s.capsule.slice(), disc: s.disc.slice(), box: s.box.slice() };
  for (let i = 0; i < s.capsule.length; i += 7) moveCapsule(t, o, s.capsule, i, out.capsule, i);
  for (let i = 0; i < s.disc.length; i += 8) moveDisc(t, o, s.disc, i, out.disc, i);
  for (let i = 0; i < s.box.length; i += 15) moveBox(t, o, s.box, i, out.box, i);
  return out;
}

/**
 * The solid with every shape grown by its own share (0.15: 15 % larger, −0.15: smaller) about its own middle: capsules and
 * discs in radius and thickness, boxes in all sizes. One share per shape; for hardware whose size is only estimated.
 */
export function grownSolid(s: Solid, share: Numbers): Solid {
  const out = { capsule: s.capsule.slice(), disc: s.disc.slice(), box: s.box.slice() };
  const sizes = [[6], [6, 7], [12, 13, 14]];
  for (let i = 0; i < shapeCount(s); i++) {
    const { kind, data, at } = shapeAt(out, i);
    for (const k of sizes[kind]!) data[at + k]! *= 1 + share[i]!;
  }
  return out;
}

/** Leaf scratch of `shapeSupport`, never re-entered. */
const point = new Float64Array(3);

/** Farthest point of shape `i` in direction `d` (any length but zero). */
export function shapeSupport(s: Solid, i: number, d: Vec3): Vec3 {
  const { kind, data, at } = shapeAt(s, i);
  return farthest(kind, data, at, d);
}

function farthest(kind: number, data: Float64Array, at: number, d: Vec3): Vec3 {
  supportPoint(kind, data, at, d[0], d[1], d[2], point, 0);
  const k = kind === SHAPE.capsule ? data[at + 6]! / norm(d) : 0;
  return [point[0]! + k * d[0], point[1]! + k * d[1], point[2]! + k * d[2]];
}

/** Farthest point of the solid in direction `d`. @throws RangeError for an empty solid. */
export function solidSupport(s: Solid, d: Vec3): Vec3 {
  let best: Vec3 | undefined;
  let most = -Infinity;
  const arrays = [s.capsule, s.disc, s.box];
  for (let kind = 0; kind < 3; kind++) {
    const data = arrays[kind]!;
    for (let at = 0; at < data.length; at += SIZE[kind]!) {
      const x = farthest(kind, data, at, d);
      const h = dot(x, d);
      if (h > most) {
        most = h;
        best = x;
      }
    }
  }
  if (!best) throw new RangeError('a solid without shapes has no extent');
  return best;
}

/** h(d): how far the solid reaches along `d`, from the origin. */
export const solidReach = (s: Solid, d: Vec3): number => dot(solidSupport(s, d), d);
/** Extent of the solid along the unit direction `d`. */
export const solidExtent = (s: Solid, d: Vec3): number => solidReach(s, d) + solidReach(s, scale(d, -1));

/** Two unit vectors square to the unit vector `u` and to each other, e1 × e2 = u; e1 is x (or y) freed of its part along u. */
export function squareTo(u: Vec3): readonly [Vec3, Vec3] {
  const a: Vec3 = Math.abs(u[0]) < 0.9 ? [1, 0, 0] : [0, 1, 0];
  const e1 = unit(sub(a, scale(u, dot(a, u))));
  return [e1, cross(u, e1)];
}
