/**
 * Orthographic views of a posed bicycle, first-angle as on a drawing sheet.
 *
 * A view is three unit vectors: `right` and `up` on the paper, `toward` from the object to the eye. The side view looks at
 * the drive side, as bicycles are drawn: x to the right, z up, the eye at −y.
 */
import { dot, type Numbers, type Vec3 } from '#kernel';
import type { Point2 } from './svg.ts';

export interface View {
  readonly right: Vec3;
  readonly up: Vec3;
  readonly toward: Vec3;
}
export const SIDE: View = { right: [1, 0, 0], up: [0, 0, 1], toward: [0, -1, 0] };
export const END: View = { right: [0, -1, 0], up: [0, 0, 1], toward: [-1, 0, 0] };
export const TOP: View = { right: [1, 0, 0], up: [0, 1, 0], toward: [0, 0, 1] };

/** Views along the axes of a package: `axes` are its unit length, width and height directions. */
export const packageViews = (axes: readonly [Vec3, Vec3, Vec3]): { side: View; end: View; top: View } => {
  const [l, w, h] = axes;
  const minus = (v: Vec3): Vec3 => [-v[0], -v[1], -v[2]];
  return {
    side: { right: l, up: h, toward: minus(w) },
    end: { right: minus(w), up: h, toward: minus(l) },
    top: { right: l, up: w, toward: h },
  };
};

/** Metres in the view plane (right, up) of a point. */
export const flat = (view: View, p: Vec3): Point2 => [dot(view.right, p), dot(view.up, p)];
export const depth = (view: View, p: Vec3): number => dot(view.toward, p);
export const pointAt = (a: Numbers, i: number): Vec3 => [a[i]!, a[i + 1]!, a[i + 2]!];

/** Paper coordinates: `scale` px per metre, y downwards, the view-plane point `origin` at (left, bottom). */
export interface Sheet {
  readonly scale: number;
  readonly origin: Point2;
  readonly left: number;
  readonly bottom: number;
}
export const onSheet = (sheet: Sheet, p: Point2): Point2 => [
  sheet.left + (p[0] - sheet.origin[0]) * sheet.scale,
  sheet.bottom - (p[1] - sheet.origin[1]) * sheet.scale,
];

/** Convex hull of points in the plane, counter-clockwise (Andrew's monotone chain). */
export function hull2(points: readonly Point2[]): Point2[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  if (sorted.length < 3) return sorted;
  const turn = (o: Point2, a: Point2, b: Point2) => (a[0] - o[0]) * (b[1] - o[1]) - (a[1] - o[1]) * (b[0] - o[0]);
  const half = (list: readonly Point2[]): Point2[] => {
    const chain: Point2[] = [];
    for (const p of list) {
      while (chain.length > 1 && turn(chain.at(-2)!, chain.at(-1)!, p) <= 0) chain.pop();
      chain.push(p);
    }
    chain.pop();
    return chain;
  };
  return [...half(sorted), ...half(sorted.reverse())];
}
