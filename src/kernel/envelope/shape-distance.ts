/**
 * Distance of two shapes given as records: the clear form of `gap.ts`, for calculations, tests and drawings.
 */
import { at3, type Vec3 } from '../math/rigid.ts';
import { SHAPE } from './convex-distance.ts';
import { gapOf } from './gap.ts';

export type SolidShape =
  | { readonly kind: 'capsule'; readonly from: Vec3; readonly to: Vec3; readonly radius: number }
  | {
      readonly kind: 'disc';
      readonly centre: Vec3;
      /** Any length but 0. */
      readonly normal: Vec3;
      readonly radius: number;
      readonly halfThickness: number;
    }
  | {
      readonly kind: 'box';
      readonly centre: Vec3;
      /** Orthonormal. */
      readonly axes: readonly [Vec3, Vec3, Vec3];
      readonly half: Vec3;
    };

export interface ShapeDistance {
  /** True distance, m; 0 when the shapes meet. */
  readonly distance: number;
  /** Estimate of how far they lie in each other, m; 0 when apart. See `overlap-depth.ts`. */
  readonly overlap: number;
  /** Nearest points, one on each; when the shapes meet, one point within the overlap, twice. */
  readonly points: readonly [Vec3, Vec3];
}

/** The flat form of a shape as in `State`: 7, 8 or 15 numbers. */
export function packShape(shape: SolidShape): Float64Array {
  switch (shape.kind) {
    case 'capsule':
      return Float64Array.from([...shape.from, ...shape.to, shape.radius]);
    case 'disc': {
      const [x, y, z] = shape.normal;
      const n = Math.sqrt(x * x + y * y + z * z);
      return Float64Array.from([...shape.centre, x / n, y / n, z / n, shape.radius, shape.halfThickness]);
    }
    case 'box':
      return Float64Array.from([...shape.centre, ...shape.axes.flat(), ...shape.half]);
  }
}

/** Distance, overlap and nearest points of two shapes, exact to 1e-9 m when apart. */
export function shapeDistance(a: SolidShape, b: SolidShape): ShapeDistance {
  const out = new Float64Array(7);
  const gap = gapOf(SHAPE[a.kind], packShape(a), 0, SHAPE[b.kind], packShape(b), 0, Infinity, out);
  return { distance: gap > 0 ? gap : 0, overlap: gap < 0 ? -gap : 0, points: [at3(out, 0), at3(out, 3)] };
}
