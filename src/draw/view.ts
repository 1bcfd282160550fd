/**
 * Views of a posed bicycle, first-angle as on a drawing sheet.
 *
 * A view is three unit vectors: `right` and `up` on the paper, `toward` from the object to the eye. The side view looks at
 * the drive side, as bicycles are drawn: x to the right, z up, the eye at −y. Parallel projection throughout.
 */
import { cross, dot, type Numbers, type Solid, scale, solidReach, unit, type Vec3 } from '#kernel';
import type { Point2 } from './svg.ts';

export interface View {
  readonly right: Vec3;
  readonly up: Vec3;
  readonly toward: Vec3;
}
export const SIDE: View = { right: [1, 0, 0], up: [0, 0, 1], toward: [0, -1, 0] };

/** The view of an eye in the direction `toward`, with `up` upright on the paper. */
export const viewFrom = (toward: Vec3, up: Vec3 = [0, 0, 1]): View => {
  const t = unit(toward);
  const right = unit(cross(up, t));
  return { right, up: cross(t, right), toward: t };
};
/** From the drive side, a little from ahead and from above: the one view in which every motion shows. */
export const ASLANT: View = viewFrom([0.5, -1, 0.55]);

/** Side, end and plan of something whose length, width and height lie along these unit directions. */
export const viewsAlong = (axes: readonly [Vec3, Vec3, Vec3]): { side: View; end: View; plan: View } => {
  const [l, , h] = axes;
  // the eye of the side view is on the side from which length runs to the right
  const toward = cross(l, h);
  return {
    side: { right: l, up: h, toward },
    end: { right: toward, up: h, toward: scale(l, -1) },
    plan: { right: l, up: scale(toward, -1), toward: h },
  };
};

/** Metres in the view plane (right, up) of a point. */
export const flat = (view: View, p: Vec3): Point2 => [dot(view.right, p), dot(view.up, p)];
export const depth = (view: View, p: Vec3): number => dot(view.toward, p);
export const pointAt = (a: Numbers, i: number): Vec3 => [a[i]!, a[i + 1]!, a[i + 2]!];

/** Least and largest of right and up, metres in the view plane. */
export interface Extent {
  readonly left: number;
  readonly right: number;
  readonly bottom: number;
  readonly top: number;
}
/** How far the shapes reach in a view, exactly. */
export const extentOf = (solid: Solid, view: View): Extent => ({
  left: -solidReach(solid, scale(view.right, -1)),
  right: solidReach(solid, view.right),
  bottom: -solidReach(solid, scale(view.up, -1)),
  top: solidReach(solid, view.up),
});
export const around = (list: readonly Extent[]): Extent => ({
  left: Math.min(...list.map((e) => e.left)),
  right: Math.max(...list.map((e) => e.right)),
  bottom: Math.min(...list.map((e) => e.bottom)),
  top: Math.max(...list.map((e) => e.top)),
});

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
/** A sheet on which the extent's lower left corner lies at (left, bottom). */
export const sheetFor = (e: Extent, scalePx: number, left: number, bottom: number): Sheet => ({
  scale: scalePx,
  origin: [e.left, e.bottom],
  left,
  bottom,
});

/** CSS pixels in a metre of paper: 96 to the inch. */
export const PX_PER_PAPER_METRE = 96 / 0.0254;
/** Reductions in use: 1:10 and 1:20 after ISO 5455, the others where neither fills the sheet. */
const REDUCTIONS = [5, 10, 15, 20, 30, 50, 100] as const;
/** Pixels per metre of a reduction; 1:10 is 10. */
export const scaleOf = (reduction: number): number => PX_PER_PAPER_METRE / reduction;
/** The least reduction at which so many metres fit into so many pixels, from `least` on. */
export const reductionFor = (metres: number, px: number, least: number): number =>
  REDUCTIONS.find((r) => r >= least && metres * scaleOf(r) <= px) ?? REDUCTIONS.at(-1)!;

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
