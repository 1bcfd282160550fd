/**
 * Area and spread of the hollow sections that tubes have.
 *
 * round: ring. oval: ellipse less the ellipse whose axes are shorter by two walls (the usual idealisation; its wall is
 * exactly `wall` on the axes and slightly thinner between them). rectangular: sharp corners.
 * A solid bar is a section whose wall is half its smaller side. Sources: theory (second moments of ellipse and
 * rectangle). Units: any consistent set.
 * Not here: corner radii, torsion constants.
 */
import { cross, dot, norm, scale, sub, type Vec3 } from '../math/rigid.ts';

export type SectionShape = 'round' | 'oval' | 'rectangular';

/** Area; `alongHeight` = ∫h² dA and `alongWidth` = ∫w² dA about the centroid, h and w measured along height and width. */
export interface SectionSpread {
  readonly area: number;
  readonly alongHeight: number;
  readonly alongWidth: number;
}

/** Area and second moments of one section. NaN where the wall is not in (0, half of the smaller side]. */
export function sectionSpread(shape: SectionShape, height: number, width: number, wall: number): SectionSpread {
  if (!(wall > 0 && 2 * wall <= Math.min(height, width) * (1 + WALL_ROUNDING)))
    return { area: Number.NaN, alongHeight: Number.NaN, alongWidth: Number.NaN };
  const h = Math.max(height - 2 * wall, 0);
  const w = Math.max(width - 2 * wall, 0);
  const [a, i] = shape === 'rectangular' ? [1, 1 / 12] : [Math.PI / 4, Math.PI / 64];
  return {
    area: a * (height * width - h * w),
    alongHeight: i * (width * height * height * height - w * h * h * h),
    alongWidth: i * (height * width * width * width - h * w * w * w),
  };
}

/**
 * Directions of a section's width and height for a member along the unit vector `along`: the width lies as near to
 * lateral (y) as the member allows, forward (x) for a member that runs laterally itself; height completes the set. So
 * `height` is the size seen from the side in every member that lies in or near the plane of the bicycle.
 */
export function sectionAxes(along: Vec3): { readonly width: Vec3; readonly height: Vec3 } {
  let width = sub([0, 1, 0], scale(along, along[1]));
  let length = norm(width);
  if (!(length > LATERAL)) {
    width = sub([1, 0, 0], scale(along, dot(along, [1, 0, 0])));
    length = norm(width);
  }
  width = scale(width, 1 / length);
  return { width, height: cross(along, width) };
}

/** A bar given as wall = radius may exceed it by a rounding error of the unit conversion. */
const WALL_ROUNDING = 1e-9;
/** Sine of the angle to y under which a member counts as lateral: 0.06°, so that a drawn axle is one. */
const LATERAL = 1e-3;
