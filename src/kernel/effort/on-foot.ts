/**
 * On foot with a folded bicycle: time and the body's energy on the level and on stairs.
 *
 * Level: a pace of 0.762 m (30 in) takes 15 TMU unladen and 17 TMU with a load (predetermined motion times, as in `effort`):
 * 1.41 and 1.25 m/s. Energy: Pandolf, Givoni & Goldman, J. Appl. Physiol. 43 (1977) 577–581,
 *   M = 1.5 W + 2.0 (W + L)(L/W)² + η (W + L)(1.5 V² + 0.35 V G)   (W body, L load, kg; V m/s; G grade in %; M in W)
 * for a load on the back; the same in one hand costs more, which is not in it. Terrain η = 1: pavement.
 * Stairs up: 0.45 m/s along the plan on a long stair (the maximum of the speeds seen at a stair of Expo 2000 lay between 0.4
 * and 0.5 m/s; T. Kretz et al., J. Stat. Mech. (2008) P10023; on short stairs people go about twice as fast), slower with a load as on
 * the level; tread = 0.63 m − 2 rises (builders' rule, common practice). Energy: weight lifted over an efficiency of 0.24 (from
 * memory), beside the body's upkeep.
 * SI. Not here: crowds, gates, fatigue beyond the rests, walking down.
 */

import { STANDARD_GRAVITY } from '../math/constants.ts';
import { STRIDE } from './carry-edge.ts';
import { PACE } from './hand-work.ts';
import { motion } from './motion-code.ts';
import { TMU_SECONDS } from './motion-times.ts';

/** m/s. */
export const WALKING_SPEED = PACE / (motion('W1P').tmu * TMU_SECONDS);
export const LADEN_SPEED = PACE / (motion('W1PO').tmu * TMU_SECONDS);
/** Along the plan, m/s. */
const STAIR_SPEED = 0.45;
/** Work over the body's energy, cycling and climbing; from memory: 0.20 to 0.25. */
export const HUMAN_EFFICIENCY = 0.24;
/** The body's upkeep, W/kg: the first term of Pandolf's formula. */
export const UPKEEP = 1.5;
/** Folding, standing and bending: light work, W/kg; 2.5 times sitting still, from memory. */
export const LIGHT_WORK = 2.9;
/** Seconds of a rest on the stairs; from memory. */
export const REST_SECONDS = 15;

/** Metabolic power of walking with a load, W. @throws RangeError for a body without mass, or a negative load or speed. */
export function walkingPower(body: number, load: number, speed: number, gradePercent = 0, terrain = 1): number {
  if (!(body > 0 && body < Infinity)) throw new RangeError(`a body of ${body} kg does not walk`);
  if (!(load >= 0 && speed >= 0 && gradePercent >= 0))
    throw new RangeError('load, speed and grade of walking cannot be negative');
  const share = load / body;
  return (
    UPKEEP * body +
    2 * (body + load) * share * share +
    terrain * (body + load) * (1.5 * speed * speed + 0.35 * speed * gradePercent)
  );
}

export interface StairClimb {
  readonly seconds: number;
  readonly rests: number;
  /** J: lifted, and spent by the body. */
  readonly work: number;
  readonly energy: number;
}
/** Seconds for one step up of that rise, rests not counted. */
export const stepSeconds = (rise: number, laden: boolean): number =>
  Math.max(0.2, STRIDE - 2 * rise) / (laden ? (STAIR_SPEED * LADEN_SPEED) / WALKING_SPEED : STAIR_SPEED);

/** Stairs up with a load; a rest after every `restAfter` steps but not at the top. */
export function climbStairs(steps: number, rise: number, body: number, load: number, restAfter = Infinity): StairClimb {
  if (!(steps >= 0 && rise > 0 && restAfter > 0)) throw new RangeError('stairs need steps of some height');
  const rests = steps > 0 && restAfter < Infinity ? Math.ceil(steps / restAfter) - 1 : 0;
  const seconds = steps * stepSeconds(rise, load > 0) + rests * REST_SECONDS;
  const work = (body + load) * STANDARD_GRAVITY * rise * steps;
  return { seconds, rests, work, energy: work / HUMAN_EFFICIENCY + UPKEEP * body * seconds };
}
