/**
 * Distance from points of a plane x-z to the nearest of many shapes, kept on a grid that fills as it is read.
 *
 * Ten thousand legs pass the same places: the exact distance is computed once per node (every posture, both sides of the
 * bicycle) and read in between by bilinear interpolation. A distance field has slope 1 and, `d` from what it measures, a
 * curvature of at most 1/d: the interpolation misses by no more than cell²/(4 d), 0.3 mm at a knee's 80 mm and 0.8 mm at a heel's
 * 30 mm with cells of 10 mm; nearer than a cell, which no limit asks for, by up to half a cell. `exact` gives the true value with the shape.
 * Units: m. Not here: points off the two planes y = ±out.
 */
import { type PosedShapes, pointDistance } from '../../envelope/index.ts';

/** Shapes as they stand in one posture. */
export interface Obstacles {
  readonly posed: PosedShapes;
  /** Shapes that count. */
  readonly shapes: Int32Array;
  /** What the posture is: the steering angle, rad. */
  readonly angle: number;
}
export interface NearestShape {
  /** Signed, m; `FAR` where nothing is near. */
  readonly distance: number;
  readonly shape: number;
  readonly angle: number;
  /** +1 left, −1 right. */
  readonly side: 1 | -1;
}
/** Read with `readField`. Plain data with one grid, so that the hot loop reads arrays and calls nothing. */
export interface ClearanceField {
  /** Distances at the nodes, row after row from low to high; NaN: never asked for. */
  readonly grid: Float32Array;
  /** Added to every distance, m. */
  readonly plus: number;
  /** Computes the four nodes of the cell whose lower left node is `at`. */
  fill(at: number): void;
  /** The true distance with what is nearest, `plus` included. */
  exact(x: number, z: number): NearestShape;
}

/** Farther away than this nobody asks how far exactly, m. */
export const FAR = 0.15;
/** No lower bound is more than this, so that it can be kept as a number. */
const BEYOND = 1;
const CELL = 0.01;
/** The part of the plane that is kept: about a bicycle and its rider, m. */
const X = [-0.5, 1.7] as const;
const Z = [0, 1.5] as const;
const NX = Math.ceil((X[1] - X[0]) / CELL) + 1;
const NZ = Math.ceil((Z[1] - Z[0]) / CELL) + 1;

/** One shape in all its postures. */
interface Swept {
  readonly shape: number;
  readonly at: readonly Obstacles[];
  /** Bounds over all postures: least x y z, greatest x y z. */
  readonly bounds: Float64Array;
}
function sweep(obstacles: readonly Obstacles[]): Swept[] {
  const shapes = [...new Set(obstacles.flatMap((o) => [...o.shapes]))];
  return shapes.map((shape) => {
    const at = obstacles.filter((o) => o.shapes.includes(shape));
    const side = (c: number): number => {
      const ends = at.map((o) => o.posed.bounds[6 * shape + c]!);
      return c < 3 ? Math.min(...ends) : Math.max(...ends);
    };
    return { shape, at, bounds: Float64Array.from([0, 1, 2, 3, 4, 5], side) };
  });
}

/** Squared distance of a point to axis-parallel bounds at b[o…o+5]. */
function toBounds(b: Float64Array, o: number, x: number, y: number, z: number): number {
  const dx = x < b[o]! ? b[o]! - x : x > b[o + 3]! ? x - b[o + 3]! : 0;
  const dy = y < b[o + 1]! ? b[o + 1]! - y : y > b[o + 4]! ? y - b[o + 4]! : 0;
  const dz = z < b[o + 2]! ? b[o + 2]! - z : z > b[o + 5]! ? z - b[o + 5]! : 0;
  return dx * dx + dy * dy + dz * dz;
}

