/**
 * Carrying in one hand: does the grip last, and is the load within what is recommended.
 *
 * Grip: the hand that carries holds m·g as long as it carries; a force that is the share f of the greatest is held for
 * T = −1.5 + 2.1/f − 0.6/f² + 0.1/f³ minutes, f ≥ 0.15 (W. Rohmert 1960, Int. Z. angew. Physiol. 18:123; formula from memory), and
 * for long below. Able are those whose grip (`strength.ts`) is m·g over the share that lasts the stretch, and `PEAK` times m·g at once,
 * as on stairs. A stretch goes from one rest to the next.
 * Recommended: about 9–10 kg for men, 6–7 kg for women in one hand (review of 26 papers, PubMed 29708048, 2018). Within it are
 * those who accept the load, taken lognormal about it as in `lifting.ts`: the middle of each range is what 75 % of that sex
 * accept (judgement).
 * Units: kg, s, m. Not here: back and shoulder (30 kg in one hand press the spine by more than 2.8 kN: McGill et al. 2013), breath, swinging of the
 * package, a shoulder strap.
 */
import { STANDARD_GRAVITY } from '../math/constants.ts';
import { normalShare } from '../math/normal.ts';
import { LIFT_SIGMA, Z75 } from './lifting.ts';
import { LADEN_SPEED, stepSeconds } from './on-foot.ts';
import { RARE_HOLD, shareAble } from './strength.ts';

/** Recommended loads in one hand, kg: middle of the published ranges. */
export const ONE_HAND_LIMIT = { female: 6.5, male: 9.5 } as const;

/** Below this share of the greatest force a hand holds for long. */
const RESTFUL = 0.15;
/** Force at the lift of a step over the weight; as in holding the package shut on stairs. Default, from memory. */
const PEAK = 1.5;

/** Seconds for which a hand holds the share `f` of its greatest force; Infinity below 0.15. @throws RangeError above 1. */
export function enduranceSeconds(f: number): number {
  if (!(f >= 0 && f <= 1)) throw new RangeError(`a share of strength is 0 to 1, got ${f}`);
  if (f < RESTFUL) return Infinity;
  return 60 * (-1.5 + 2.1 / f - 0.6 / (f * f) + 0.1 / (f * f * f));
}
/** The greatest share that lasts `seconds`: 1 for an instant, never below 0.15. */
export function shareLasting(seconds: number): number {
  let [low, high] = [RESTFUL, 1];
  if (enduranceSeconds(high) >= seconds) return 1;
  for (let i = 0; i < 60; i++) {
    const middle = (low + high) / 2;
    if (enduranceSeconds(middle) >= seconds) low = middle;
    else high = middle;
  }
  return low;
}

/** What there is to carry from door to door: steps up, steps between two rests (Infinity: none), level way, m. */
export interface CarryWay {
  readonly stairs: number;
  readonly rest: number;
  readonly carry: number;
  /** Rise of a step, m. */
  readonly step: number;
}
/** The longest stretch without a rest, s. Without rests stairs and level way are one; else one rests between them too. */
export function longestStretch({ stairs, rest, carry, step }: CarryWay): number {
  const level = carry / LADEN_SPEED;
  const each = stepSeconds(step, true);
  if (!Number.isFinite(rest)) return stairs * each + level;
  return Math.max(Math.min(rest, stairs) * each, level);
}

export interface CarryShare {
  readonly stretch: number;
  /** Part of the greatest force that lasts so long, and the grip that it takes, N. */
  readonly lasting: number;
  readonly grip: number;
  /** Share of users whose grip lasts; share for whom the load is within the recommended one. */
  readonly able: number;
  readonly recommended: number;
}
/** @throws RangeError for a mass that is not positive. */
export function carryShare(mass: number, way: CarryWay, women: number): CarryShare {
  if (!(mass > 0)) throw new RangeError(`nothing to carry: ${mass} kg`);
  const stretch = longestStretch(way);
  const lasting = shareLasting(stretch);
  const grip = mass * STANDARD_GRAVITY * Math.max(PEAK, 1 / lasting);
  const within = (limit: number): number => normalShare(Z75 - Math.log(mass / limit) / LIFT_SIGMA);
  return {
    stretch,
    lasting,
    grip,
    able: shareAble('grip', grip, RARE_HOLD, women),
    recommended: women * within(ONE_HAND_LIMIT.female) + (1 - women) * within(ONE_HAND_LIMIT.male),
  };
}
