/**
 * What the linear bicycle asks of the rider, in closed form: steady turns, the answer to a swinging steer torque, static
 * flop, and authority at high frequency.
 *
 * Steady turn (q̈ = q̇ = 0, T_φ = 0), K = g K0 + v² K2:
 *   φ/δ = −K12/K11,  T_δ/δ = K22 − K21 K12/K11,  R = w/(δ cos λ).
 * Frequency response at s = iω, P = s² M + s v C1 + K:
 *   φ̇/T_δ = −s P12/det P.
 * It is the forced part of the motion. Where the bicycle is unstable by itself no such motion is seen hands off, but the
 * number stays finite and says what the machine does under a rider who holds it up; only an eigenvalue exactly on the
 * imaginary axis at that frequency makes it infinite.
 *
 * Source: Meijaard et al. 2007 (see whipple.ts) for the equations; steady yaw rate as there.
 * Signs: the paper's, right positive; a negative T_δ/δ means that the rider holds the bar against the turn.
 * Range: small angles. Against the full nonlinear model of the benchmark the steady lean is within 1 % up to 0.12 rad
 * and the turn radius within 2.5 % up to 0.19 rad of lean.
 * Not here: tyre side slip, which adds steer torque of its own.
 */
import { insist } from './refusal.ts';
import { inverseMass, type WhippleSystem } from './whipple.ts';

/** Lean beyond which linear figures are marked as out of range, rad: the nonlinear radius is then 2.5 % off. */
export const LINEAR_LEAN = 0.2;

export interface SteadyTurn {
  /** Lean per steer angle. */
  readonly leanPerSteer: number;
  /** Steer torque per steer angle, N·m/rad. */
  readonly torquePerSteer: number;
  /** For a right turn of the stated radius: steer and lean angle (rad), steer torque (N·m). */
  readonly steer: number;
  readonly lean: number;
  readonly torque: number;
  /** v²/R, m/s². */
  readonly lateralAcceleration: number;
  /** False when the lean is beyond `LINEAR_LEAN`. */
  readonly inRange: boolean;
}

/**
 * A steady right turn at a speed (m/s) and radius (m) of the rear contact's track.
 * @throws SteerRefusal for a radius not above 0.
 */
export function steadyTurn(system: WhippleSystem, speed: number, radius: number): SteadyTurn {
  insist(radius > 0, 'radius', `turn radius must be above 0 m, got ${radius} m`);
  const { g, w, lambda, K0, K2 } = system;
  const v2 = speed * speed;
  const k11 = g * K0[0] + v2 * K2[0];
  const k12 = g * K0[1] + v2 * K2[1];
  const k21 = g * K0[2] + v2 * K2[2];
  const k22 = g * K0[3] + v2 * K2[3];
  const leanPerSteer = -k12 / k11;
  const torquePerSteer = k22 + k21 * leanPerSteer;
  const steer = w / (radius * Math.cos(lambda));
  const lean = leanPerSteer * steer;
  return {
    leanPerSteer,
    torquePerSteer,
    steer,
    lean,
    torque: torquePerSteer * steer,
    lateralAcceleration: v2 / radius,
    inRange: Math.abs(lean) <= LINEAR_LEAN,
  };
}

/** A complex ratio: its size, and its phase (rad) ahead of the torque. */
export interface Gain {
  readonly size: number;
  readonly phase: number;
}

/**
 * Roll rate per steer torque, rad/s per N·m, at a speed (m/s) and angular frequency (rad/s, above 0).
 * Infinite only when an eigenvalue lies at that frequency on the imaginary axis.
 */
export function rollRateGain(system: WhippleSystem, speed: number, frequency: number): Gain {
  const { M, C1, K0, K2, g } = system;
  const v2 = speed * speed;
  const s2 = -frequency * frequency;
  const sv = frequency * speed;
  const re = (j: number): number => s2 * M[j]! + g * K0[j]! + v2 * K2[j]!;
  const im = (j: number): number => sv * C1[j]!;
  const detRe = re(0) * re(3) - im(0) * im(3) - (re(1) * re(2) - im(1) * im(2));
  const detIm = re(0) * im(3) + im(0) * re(3) - (re(1) * im(2) + im(1) * re(2));
  // −s P12 = −iω (re + i im) = ω im − i ω re
  const topRe = frequency * im(1);
  const topIm = -frequency * re(1);
  const d2 = detRe * detRe + detIm * detIm;
  const outRe = (topRe * detRe + topIm * detIm) / d2;
  const outIm = (topIm * detRe - topRe * detIm) / d2;
  return { size: Math.sqrt(outRe * outRe + outIm * outIm), phase: Math.atan2(outIm, outRe) };
}

export interface SteerStatics {
  /** Steer torque per steer angle of the upright bicycle at rest, N·m/rad; negative: the bar falls to the side. */
  readonly stiffness: number;
  /** Roll and steer acceleration per steer torque at high frequency, rad/s² per N·m. */
  readonly rollAuthority: number;
  readonly steerAuthority: number;
}

/** Figures that do not depend on speed. */
export function steerStatics(system: WhippleSystem): SteerStatics {
  const [, rollAuthority, , steerAuthority] = inverseMass(system);
  return { stiffness: system.g * system.K0[3], rollAuthority, steerAuthority };
}
