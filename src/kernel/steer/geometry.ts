/**
 * Steering geometry from a steerer axis, a front hub and a loaded wheel radius.
 *
 *   c = (r cos γ − f) / sin γ     trail on the ground, positive when the contact lies behind the axis
 *   c_n = c sin γ = r cos γ − f   mechanical trail: contact to axis, measured square to the axis
 *   flop = c sin γ cos γ          wheel flop factor: for a small steer angle δ the front drops by about ½ flop δ²
 *   h = c tan γ                   height at which the axis cuts the vertical through the hub; h/r is the intercept ratio
 *
 * r loaded front wheel radius, γ head angle from the horizontal, f fork offset (hub ahead of the axis, square to it).
 * Source: J. K. Moore, Human Control of a Bicycle, PhD thesis, University of California Davis 2012, chapter 5 (trail,
 * offset); flop factor: common practice, no source. Words differ between trades: motorcycle writers call c the mechanical
 * trail and c_n the normal trail; here the bicycle usage stands.
 * Not here: tyre pneumatic trail, sag of a suspension.
 */
import { dot, norm, scale, sub, type Vec3 } from '../math/rigid.ts';
import { insist } from './refusal.ts';

export interface SteerGeometry {
  /** Between the steer axis and the ground, rad; under π/2 when the axis leans back. */
  readonly headAngle: number;
  /** m, as in the header. */
  readonly trail: number;
  readonly mechanicalTrail: number;
  readonly offset: number;
  readonly flop: number;
  /** Height of the cut over the wheel radius; NaN when the axis is vertical and never cuts. */
  readonly interceptRatio: number;
  readonly wheelRadius: number;
}

/** An axis nearer than this to vertical has no intercept; nearer than this to level has no ground point. rad */
const PARALLEL = 1e-9;
/** An axis may leave the mid-plane by this much in its unit vector, and in m at its point, before it is refused. */
const OUT_OF_PLANE = 1e-6;

function assemble(headAngle: number, trail: number, offset: number, wheelRadius: number): SteerGeometry {
  const sin = Math.sin(headAngle);
  const cos = Math.cos(headAngle);
  return {
    headAngle,
    trail,
    mechanicalTrail: trail * sin,
    offset,
    flop: trail * sin * cos,
    interceptRatio: Math.abs(cos) < PARALLEL ? NaN : (trail * sin) / cos / wheelRadius,
    wheelRadius,
  };
}

/**
 * From the three numbers on a drawing: loaded radius (m), head angle (rad), fork offset (m).
 * @throws SteerRefusal for a radius not above 0, a head angle not between 0 and π, an offset beyond the wheel.
 */
export function headGeometry(wheelRadius: number, headAngle: number, offset: number): SteerGeometry {
  insist(
    wheelRadius > 0 && wheelRadius < Infinity,
    'wheelRadius',
    `wheel radius must be above 0 m, got ${wheelRadius} m`,
  );
  insist(
    headAngle > PARALLEL && headAngle < Math.PI - PARALLEL,
    'headAngle',
    `head angle must lie between 0 and 180°, got ${headAngle} rad`,
  );
  insist(Number.isFinite(offset), 'offset', 'fork offset must be a number');
  const trail = (wheelRadius * Math.cos(headAngle) - offset) / Math.sin(headAngle);
  return assemble(headAngle, trail, offset, wheelRadius);
}

/** A steer axis: any point on it and its direction, up or down; m, ISO 8855 axes, ground at z = 0. */
export interface SteererAxis {
  readonly point: Vec3;
  readonly axis: Vec3;
}

/** Unit vector along the axis, pointing up. */
export const axisUp = (axis: Vec3): Vec3 => scale(axis, (axis[2] < 0 ? -1 : 1) / norm(axis));

/**
 * From a steerer axis, the front hub and the loaded wheel radius (m, ISO 8855 axes). The wheel touches the ground
 * one loaded radius below the hub, whatever the height that a file gives the hub.
 * @throws SteerRefusal for an axis that is level, leaves the mid-plane, or has no direction; for a radius not above 0.
 */
export function steerGeometry(steerer: SteererAxis, frontHub: Vec3, wheelRadius: number): SteerGeometry {
  insist(
    wheelRadius > 0 && wheelRadius < Infinity,
    'wheelRadius',
    `wheel radius must be above 0 m, got ${wheelRadius} m`,
  );
  const length = norm(steerer.axis);
  insist(length > 0 && length < Infinity, 'axis', 'the steer axis has no direction');
  const up = axisUp(steerer.axis);
  insist(up[2] > PARALLEL, 'axis', 'the steer axis is level and never meets the ground');
  insist(
    Math.abs(up[1]) <= OUT_OF_PLANE && Math.abs(steerer.point[1] - frontHub[1]) <= OUT_OF_PLANE,
    'axis',
    `the steer axis leaves the plane of the wheel: sideways ${up[1]} in its direction, ${steerer.point[1] - frontHub[1]} m at its point`,
  );
  insist(
    Number.isFinite(steerer.point[0]) && Number.isFinite(steerer.point[2]),
    'point',
    'the point of the steer axis must be numbers',
  );
  insist(Number.isFinite(frontHub[0]) && Number.isFinite(frontHub[2]), 'frontHub', 'the front hub must be numbers');
  const headAngle = Math.atan2(up[2], -up[0]);
  const ahead: Vec3 = [up[2], 0, -up[0]]; // square to the axis, forward
  return headGeometry(wheelRadius, headAngle, dot(sub(frontHub, steerer.point), ahead));
}
