/** The benchmark bicycle for tests of this folder, in ISO 8855 axes: Meijaard et al. 2007, Table 1. Not exported. */
import type { RigidMass } from '../mass/rigid-mass.ts';
import type { WhippleBicycle } from './whipple.ts';

const body = (mass: number, x: number, z: number, Ixx: number, Ixz: number, Izz: number): RigidMass => ({
  mass,
  com: [x, 0, z],
  inertia: [Ixx, NaN, Izz, 0, Ixz, 0],
});

export const SAMPLE: WhippleBicycle = {
  wheelbase: 1.02,
  trail: 0.08,
  headAngle: (72 * Math.PI) / 180,
  gravity: 9.81,
  rearWheel: { radius: 0.3, mass: 2, Ixx: 0.0603, Iyy: 0.12 },
  rearBody: body(85, 0.3, 0.9, 9.2, -2.4, 2.8),
  frontBody: body(4, 0.9, 0.7, 0.05892, 0.00756, 0.00708),
  frontWheel: { radius: 0.35, mass: 3, Ixx: 0.1405, Iyy: 0.28 },
};
