/**
 * Inertia of a spoked wheel from its mass and size when it has not been measured.
 *
 * Method: rim, tyre and tube as a hoop halfway between bead seat and the middle of the tyre, R − 3/4 width; spokes as
 * radial rods between hub flange and hoop; hub as a solid cylinder. The rule of thumb "hoop at 0.93 R" (from memory) is
 * this model for a 28-622 tyre, but 6 % too far out for a 40-406. Published measurements of four 26-28 inch
 * front wheels have polar inertia 0.56-0.66 m R² (Moore et al. 2010); a hub mass that is not known moves it most.
 * Not here: asymmetric hubs, tyre sealant, disc rotors.
 */
import type { Vec3 } from '../math/rigid.ts';
import { combine, type RigidMass } from './rigid-mass.ts';
import { discMass, hoopMass } from './shapes.ts';

export interface SpokedWheelMake {
  /** Whole wheel with tyre and tube. */
  readonly mass: number;
  /** Outer radius, unloaded. */
  readonly radius: number;
  readonly tyreWidth: number;
  readonly hubMass: number;
  readonly hubRadius: number;
  readonly hubWidth: number;
  readonly spokeMass: number;
}
export interface SpokedWheelInertia {
  readonly polar: number;
  readonly diametral: number;
  readonly hoopMass: number;
  readonly hoopRadius: number;
}

/** Polar and diametral inertia of the wheel about its centre. @throws RangeError when hub and spokes outweigh the wheel. */
export function spokedWheelInertia(make: SpokedWheelMake): SpokedWheelInertia {
  const hoop = make.mass - make.hubMass - make.spokeMass;
  if (!(hoop > 0)) throw new RangeError(`hub and spokes outweigh the wheel of ${make.mass} kg`);
  const at: Vec3 = [0, 0, 0];
  const axle: Vec3 = [0, 1, 0];
  const r1 = make.radius - 0.75 * make.tyreWidth;
  const r0 = make.hubRadius;
  const spokes = (make.spokeMass * (r0 * r0 + r0 * r1 + r1 * r1)) / 3;
  const parts: RigidMass[] = [
    hoopMass(hoop, r1, make.tyreWidth, at, axle),
    { mass: make.spokeMass, com: at, inertia: [spokes / 2, spokes, spokes / 2, 0, 0, 0] },
    discMass(make.hubMass, r0, make.hubWidth, at, axle),
  ];
  const all = combine(parts).inertia;
  return { polar: all[1], diametral: all[0], hoopMass: hoop, hoopRadius: r1 };
}
