/**
 * What an everyday rider gives, and the speed that comes of it.
 *
 * Per kilogram of body: 1.5 W on the way to work, 2.5 W for some minutes uphill; defaults, from memory, for adults who do not
 * train (trained riders give twice that). Below 1.4 m/s a bicycle is hardly kept upright (from memory): one gets off and pushes.
 * Pushing uphill slows walking by exp(−3.5 · grade) (W. Tobler, Three presentations on geographical analysis, NCGIA 93-1,
 * 1993, from memory: the curve, scaled to the laden walk).
 * Assistance adds to the rider's power as the setting says, up to the motor's continuous power and its speed.
 */

import { LADEN_SPEED } from '../effort/on-foot.ts';
import { assistAt } from './electric.ts';
import { type RoadLoad, roadPower } from './road-power.ts';
import { roadSpeed } from './road-speed.ts';

export const RIDER_POWER = { everyday: 1.5, minutes: 2.5 } as const;
export const LEAST_RIDING_SPEED = 1.4;
/** Drag area of an upright rider in everyday clothes, m², and its 1-sigma; from memory (0.45 to 0.65). */
export const UPRIGHT_DRAG = { area: 0.55, spread: 0.06 } as const;

export const pushingSpeed = (grade: number): number => LADEN_SPEED * Math.exp(-3.5 * Math.max(0, grade));

export interface Helped {
  readonly power: number;
  readonly assistsTo: number;
  readonly assist: number;
}
export interface Ridden {
  /** m/s. */
  readonly speed: number;
  /** Rider and motor at the pedals, W; drawn from the battery, W. */
  readonly rider: number;
  readonly motor: number;
  readonly battery: number;
  readonly converged: boolean;
}

/** Speed of a rider who gives `power` (W), helped or not; at most `wish`, and then only what that speed takes. */
export function ridden(load: RoadLoad, power: number, wish = Infinity, motor?: Helped): Ridden {
  const alone = roadSpeed(load, power);
  let speed = alone.speed;
  let converged = alone.converged || alone.speed === Infinity;
  if (motor && speed < motor.assistsTo) {
    const helped = roadSpeed(load, power + Math.min(motor.power, motor.assist * power));
    // Beyond its limit the motor is silent: what is left is the limit, or what the legs alone give.
    speed = Math.max(speed, Math.min(helped.speed, motor.assistsTo));
    converged = converged && (helped.converged || helped.speed === Infinity);
  }
  speed = Math.min(speed, wish);
  const demand = roadPower(load, speed).pedals;
  if (!motor) return { speed, rider: demand, motor: 0, battery: 0, converged };
  const { rider, motor: by, battery } = assistAt(demand, speed, motor);
  return { speed, rider, motor: by, battery, converged };
}
