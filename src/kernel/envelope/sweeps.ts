/**
 * Two motions that every bicycle makes while riding: the cranks go round, the steering turns. Proved like a fold move.
 *
 * Cranks: everything that the crank joint carries (arms, chainring, pedals, which stay parallel to themselves only if a body
 * of their own) through a full turn, against all other shapes, posture as given (the ride posture).
 * Steering: everything on the grips' side of the steerer, to either side. ISO 4210-2:2023, 4.8 (steering) asks that it turns
 * freely through at least 60° either side of straight ahead (clause number and value from memory).
 * Pairs: `crankPairs` and `steerPairs` of the topology. What is excluded there (shapes that meet at the joint) is not checked
 * here either.
 * Not here: the rider's knees and toes; the chain; wheel against mudguard while the wheel spins (a disc does not change).
 */
import { carriedBodies, jointCount } from '../linkage/index.ts';
import type { Model, State } from '../model/types.ts';
import type { ProofOptions, SegmentProof } from './clash-types.ts';
import { proveTurn } from './prove-path.ts';

/** Steering must be free this far to either side, rad. */
export const FREE_STEER_rad = Math.PI / 3;

/** The bodies that tree joint `j` carries, 1 per body. */
function carriedBy(m: Pick<Model, 'top'>, j: number): Uint8Array {
  const n = jointCount(m.top);
  const carried = carriedBodies(m.top);
  return Uint8Array.from({ length: m.top.bodyCount }, (_, b) => carried[b * n + j]!);
}

/** Cranks and pedals through a full turn, from the posture in `s`; undefined when the candidate has no crank joint. */
export function crankSweep(
  m: Pick<Model, 'top' | 'roles'>,
  s: State,
  options?: ProofOptions,
): SegmentProof | undefined {
  const j = m.roles.cranks;
  if (j < 0) return undefined;
  return proveTurn(m, s, j, s.q[j]!, s.q[j]! + 2 * Math.PI, carriedBy(m, j), m.top.crankPairs, options);
}

/**
 * Steering turned from straight ahead to +angle (left) and −angle (right), both in the order given; undefined when there is
 * no steerer. `angle` in rad, 60° by default. Free on both sides when neither has a `firstContact`.
 */
export function steerSweep(
  m: Pick<Model, 'top' | 'roles'>,
  s: State,
  angle = FREE_STEER_rad,
  options?: ProofOptions,
): readonly [SegmentProof, SegmentProof] | undefined {
  const j = m.roles.steerer;
  if (j < 0) return undefined;
  const moving = carriedBy(m, j);
  const turn = (to: number): SegmentProof =>
    proveTurn(m, s, j, s.q[j]!, s.q[j]! + to, moving, m.top.steerPairs, options);
  return [turn(angle), turn(-angle)];
}
