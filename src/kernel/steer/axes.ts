/**
 * The module's edge: ISO 8855 axes (x forward, y left, z up) to and from the axes of Meijaard et al. 2007
 * (x forward, y right, z down), by a half-turn about x. The half-turn undoes itself, so each function serves both ways.
 *
 * Source: axes, ISO 8855:2011 and Meijaard, Papadopoulos, Ruina & Schwab 2007, Proc. R. Soc. A 463:1955–1982, Table 1.
 * Tensor elements: Ixy and Ixz change sign, Iyz does not. Angles: lean (about x) keeps its sign; pitch, yaw and steer
 * change theirs: in the paper steer is positive to the right, in ISO 8855 to the left.
 */
import type { RigidMass } from '../mass/rigid-mass.ts';
import type { Vec3 } from '../math/rigid.ts';

const flip = (p: Vec3): Vec3 => [p[0], -p[1], -p[2]];

/** A rigid mass (kg, m, kg·m²) of one set of axes in the other. */
export function betweenIsoAndPaper(body: RigidMass): RigidMass {
  const [xx, yy, zz, xy, xz, yz] = body.inertia;
  return { mass: body.mass, com: flip(body.com), inertia: [xx, yy, zz, -xy, -xz, yz] };
}

/** An angle, angular rate or torque about the named axis, of one set of axes in the other. */
export function signBetweenIsoAndPaper(about: 'lean' | 'pitch' | 'yaw' | 'steer', value: number): number {
  return about === 'lean' ? value : -value;
}
