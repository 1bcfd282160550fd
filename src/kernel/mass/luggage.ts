/** Luggage as a solid box round its station: a bag of 0.18 × 0.34 × 0.28 m unless its size is given (default, from memory). */
import type { Vec3 } from '../math/rigid.ts';
import type { RigidMass } from './rigid-mass.ts';
import { boxMass } from './shapes.ts';

export const BAG_SIZE: Vec3 = [0.18, 0.34, 0.28];
/** @throws RangeError for a negative mass or size. */
export const luggageMass = (mass: number, centre: Vec3, size: Vec3 = BAG_SIZE): RigidMass =>
  boxMass(mass, size, centre);
