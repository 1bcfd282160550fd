/**
 * Lengths between a rider's joints from stature, and the saddle height that follows.
 *
 * Source: means of ANSUR II (`survey-model.ts`), as shares of the mean stature; inseam by our regression on the same data, with its residual standard deviation. Soldiers, 17-58 years:
 * lengths serve a civilian rider, mass does not. Hip above saddle: calibrated so that the 0.883 rule leaves 30° of
 * knee flexion at the bottom with the heel raised 15° (mean man 40.8 mm, mean woman 37.9 mm), since measured trochanter
 * height less crotch height (55 mm) leaves legs that are almost straight. Therefore the absolute knee angle is ±10°.
 * Saddle rule: crank centre to saddle top = 0.883 × inseam (common rule of bicycle fitting).
 * Not here: riders one by one (`population.ts`): between riders of one stature ±1 SD of inseam is ±21 mm of saddle height.
 */
import type { Sex } from './de-leva.ts';
import { COLUMN, SURVEY } from './survey.ts';

/** m. `hipHalf`, `shoulderHalf`: joints from the mid-plane. `ball`: heel to ball. `ankleAhead`: heel to ankle. */
export interface Links {
  readonly thigh: number;
  readonly shank: number;
  readonly ankle: number;
  readonly foot: number;
  readonly ball: number;
  readonly ankleAhead: number;
  readonly trunk: number;
  /** Height of the shoulders, standing. */
  readonly shoulder: number;
  readonly upperArm: number;
  readonly forearm: number;
  readonly hipHalf: number;
  readonly shoulderHalf: number;
  readonly hipAboveSaddle: number;
}
export interface Rider {
  /** m, barefoot. */
  readonly stature: number;
  /** kg. */
  readonly mass: number;
  readonly sex: Sex;
}

/** What the survey does not give. Hip above the saddle: calibrated, see above, m; inseam = a + b · stature (m), residual SD. */
const MEN = { sex: 'male', hipAboveSaddle: 0.0408, inseam: [-0.17632, 0.5821, 0.0239] } as const;
const WOMEN = { sex: 'female', hipAboveSaddle: 0.0379, inseam: [-0.1791, 0.5904, 0.0236] } as const;

/** Hip joints lie about 0.05 of the stature from the mid-plane: default, from memory. */
const HIP_HALF = 0.05;
/** The ankle stands at a quarter of the foot's length. */
const ANKLE_SHARE = 0.25;

/** Links in the order of `LINK`, written by `linksInto`. */
export const LINK = {
  thigh: 0,
  shank: 1,
  ankle: 2,
  foot: 3,
  ball: 4,
  ankleAhead: 5,
  trunk: 6,
  shoulder: 7,
  upperArm: 8,
  forearm: 9,
  hipHalf: 10,
  shoulderHalf: 11,
  hipAboveSaddle: 12,
} as const satisfies Record<keyof Links, number>;

/**
 * Links (m, `LINK` order) of the body whose measures (`MEASURES` order, m) stand at `measure[o…]`. Allocates nothing.
 * @param out 13 numbers
 */
export function linksInto(measure: Float64Array, o: number, female: boolean, out: Float64Array): void {
  const sex = female ? WOMEN : MEN;
  const stature = measure[o + COLUMN.stature]!;
  out[LINK.thigh] = measure[o + COLUMN.trochanter]! - measure[o + COLUMN.epicondyle]!;
  out[LINK.shank] = measure[o + COLUMN.epicondyle]! - measure[o + COLUMN.malleolus]!;
  out[LINK.ankle] = measure[o + COLUMN.malleolus]!;
  out[LINK.foot] = measure[o + COLUMN.foot]!;
  out[LINK.ball] = measure[o + COLUMN.ball]!;
  out[LINK.ankleAhead] = ANKLE_SHARE * measure[o + COLUMN.foot]!;
  out[LINK.trunk] = measure[o + COLUMN.acromion]! - measure[o + COLUMN.trochanter]!;
  out[LINK.shoulder] = measure[o + COLUMN.acromion]!;
  out[LINK.upperArm] = measure[o + COLUMN.upper_arm]!;
  out[LINK.forearm] = measure[o + COLUMN.forearm]! + measure[o + COLUMN.palm]! / 2;
  out[LINK.hipHalf] = HIP_HALF * stature;
  out[LINK.shoulderHalf] = measure[o + COLUMN.biacromial]! / 2;
  out[LINK.hipAboveSaddle] = (sex.hipAboveSaddle * stature) / SURVEY[sex.sex].mean[COLUMN.stature]!;
}

/** Joint-to-joint lengths of a mean body of that stature. @throws RangeError for a stature outside 1.0-2.3 m. */
export function bodyLinks(rider: Rider): Links {
  refuseStature(rider.stature);
  if (rider.sex === 'mixed') {
    const a = bodyLinks({ ...rider, sex: 'male' });
    const b = bodyLinks({ ...rider, sex: 'female' });
    const mean = { ...a };
    for (const k of Object.keys(a) as (keyof Links)[]) (mean as Record<keyof Links, number>)[k] = (a[k] + b[k]) / 2;
    return mean;
  }
  const { mean } = SURVEY[rider.sex];
  const k = rider.stature / mean[COLUMN.stature]!;
  const out = new Float64Array(Object.keys(LINK).length);
  linksInto(
    mean.map((m) => k * m),
    0,
    rider.sex === 'female',
    out,
  );
  return Object.fromEntries((Object.keys(LINK) as (keyof Links)[]).map((name) => [name, out[LINK[name]]!])) as Record<
    keyof Links,
    number
  >;
}

/** Inseam (crotch height, m) of a mean rider of that stature and its 1-sigma between riders. */
export function inseam(rider: Rider): { readonly mean: number; readonly sigma: number } {
  refuseStature(rider.stature);
  const of = (m: typeof MEN | typeof WOMEN): { mean: number; sigma: number } => ({
    mean: m.inseam[0] + m.inseam[1] * rider.stature,
    sigma: m.inseam[2],
  });
  if (rider.sex === 'male') return of(MEN);
  if (rider.sex === 'female') return of(WOMEN);
  const a = of(MEN);
  const b = of(WOMEN);
  return { mean: (a.mean + b.mean) / 2, sigma: Math.sqrt((a.sigma * a.sigma + b.sigma * b.sigma) / 2) };
}

/** Crank centre to saddle top over inseam. */
export const SADDLE_RULE = 0.883;
/** Distance from the crank's centre to the saddle's top for that rider (m), and its 1-sigma between riders. */
export function saddleDistance(rider: Rider): { readonly mean: number; readonly sigma: number } {
  const i = inseam(rider);
  return { mean: SADDLE_RULE * i.mean, sigma: SADDLE_RULE * i.sigma };
}

function refuseStature(stature: number): void {
  if (!(stature >= 1 && stature <= 2.3)) throw new RangeError(`stature must be 1.0 to 2.3 m, got ${stature}`);
}
