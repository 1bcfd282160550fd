/**
 * How hard people can pull, push and squeeze: limits for a design, and the share of users who can.
 *
 * EN 1005-3:2002+A1:2008: the basic force F_B is the 15th percentile of adults for machines at work, the 1st for machines at
 * home. F_cap = F_B·m_v·m_f·m_d; r = F/F_cap up to 0.5 is recommended, 0.5–0.7 conditional, above it to be avoided. F_B as
 * printed; multipliers: default, from memory.
 *
 * Shares: women's and men's strength are taken lognormal with one σ and a stated ratio of their medians; the two unknowns,
 * σ and the women's median, follow from the two percentiles of an even mix of both. For the grip the ratio is that of Leyk et al. 2007,
 * Eur. J. Appl. Physiol. 99:415–421 (means 329 and 541 N at 20–25 years); the medians that come out, 278 and 457 N, are 0.84
 * of those means, which fits adults of all ages. So the lower tail, which decides about a design, is the standard's; the upper one is extrapolated.
 * Units: N, per minute, h. Not here: the elderly beyond working age, children, illness, gloves, awkward reach.
 */
import { normalShare } from '../math/normal.ts';

export interface BasicForce {
  readonly words: string;
  /** F_B of adults at work (15th percentile) and of anybody at home (1st), N. */
  readonly workers: number;
  readonly anybody: number;
  /** Women's median over men's. */
  readonly ratio: number;
}
/** Leyk et al. 2007: hand grip of women over men. */
export const GRIP_RATIO = 329 / 541;
/** Defaults, from memory: arms as the grip, whole body 0.65, legs 0.7. */
const ARM = 0.6;
const BODY = 0.65;
const LEG = 0.7;
const force = (words: string, workers: number, anybody: number, ratio: number): BasicForce => ({
  words,
  workers,
  anybody,
  ratio,
});

export const BASIC_FORCES = {
  grip: force('squeezed in one hand', 250, 184, GRIP_RATIO),
  arm_up: force('lifted by one arm, seated', 50, 31, ARM),
  arm_down: force('pressed down by one arm, seated', 75, 44, ARM),
  arm_out: force('moved outwards by one arm, seated', 55, 31, ARM),
  arm_in: force('moved inwards by one arm, seated', 75, 49, ARM),
  arm_push: force('pushed by one arm, trunk not supported', 62, 30, ARM),
  arm_push_supported: force('pushed by one arm, trunk supported', 275, 186, ARM),
  arm_pull: force('pulled by one arm, trunk not supported', 55, 28, ARM),
  arm_pull_supported: force('pulled by one arm, trunk supported', 225, 169, ARM),
  stand_push: force('pushed with the whole body, standing', 200, 119, BODY),
  stand_pull: force('pulled with the whole body, standing', 145, 96, BODY),
  pedal_ankle: force('pressed with the ankle', 250, 154, LEG),
  pedal_leg: force('pressed with the leg', 475, 308, LEG),
} as const satisfies Record<string, BasicForce>;
export type ForceKind = keyof typeof BASIC_FORCES;
export const FORCE_KINDS = Object.keys(BASIC_FORCES) as readonly ForceKind[];
/** Whose F_B counts. */
export type ForceUsers = 'anybody' | 'workers';

/** How the force is used; an action of at most 3 s. */
export interface ForceUse {
  /** The part moves while the force acts. */
  readonly moving: boolean;
  /** Actions a minute, at most 20. */
  readonly perMinute: number;
  /** Hours of such work a day, at most 8. */
  readonly hours: number;
}
/** A catch or a lever of a folding bicycle: it moves, a few times a day. */
export const RARE_USE: ForceUse = { moving: true, perMinute: 0.1, hours: 0.1 };
/** The same against a part that does not move: a squeeze, a push at a stop. */
export const RARE_HOLD: ForceUse = { moving: false, perMinute: 0.1, hours: 0.1 };

