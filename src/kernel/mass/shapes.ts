/**
 * Mass and inertia of named solids, from their textbook closed forms.
 *
 * Assumption: uniform density. Sources: the moments of inertia of cuboid, solid cylinder and thin ring are in every
 * engineering handbook (e.g. Beer & Johnston, Vector Mechanics for Engineers, inside cover: theory, checked in the tests
 * by direct integration). Units: SI, or any consistent set.
 * Not here: tubes (`tube.ts`), spheres, products of inertia of skewed solids.
 */
import { dot, type Vec3 } from '../math/rigid.ts';
import type { Inertia, RigidMass } from './rigid-mass.ts';

/** The tensor of a body of revolution: `axial` about the unit `axis`, `across` about every line perpendicular to it. */
export function axisymmetric(axial: number, across: number, axis: Vec3): Inertia {
  const d = axial - across;
  const [x, y, z] = axis;
  return [across + d * x * x, across + d * y * y, across + d * z * z, d * x * y, d * x * z, d * y * z];
}

/** A mass without extent. @throws RangeError for a negative or non-finite mass. */
export function pointMass(mass: number, at: Vec3): RigidMass {
  refuse(mass, 'mass');
  return { mass, com: at, inertia: [0, 0, 0, 0, 0, 0] };
}

/**
 * A solid cuboid with edge lengths `size` along three orthonormal `axes` (default: the world's).
 * @throws RangeError for a negative mass or edge, or axes that are not orthonormal.
 */
export function boxMass(mass: number, size: Vec3, centre: Vec3, axes: readonly [Vec3, Vec3, Vec3] = WORLD): RigidMass {
  refuse(mass, 'mass');
  for (const edge of size) refuse(edge, 'box edge');
  for (let i = 0; i < 3; i++)
    for (let j = i; j < 3; j++)
      if (!(Math.abs(dot(axes[i]!, axes[j]!) - (i === j ? 1 : 0)) < ORTHONORMAL))
        throw new RangeError('box axes must be orthonormal');
  const [a, b, c] = size.map((edge) => (mass * edge * edge) / 12) as [number, number, number];
  return { mass, com: centre, inertia: principalInertia([b + c, a + c, a + b], axes) };
}

/** The tensor with the given principal moments about three orthonormal axes: Σ I_k a_k a_kᵀ. */
export function principalInertia(moments: Vec3, axes: readonly [Vec3, Vec3, Vec3]): Inertia {
  const out: [number, number, number, number, number, number] = [0, 0, 0, 0, 0, 0];
  for (let k = 0; k < 3; k++) {
    const [x, y, z] = axes[k]!;
    out[0] += moments[k]! * x * x;
    out[1] += moments[k]! * y * y;
    out[2] += moments[k]! * z * z;
    out[3] += moments[k]! * x * y;
    out[4] += moments[k]! * x * z;
    out[5] += moments[k]! * y * z;
  }
  return out;
}

/** A solid cylinder or disc: radius, thickness along the unit `axis`. @throws RangeError for negative input. */
export function discMass(mass: number, radius: number, thickness: number, centre: Vec3, axis: Vec3): RigidMass {
  refuse(mass, 'mass');
  refuse(radius, 'radius');
  refuse(thickness, 'thickness');
  const axial = (mass * radius * radius) / 2;
  return { mass, com: centre, inertia: axisymmetric(axial, axial / 2 + (mass * thickness * thickness) / 12, axis) };
}

/** A thin ring (cylindrical shell) of given radius and width along the unit `axis`. @throws RangeError for negative input. */
export function hoopMass(mass: number, radius: number, width: number, centre: Vec3, axis: Vec3): RigidMass {
  refuse(mass, 'mass');
  refuse(radius, 'radius');
  refuse(width, 'width');
  const axial = mass * radius * radius;
  return { mass, com: centre, inertia: axisymmetric(axial, axial / 2 + (mass * width * width) / 12, axis) };
}

/** A solid rod from `from` to `to` with a round section; radius 0 is the slender rod. @throws RangeError for negative input. */
export function rodMass(mass: number, from: Vec3, to: Vec3, radius = 0): RigidMass {
  const d: Vec3 = [to[0] - from[0], to[1] - from[1], to[2] - from[2]];
  const length = Math.sqrt(dot(d, d));
  const centre: Vec3 = [(from[0] + to[0]) / 2, (from[1] + to[1]) / 2, (from[2] + to[2]) / 2];
  if (!(length > 0)) return discMass(mass, radius, 0, centre, [1, 0, 0]);
  return discMass(mass, radius, length, centre, [d[0] / length, d[1] / length, d[2] / length]);
}

const WORLD: readonly [Vec3, Vec3, Vec3] = [
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
];
/** Unit axes written with eight digits in a file still pass; a sheared frame does not. */
const ORTHONORMAL = 1e-7;

function refuse(value: number, what: string): void {
  if (!(value >= 0 && Number.isFinite(value))) throw new RangeError(`${what} must be 0 or more, got ${value}`);
}
