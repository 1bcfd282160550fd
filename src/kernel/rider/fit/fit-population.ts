/** A whole public fitted on one bicycle: the share that fits, what fails how often, and who is left out. */
import { type Population, RIDER_STRIDE } from '../population.ts';
import { type Share, shareOf } from '../share.ts';
import { COLUMN } from '../survey.ts';
import { type FitGeometry, uniformGeometry } from './fit-geometry.ts';
import { FIT, FIT_STRIDE, fitRider } from './fit-rider.ts';
import { type FitLimits, MISS, MISSES, type MissKey } from './limits.ts';

export interface MissShare {
  readonly key: MissKey;
  readonly words: string;
  /** Riders who miss it, and who miss nothing else. */
  readonly all: Share;
  readonly only: Share;
}
export interface MeanBody {
  readonly share: number;
  /** m, kg. */
  readonly stature: number;
  readonly inseam: number;
  readonly mass: number;
}
/** Means over all riders, rad: compared with another bicycle under the same riders they say more than by themselves. */
export interface KneeMeans {
  readonly kneeBottom: number;
  readonly kneeTop: number;
}
export interface FitOfPublic extends KneeMeans {
  readonly fits: Share;
  readonly women: Share;
  readonly men: Share;
  readonly misses: readonly MissShare[];
  /** Rows of `FIT_STRIDE` numbers in the order of the population. */
  readonly riders: Float64Array;
  /** Mean body of those left out; undefined when nobody is. */
  readonly leftOut: MeanBody | undefined;
}

/** Fits everybody. `riders`: room for `n · FIT_STRIDE` numbers, made when left out. */
export function fitPublic(
  g: FitGeometry,
  limits: FitLimits,
  people: Population,
  riders = new Float64Array(people.n * FIT_STRIDE),
): FitOfPublic {
  const { n, female, value } = people;
  const bicycle = uniformGeometry(g);
  const all = new Int32Array(MISSES.length);
  const only = new Int32Array(MISSES.length);
  let [women, womenFit, fit] = [0, 0, 0];
  let [stature, inseam, mass, bottom, top] = [0, 0, 0, 0, 0];
  for (let i = 0; i < n; i++) {
    const woman = female[i] === 1;
    const mask = fitRider(bicycle, limits, value, woman, i, riders);
    if (woman) women++;
    if (mask === 0) {
      fit++;
      if (woman) womenFit++;
    } else {
      const o = i * RIDER_STRIDE;
      stature += value[o + COLUMN.stature]!;
      inseam += value[o + COLUMN.inseam]!;
      mass += value[o + COLUMN.mass]!;
      for (let k = 0; k < MISSES.length; k++) {
        const bit = 1 << k;
        if (mask & bit) all[k]!++;
        if (mask === bit) only[k]!++;
      }
    }
    bottom += riders[i * FIT_STRIDE + FIT.kneeBottom]!;
    top += riders[i * FIT_STRIDE + FIT.kneeTop]!;
  }
  const out = n - fit;
  const nobody: Share = { share: Number.NaN, low: Number.NaN, high: Number.NaN };
  return {
    fits: shareOf(fit, n),
    women: women > 0 ? shareOf(womenFit, women) : nobody,
    men: n > women ? shareOf(fit - womenFit, n - women) : nobody,
    misses: MISSES.map((m, k) => ({ ...m, all: shareOf(all[k]!, n), only: shareOf(only[k]!, n) })),
    riders,
    leftOut: out > 0 ? { share: out / n, stature: stature / out, inseam: inseam / out, mass: mass / out } : undefined,
    kneeBottom: bottom / n,
    kneeTop: top / n,
  };
}

/** The misses in a rider's mask, in words. */
export const missWords = (mask: number): string[] => MISSES.filter((m) => mask & MISS[m.key]).map((m) => m.words);

/** One standard deviation of the room rules, m, and of the saddle's tolerance, a share: judgement. What is not known of people's limits. */
const RULE_SIGMA = { saddle: 0.01, knee: 0.01, toe: 0.01, heel: 0.005, leg: 0.005, over: 0.02, ground: 0.015 } as const;

/**
 * How far shares may lie off because the rules themselves are uncertain: each rule moved by its own standard deviation both ways
 * on the same riders, half the difference squared and summed. `of` a miss: the share that misses it; left out: the share that fits.
 */
export function ruleSpread(fit: FitOfPublic, limits: FitLimits, n: number, of?: MissKey): number {
  const { riders } = fit;
  const gap = (column: number, limit: number) => (o: number) => riders[o + column]! - limit;
  const rules: readonly (readonly [MissKey, number, (o: number) => number])[] = [
    [
      'post_short',
      RULE_SIGMA.saddle,
      (o) => riders[o + FIT.reached]! / riders[o + FIT.wanted]! - 1 + limits.saddle_tolerance,
    ],
    [
      'post_long',
      RULE_SIGMA.saddle,
      (o) => 1 + limits.saddle_tolerance - riders[o + FIT.reached]! / riders[o + FIT.wanted]!,
    ],
    ['knee', RULE_SIGMA.knee, gap(FIT.kneeGap, limits.knee_gap)],
    ['toe', RULE_SIGMA.toe, gap(FIT.toeGap, limits.toe_gap)],
    ['heel', RULE_SIGMA.heel, gap(FIT.heelGap, limits.heel_gap)],
    ['leg', RULE_SIGMA.leg, gap(FIT.legGap, limits.leg_gap)],
    ['over', RULE_SIGMA.over, gap(FIT.overGap, limits.over_gap)],
    ['ground', RULE_SIGMA.ground, gap(FIT.groundGap, 0)],
  ];
  let variance = 0;
  for (const [key, sigma, room] of rules) {
    if (of !== undefined && of !== key) continue;
    const bit = MISS[key];
    let difference = 0;
    for (let i = 0, o = 0; i < n; i++, o += FIT_STRIDE) {
      // whoever misses something else is left out either way
      if (of === undefined && riders[o + FIT.mask]! & ~bit) continue;
      const r = room(o);
      if (r >= -sigma && r < sigma) difference++;
    }
    const half = difference / n / 2;
    variance += half * half;
  }
  return Math.sqrt(variance);
}
