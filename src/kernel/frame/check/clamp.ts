/**
 * A clamp around a round post or bar: the torque and the push that it holds by friction.
 *
 * F is the force that presses the halves together over the post. Pressure spread evenly (a flexible collar): normal forces add
 * up to πF, so that torque μ F D π/2, push μ π F. Two stiff halves with clearance touch along two lines: 2F, so μ F D and 2 μ F.
 * Both ends of the range are given. Push and torque together share the friction: √((T/T_s)² + (P/P_s)²) ≤ 1.
 * A slit collar turns about the metal opposite its slit: F = F_bolt (1 + e/R), e bolt to centre, R radius of the post.
 * μ 0.15–0.2 dry, 0.1 greased, clearance up to 0.15 mm: defaults, from memory. Source: statics and Coulomb friction.
 * Units: mm, N, MPa, N·mm. Not here: wedges and expanders, collets, carbon posts' own limit of pressure.
 */
import { insist, insistPositive } from './refusal.ts';

export interface PostClamp {
  /** Force that presses the halves together, N. */
  readonly force: number;
  readonly diameter: number;
  readonly length: number;
  readonly friction: number;
}
export interface ClampHold {
  /** Slip torque, N·mm, and slip force along the post, N: stiff halves (least), even pressure (most). */
  readonly torqueLeast: number;
  readonly torqueMost: number;
  readonly pushLeast: number;
  readonly pushMost: number;
  /** Mean pressure on the post, MPa. */
  readonly pressure: number;
}

/** @throws CheckRefusal for sizes that are not positive or negative friction. */
export function clampHold({ force, diameter, length, friction }: PostClamp): ClampHold {
  insistPositive({ diameter, length }, ['diameter', 'length']);
  insist(force >= 0, 'force', 'a clamp cannot pull');
  insist(friction >= 0, 'friction', 'friction cannot be negative');
  const grip = friction * force;
  return {
    torqueLeast: grip * diameter,
    torqueMost: (grip * diameter * Math.PI) / 2,
    pushLeast: 2 * grip,
    pushMost: Math.PI * grip,
    pressure: force / (diameter * length),
  };
}

/** Pressing force of a slit collar, N: all its bolts' preload, their distance from the post's centre, the post's radius. */
export const slitCollarForce = (bolts: number, offset: number, radius: number): number => bolts * (1 + offset / radius);

/** Utilisation against slip under a torque (N·mm) and a push (N) together, by the lesser figures. */
export function slipUse(hold: ClampHold, torque: number, push: number): number {
  const t = torque / hold.torqueLeast;
  const p = push / hold.pushLeast;
  return Math.sqrt(t * t + p * p);
}
