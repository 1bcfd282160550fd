/**
 * From a bicycle's masses and geometry (ISO 8855 axes, ride posture, ground at z = 0) to the model's parameters.
 *
 * Assumption: symmetric about the mid-plane. What is not (a chain on one side, a bag) is left out of the model and
 * reported as the sideways offset of the centre of mass. The rider sits rigidly on the rear frame and holds the bar
 * without adding to its inertia.
 * Not here: arms that move with the bar (they slow weave and shift capsize), see Moore 2012.
 */
import { combine, type RigidMass } from '../mass/rigid-mass.ts';
import type { Vec3 } from '../math/rigid.ts';
import { type SteererAxis, type SteerGeometry, steerGeometry } from './geometry.ts';
import { insist } from './refusal.ts';
import type { WheelInertia, WhippleBicycle } from './whipple.ts';

export interface BicycleMasses {
  /** Everything that does not steer, rear wheel and rider excluded. */
  readonly rear: RigidMass;
  /** Everything that steers, front wheel excluded. */
  readonly front: RigidMass;
  readonly rearWheel: WheelInertia;
  readonly frontWheel: WheelInertia;
  readonly rearHub: Vec3;
  readonly frontHub: Vec3;
  readonly steerer: SteererAxis;
  readonly gravity: number;
}

export interface AssembledBicycle {
  readonly bicycle: WhippleBicycle;
  readonly geometry: SteerGeometry;
  /** Bicycle, wheels and rider as one, in the given axes. */
  readonly total: RigidMass;
  /** Of that, x of the contact points, m. */
  readonly rearX: number;
  readonly frontX: number;
  /** Sideways offset of the common centre of mass, m: what the symmetric model ignores. */
  readonly lateral: number;
}

/** A wheel as a mass at its hub, axle along y. */
const wheelMass = (wheel: WheelInertia, hub: Vec3): RigidMass => ({
  mass: wheel.mass,
  com: hub,
  inertia: [wheel.Ixx, wheel.Iyy, wheel.Ixx, 0, 0, 0],
});

/** @throws SteerRefusal when the front hub is not ahead of the rear hub, or the steer axis cannot be one. */
export function whippleFromBicycle(parts: BicycleMasses, rider?: RigidMass): AssembledBicycle {
  const { rear, front, rearWheel, frontWheel, rearHub, frontHub, steerer, gravity } = parts;
  const wheelbase = frontHub[0] - rearHub[0];
  insist(wheelbase > 0, 'frontHub', `the front hub must lie ahead of the rear hub, got ${wheelbase} m`);
  const geometry = steerGeometry(steerer, frontHub, frontWheel.radius);
  const fromRear = (body: RigidMass): RigidMass => ({
    ...body,
    com: [body.com[0] - rearHub[0], body.com[1], body.com[2]],
  });
  const ridden = rider ? combine([rear, rider]) : rear;
  const total = combine([ridden, front, wheelMass(rearWheel, rearHub), wheelMass(frontWheel, frontHub)]);
  return {
    bicycle: {
      wheelbase,
      trail: geometry.trail,
      headAngle: geometry.headAngle,
      gravity,
      rearWheel,
      rearBody: fromRear(ridden),
      frontBody: fromRear(front),
      frontWheel,
    },
    geometry,
    total,
    rearX: rearHub[0],
    frontX: frontHub[0],
    lateral: total.com[1],
  };
}
