/**
 * Free bodies: the resultant of loads, what the ground answers, and inertia forces that complete a blow.
 *
 * Units: mm, N, N·mm, kg; accelerations in N/kg (= m/s²) and, for rotations, N/(kg·mm).
 * Newton and Euler for a rigid set of point masses at rest (no velocity terms). Assumption: while a load is found, the
 * bicycle is rigid; the beam model then finds what it does to the parts. Not here: gyroscopic terms, elastic waves.
 */
import { add, cross, dot, scale, sub, type Vec3 } from '../../math/rigid.ts';
import type { FrameContext, Lump } from '../places.ts';
import type { FrameStructure, NodeLoad } from '../structure.ts';
import { force, placeAt } from './frame-case.ts';

export interface Resultant {
  readonly force: Vec3;
  /** About the point asked for. */
  readonly moment: Vec3;
}

export function resultant(structure: FrameStructure, loads: readonly NodeLoad[], about: Vec3): Resultant {
  let f: Vec3 = [0, 0, 0];
  let m: Vec3 = [0, 0, 0];
  for (const load of loads) {
    f = add(f, load.force);
    const arm = sub(load.at ?? structure.nodes[load.node]!.at, about);
    m = add(m, add(load.moment, cross(arm, load.force)));
  }
  return { force: f, moment: m };
}

export interface WheelForces {
  readonly rear: Vec3;
  readonly front: Vec3;
  /** What two points on the ground cannot answer: the moment about the line through them, N·mm. 0 when the bicycle is balanced. */
  readonly roll: number;
  /** The forces as loads: on the axle nodes, at the contacts. */
  readonly loads: readonly NodeLoad[];
}

export const contactUnder = (context: FrameContext, axle: 'rearAxle' | 'frontAxle'): Vec3 =>
  sub(placeAt(context, axle), [0, 0, axle === 'rearAxle' ? context.rearRadius : context.frontRadius]);

/** The ground's forces on both wheels that balance `loads`; `along` is the wheel that takes what is left fore and aft. */
export function onWheels(context: FrameContext, loads: readonly NodeLoad[], along: 'rear' | 'front'): WheelForces {
  const rearAt = contactUnder(context, 'rearAxle');
  const frontAt = contactUnder(context, 'frontAxle');
  const { force: f, moment: m } = resultant(context.structure, loads, rearAt);
  const [wx, wy, wz] = sub(frontAt, rearAt);
  const fx = along === 'front' ? -f[0] : 0;
  const fz = (m[1] + wz * fx) / wx;
  const fy = (wy * fx - m[2]) / wx;
  const front: Vec3 = [fx, fy, fz];
  const rear: Vec3 = [-f[0] - fx, -f[1] - fy, -f[2] - fz];
  return {
    rear,
    front,
    roll: m[0] + wy * fz - wz * fy,
    loads: [force(context.places.rearAxle, rear, rearAt), force(context.places.frontAxle, front, frontAt)],
  };
}

/**
 * The same loads on a bicycle that leans by the little that balances it: what hangs off the mid-plane moves the rest to the
 * other side. Of `own` (weights, inertia, rider) what presses down turns with the lean; hands that pull up and `given` (a
 * chain's pull) do not: counted in, a pull of half the weight at the grips would leave nothing to lean with, and the
 * angle would grow without bound. Small angle.
 */
export function leaned(context: FrameContext, own: readonly NodeLoad[], given: readonly NodeLoad[] = []): NodeLoad[] {
  const about = contactUnder(context, 'rearAxle');
  const point = (load: NodeLoad): Vec3 => load.at ?? context.structure.nodes[load.node]!.at;
  const roll = onWheels(context, [...own, ...given], 'rear').roll;
  const down = (load: NodeLoad): number => Math.min(0, load.force[2]);
  const perAngle = own.reduce((sum, load) => sum + (point(load)[2] - about[2]) * down(load), 0);
  const angle = roll / perAngle;
  return own.map((load) => ({
    ...load,
    force: [load.force[0], load.force[1] + angle * down(load), load.force[2]],
  }));
}

/** A force on every mass: its weight (`[0, 0, −g]`) or its inertia against an acceleration. */
export const onMasses = (masses: readonly Lump[], perKg: (at: Vec3) => Vec3): NodeLoad[] =>
  masses.map(({ node, mass, at }) => force(node, scale(perKg(at), mass), at));

export const massOf = (masses: readonly Lump[]): number => masses.reduce((sum, lump) => sum + lump.mass, 0);
export const centreOf = (masses: readonly Lump[]): Vec3 =>
  scale(
    masses.reduce<Vec3>((sum, lump) => add(sum, scale(lump.at, lump.mass)), [0, 0, 0]),
    1 / massOf(masses),
  );

/**
 * How a rigid set of point masses answers a force and a moment about its centre: the acceleration of any point.
 * @throws RangeError for masses on one line, which have no inertia about it.
 */
export function rigidAcceleration(masses: readonly Lump[], f: Vec3, momentAtCentre: Vec3): (at: Vec3) => Vec3 {
  const m = massOf(masses);
  const c = centreOf(masses);
  let [xx, yy, zz, xy, xz, yz] = [0, 0, 0, 0, 0, 0];
  for (const { mass, at } of masses) {
    const [x, y, z] = sub(at, c);
    xx += mass * (y * y + z * z);
    yy += mass * (x * x + z * z);
    zz += mass * (x * x + y * y);
    xy -= mass * x * y;
    xz -= mass * x * z;
    yz -= mass * y * z;
  }
  const r0: Vec3 = [xx, xy, xz];
  const r1: Vec3 = [xy, yy, yz];
  const r2: Vec3 = [xz, yz, zz];
  const det = dot(r0, cross(r1, r2));
  // Against the product of the diagonal, so that the measure has no unit; a line of masses gives about 1e-16.
  if (!(det > 1e-9 * xx * yy * zz))
    throw new RangeError('the masses lie on one line and cannot answer a moment about it');
  const M = momentAtCentre;
  const spin: Vec3 = [dot(M, cross(r1, r2)) / det, dot(M, cross(r2, r0)) / det, dot(M, cross(r0, r1)) / det];
  const a = scale(f, 1 / m);
  return (at) => add(a, cross(spin, sub(at, c)));
}

/** The inertia forces of `masses` that balance `loads`: d'Alembert for a structure that nothing holds. */
export function inertiaRelief(
  structure: FrameStructure,
  loads: readonly NodeLoad[],
  masses: readonly Lump[],
): NodeLoad[] {
  const { force: f, moment } = resultant(structure, loads, centreOf(masses));
  const acceleration = rigidAcceleration(masses, f, moment);
  return onMasses(masses, (at) => scale(acceleration(at), -1));
}

/** In-plane accelerations (m/s² per N) of a point to unit forces there: a_x = xx F_x + xz F_z, a_z = xz F_x + zz F_z. */
export interface HubMobility {
  readonly xx: number;
  readonly xz: number;
  readonly zz: number;
}
export function mobilityAt(masses: readonly Lump[], at: Vec3): HubMobility {
  const arm = sub(at, centreOf(masses));
  const answer = (f: Vec3): Vec3 => rigidAcceleration(masses, f, cross(arm, f))(at);
  const x = answer([1, 0, 0]);
  const z = answer([0, 0, 1]);
  return { xx: x[0], xz: z[0], zz: z[2] };
}