/** Field in the planes y = ±`outs` (the least over all of them). `far`: greatest distance that is told apart. */
export function clearanceField(
  obstacles: readonly Obstacles[],
  outs: readonly number[],
  far: number = FAR,
): ClearanceField {
  const planes = outs.flatMap((out) => [out, -out]);
  const swept = sweep(obstacles);
  // neighbours are asked one after the other: what was nearest is tried first and rules out most of the rest
  let last:
    | { readonly posed: PosedShapes; readonly shape: number; readonly angle: number; readonly y: number }
    | undefined;
  const exact = (x: number, z: number): NearestShape => {
    let best = last ? Math.min(far, pointDistance(last.posed, last.shape, x, last.y, z)) : far;
    let found = best < far ? last : undefined;
    for (const { shape, at, bounds } of swept)
      for (const y of planes) {
        if (best > 0 && toBounds(bounds, 0, x, y, z) >= best * best) continue;
        for (const { posed, angle } of at) {
          if (best > 0 && toBounds(posed.bounds, 6 * shape, x, y, z) >= best * best) continue;
          const d = pointDistance(posed, shape, x, y, z);
          if (d < best) {
            best = d;
            found = { posed, shape, angle, y };
          }
        }
      }
    if (found) last = found;
    return { distance: best, shape: found?.shape ?? -1, angle: found?.angle ?? 0, side: (found?.y ?? 1) < 0 ? -1 : 1 };
  };
  /** Distance to the bounds of whatever is nearest: never more than the true one. */
  const atLeast = (x: number, z: number): number => {
    let least = Number.POSITIVE_INFINITY;
    for (const { bounds } of swept)
      for (const y of planes) {
        const d = toBounds(bounds, 0, x, y, z);
        if (d < least) least = d;
      }
    return Math.sqrt(least);
  };
  return makeField(exact, (x, z) => {
    const bound = atLeast(x, z);
    return bound > far ? Math.min(bound, BEYOND) : exact(x, z).distance;
  });
}

/** A field of any distance: `exact` with what is nearest, `atNode` the distance kept at a node, or a lower bound beyond what is asked. */
export function makeField(
  exact: (x: number, z: number) => NearestShape,
  atNode: (x: number, z: number) => number = (x, z) => exact(x, z).distance,
): ClearanceField {
  // 1e-8 m is more than enough, and half as much memory is read faster
  const grid = new Float32Array(NX * NZ).fill(Number.NaN);
  return {
    grid,
    plus: 0,
    exact,
    fill(at) {
      for (const node of [at, at + 1, at + NX, at + NX + 1]) {
        if (!Number.isNaN(grid[node]!)) continue;
        const k = Math.floor(node / NX);
        grid[node] = atNode(X[0] + (node - k * NX) * CELL, Z[0] + k * CELL);
      }
    },
  };
}

/** The same field, everything farther away by `by` (m). */
export const withdrawn = (field: ClearanceField, by: number): ClearanceField => ({
  ...field,
  plus: field.plus + by,
  exact: (x, z) => {
    const near = field.exact(x, z);
    return { ...near, distance: near.distance + by };
  },
});

const X0 = X[0];
const Z0 = Z[0];
const PER_METRE = 1 / CELL;

/** Distance (m) at (x, z); beyond `far` of the field a lower bound of it, at least `far`. */
export function readField(field: ClearanceField, x: number, z: number): number {
  const u = (x - X0) * PER_METRE;
  const w = (z - Z0) * PER_METRE;
  if (!(u >= 0 && w >= 0 && u < NX - 1 && w < NZ - 1)) return field.exact(x, z).distance;
  const i = Math.floor(u);
  const k = Math.floor(w);
  const a = u - i;
  const b = w - k;
  const at = k * NX + i;
  const { grid } = field;
  // a node that was never asked for is NaN, and so is the sum
  let lower = grid[at]! + a * (grid[at + 1]! - grid[at]!);
  let upper = grid[at + NX]! + a * (grid[at + NX + 1]! - grid[at + NX]!);
  if (Number.isNaN(lower + upper)) {
    field.fill(at);
    lower = grid[at]! + a * (grid[at + 1]! - grid[at]!);
    upper = grid[at + NX]! + a * (grid[at + NX + 1]! - grid[at + NX]!);
  }
  return lower + b * (upper - lower) + field.plus;
}
