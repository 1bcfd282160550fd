/**
 * From steer torque to force at the grips.
 *
 * A grip at distance b to the side of the steer axis and a ahead of it (both square to the axis) turns with radius
 * ρ = √(a² + b²). Force square to that radius needs least: T/ρ, shared by two hands T/(2ρ). It points across the
 * shoulders rather than along the arms by the angle atan(a/b): grips far ahead of (or behind) the axis are swung
 * sideways, and pushing and pulling along the arms then has only the lever b, T/(2b).
 * Statics; no source needed. Assumptions: both hands share the torque equally; the arms reach straight forward.
 * Not here: the compliance of bar, stem and folding joints, which delays the torque but does not change it.
 */
import { dot, type Vec3 } from '../math/rigid.ts';
import { axisUp, type SteererAxis } from './geometry.ts';
import { insist } from './refusal.ts';

export interface GripLever {
  /** ρ: distance of the grip from the steer axis, m. */
  readonly radius: number;
  /** b: sideways part of it, m. */
  readonly side: number;
  /** a: how far the grip lies ahead of the axis, m; negative behind. */
  readonly reach: number;
  /** Angle between the grip's motion and straight fore-and-aft, rad; sign of `reach`. */
  readonly tiller: number;
}

/**
 * The lever of one grip (m, ISO 8855 axes, wheel straight); the other is its mirror image.
 * @throws SteerRefusal when the grip lies on the steer axis or in the mid-plane.
 */
export function gripLever(steerer: SteererAxis, grip: Vec3): GripLever {
  const up = axisUp(steerer.axis);
  const d: Vec3 = [grip[0] - steerer.point[0], grip[1] - steerer.point[1], grip[2] - steerer.point[2]];
  const reach = dot(d, [up[2], 0, -up[0]]);
  const side = Math.abs(d[1]);
  insist(
    side > 0 && side < Infinity,
    'grip',
    'the grip lies in the mid-plane: it has no lever for pushing and pulling',
  );
  insist(Number.isFinite(reach), 'grip', 'the grip must be numbers');
  return { radius: Math.sqrt(reach * reach + side * side), side, reach, tiller: Math.atan2(reach, side) };
}

export interface HandForce {
  /** Per hand, N, square to the grip's radius: the least that does it. */
  readonly least: number;
  /** Per hand, N, when pushing and pulling straight fore-and-aft. */
  readonly foreAft: number;
}

/** Force of each of two hands for a steer torque (N·m); sizes, without sign. */
export const handForce = (torque: number, lever: GripLever): HandForce => ({
  least: Math.abs(torque) / (2 * lever.radius),
  foreAft: Math.abs(torque) / (2 * lever.side),
});
