/**
 * The dummy fork that a laboratory puts in place of a fork when it tests a frame: stiff enough?
 *
 * Steerer held in a false head tube, 1200 N across at the axle: deflection ratio D_r = K₁ · 10 000 δ/L³ ≤ 1 with δ and L in mm;
 * K₁ = 1417 for the fatigue tests, 709 for the impact tests (this one from memory). As a uniform cantilever, δ = 1200 L³/(3EI),
 * the rule asks EI ≥ K₁ · 4·10⁶ N·mm² whatever the length.
 * Source: ISO 4210-6:2014, Annex A, as in the open industry standard of the same text. Units: mm, N.
 */
import { insistPositive } from './refusal.ts';

export const DUMMY_FORK_K = { fatigue: 1417, impact: 709 } as const;
/** N, across the steerer at the axle. */
export const DUMMY_FORK_LOAD = 1200;

/** Deflection ratio; at most 1. @throws CheckRefusal for lengths that are not positive. */
export function dummyForkRatio(length: number, deflection: number, use: keyof typeof DUMMY_FORK_K = 'fatigue'): number {
  insistPositive({ length, deflection }, ['length', 'deflection']);
  return (DUMMY_FORK_K[use] * 10_000 * deflection) / (length * length * length);
}

/** Least bending stiffness EI of a uniform dummy fork, N·mm². */
export const dummyForkStiffness = (use: keyof typeof DUMMY_FORK_K = 'fatigue'): number =>
  (DUMMY_FORK_K[use] * 10_000 * DUMMY_FORK_LOAD) / 3;
