/**
 * Speed that a given power at the pedals gives: the root of the road model.
 *
 * P(v) = v F(v)/Ec. F grows with v (air by v|v|, bearings by v, the rest is constant), so P is 0 or less up to the speed at
 * which the bicycle coasts and grows without bound beyond it: one root for every power above 0, and the coasting speed for 0.
 * A bracket is doubled until it holds, then halved. Source: theory. Not here: speeds that change on the way.
 */
import { insistRoad, type RoadLoad, roadForce } from './road-power.ts';
import { increasingRoot, type Root } from './root.ts';

export interface RoadSpeed extends Omit<Root, 'x' | 'reason'> {
  /** m/s; Infinity where nothing holds it. `residual` is |P(speed) − power| at the wheel, W. */
  readonly speed: number;
  readonly reason: Root['reason'] | 'stands' | 'no drag to hold it';
}

/** Beyond any road, m/s. */
const FASTEST = 1e4;

/** Steady speed at a power (W at the pedals, 0 or more). @throws RangeError as `insistRoad`, and for a negative power. */
export function roadSpeed(load: RoadLoad, power: number): RoadSpeed {
  insistRoad(load);
  if (!(power >= 0 && power < Infinity)) throw new RangeError(`power: ${power} W is impossible`);
  const wheel = power * (load.efficiency ?? 1);
  // For power 0 the force itself: standing still is a root of the power, but not where it coasts.
  const excess = (v: number): number => (power === 0 ? roadForce(load, v) : v * roadForce(load, v) - wheel);
  if (power === 0 && excess(0) >= 0) return { speed: 0, converged: true, iterations: 0, residual: 0, reason: 'stands' };
  let high = 1;
  while (excess(high) < 0) {
    high *= 2;
    if (high > FASTEST)
      return { speed: Infinity, converged: false, iterations: 0, residual: Infinity, reason: 'no drag to hold it' };
  }
  const { x, ...how } = increasingRoot(excess, 0, high);
  return { speed: x, ...how, residual: Math.abs(x * roadForce(load, x) - wheel) };
}
