/**
 * What a slope asks of the cranks and of the feet.
 *
 * Energy per turn: T_mean 2π Ec = F · development, F the force at the wheel. Legs push downward in turns, so the torque goes
 * with |sin θ| of the crank angle: its peak is π/2 of its mean (a fair fit to measured curves of seated riders; shape from
 * memory), and the peak pedal force is that over the crank's length. Standing on the pedal without pulling at the bar gives
 * no more than the rider's weight: a gear that needs more does not start.
 * SI. Not here: pulling at pedals and bar (which gives more for a few turns), the dead centres, tyres that slip.
 */
export interface CrankLoad {
  /** N·m over a turn. */
  readonly meanTorque: number;
  readonly peakTorque: number;
  /** Square to the crank, N. */
  readonly pedalForce: number;
}

/** Peak over mean of |sin θ|. */
export const PEAK_OVER_MEAN = Math.PI / 2;

/** @throws RangeError for a development, crank or efficiency that is not above 0. */
export function crankLoad(wheelForce: number, development: number, crank: number, efficiency: number): CrankLoad {
  for (const [what, x] of Object.entries({ development, crank, efficiency }))
    if (!(x > 0 && x < Infinity)) throw new RangeError(`${what}: ${x} is not above 0`);
  const meanTorque = (wheelForce * development) / (2 * Math.PI * efficiency);
  const peakTorque = PEAK_OVER_MEAN * meanTorque;
  return { meanTorque, peakTorque, pedalForce: peakTorque / crank };
}