export interface ForceMultipliers {
  readonly velocity: number;
  readonly frequency: number;
  readonly duration: number;
}
/** @throws RangeError beyond 20 actions a minute or 8 h, where the table ends. */
export function forceMultipliers(use: ForceUse): ForceMultipliers {
  const { moving, perMinute, hours } = use;
  if (!(perMinute >= 0 && perMinute <= 20)) throw new RangeError(`0 to 20 actions a minute, got ${perMinute}`);
  if (!(hours >= 0 && hours <= 8)) throw new RangeError(`0 to 8 hours, got ${hours}`);
  return {
    velocity: moving ? 0.8 : 1,
    frequency: perMinute <= 0.2 ? 1 : perMinute <= 2 ? 0.8 : 0.5,
    duration: hours <= 1 ? 1 : hours <= 2 ? 0.8 : 0.5,
  };
}

/** F_cap, N. */
export function forceCap(kind: ForceKind, users: ForceUsers, use: ForceUse = RARE_USE): number {
  const m = forceMultipliers(use);
  return BASIC_FORCES[kind][users] * m.velocity * m.frequency * m.duration;
}

export type ForceBand = 'recommended' | 'conditional' | 'avoid';
export const RECOMMENDED_SHARE = 0.5;
export const CONDITIONAL_SHARE = 0.7;
export const forceBand = (risk: number): ForceBand =>
  risk <= RECOMMENDED_SHARE ? 'recommended' : risk <= CONDITIONAL_SHARE ? 'conditional' : 'avoid';

/** Strength as two lognormal distributions with one σ. */
export interface StrengthModel {
  readonly sigma: number;
  /** Medians, N. */
  readonly female: number;
  readonly male: number;
}
const models = new Map<ForceKind, StrengthModel>();
const HALVINGS = 60;

/** Strength of women and men as the two percentiles give it. */
export function strengthModel(kind: ForceKind): StrengthModel {
  const known = models.get(kind);
  if (known) return known;
  const { workers, anybody, ratio } = BASIC_FORCES[kind];
  const gap = -Math.log(ratio);
  /** Share of an even mix below a force whose logarithm lies `over` above the women's median's. */
  const mixed = (over: number, sigma: number): number =>
    (normalShare(over / sigma) + normalShare((over - gap) / sigma)) / 2;
  const bisect = (low: number, high: number, below: (x: number) => boolean): number => {
    let [a, b] = [low, high];
    for (let i = 0; i < HALVINGS; i++) {
      const middle = (a + b) / 2;
      if (below(middle)) a = middle;
      else b = middle;
    }
    return (a + b) / 2;
  };
  const percentile = (p: number, sigma: number): number =>
    bisect(-8 * sigma, 8 * sigma + gap, (x) => mixed(x, sigma) < p);
  const apart = Math.log(workers / anybody);
  // the two percentiles lie farther apart the wider the distribution
  const sigma = bisect(0.01, 2, (s) => percentile(0.15, s) - percentile(0.01, s) < apart);
  const female = anybody * Math.exp(-percentile(0.01, sigma));
  const model = { sigma, female, male: female / ratio };
  models.set(kind, model);
  return model;
}

/**
 * Share of users whose strength, less the multipliers of this use, is at least `force` (N). `women`: share of women;
 * `spared`: the part of one's own strength that may be used (1: all; 0.5: with the reserve of a recommended force).
 */
export function shareAble(kind: ForceKind, force: number, use: ForceUse = RARE_USE, women = 0.5, spared = 1): number {
  // a force that is not known must not pass as none: NaN stays NaN
  if (force <= 0) return 1;
  const m = forceMultipliers(use);
  const asked = force / (m.velocity * m.frequency * m.duration * spared);
  const { sigma, female, male } = strengthModel(kind);
  const able = (median: number): number => normalShare(Math.log(median / asked) / sigma);
  return women * able(female) + (1 - women) * able(male);
}
