/**
 * Lengths between a rider's joints from stature, and the saddle height that follows.
 *
 * Source: means of ANSUR II (Gordon et al. 2014, NATICK/TR-15/007; public data, 4082 men, 1986 women), as shares of the
 * mean stature; inseam by our regression on the same data, with its residual standard deviation. Soldiers, 17-58 years:
 * lengths serve a civilian rider, mass does not. Hip above saddle: calibrated so that the 0.883 rule leaves 30° of
 * knee flexion at the bottom with the heel raised 15° (mean man 40.8 mm, mean woman 37.9 mm), since measured trochanter
 * height less crotch height (55 mm) leaves legs that are almost straight. Therefore the absolute knee angle is ±10°.
 * Saddle rule: crank centre to saddle top = 0.883 × inseam (common rule of bicycle fitting).
 * Not here: the spread of links between riders of one stature (±1 SD of inseam is ±21 mm of saddle height).
 */
import type { Sex } from './de-leva.ts';

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

/** Means in mm, ANSUR II. */
interface Means {
  readonly stature: number;
  readonly trochanter: number;
  readonly epicondyle: number;
  readonly malleolus: number;
  readonly foot: number;
  readonly ballFoot: number;
  readonly acromial: number;
  readonly biacromial: number;
  readonly upperArm: number;
  readonly radialeStylion: number;
  readonly palm: number;
  /** Calibrated, see above. */
  readonly hipAboveSaddle: number;
  /** Inseam = a + b · stature (mm), residual sd. */
  readonly inseam: readonly [number, number, number];
}
const MEN: Means = {
  stature: 1756.21,
  trochanter: 900.93,
  epicondyle: 491.66,
  malleolus: 72.9,
  foot: 271.18,
  ballFoot: 200.94,
  acromial: 1440.74,
  biacromial: 415.68,
  upperArm: 335.24,
  radialeStylion: 267.88,
  palm: 116.46,
  hipAboveSaddle: 40.8,
  inseam: [-176.32, 0.5821, 23.9],
};
const WOMEN: Means = {
  stature: 1628.47,
  trochanter: 845.35,
  epicondyle: 465.94,
  malleolus: 62.75,
  foot: 246.29,
  ballFoot: 182.05,
  acromial: 1335.1,
  biacromial: 365.35,
  upperArm: 311.2,
  radialeStylion: 241.33,
  palm: 108.7,
  hipAboveSaddle: 37.9,
  inseam: [-179.1, 0.5904, 23.6],
};

/** Hip joints lie about 0.05 of the stature from the mid-plane: default, from memory. */
const HIP_HALF = 0.05;
/** The ankle stands at a quarter of the foot's length. */
const ANKLE_SHARE = 0.25;

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
  const m = rider.sex === 'male' ? MEN : WOMEN;
  const k = rider.stature / m.stature;
  return {
    thigh: k * (m.trochanter - m.epicondyle),
    shank: k * (m.epicondyle - m.malleolus),
    ankle: k * m.malleolus,
    foot: k * m.foot,
    ball: k * m.ballFoot,
    ankleAhead: k * ANKLE_SHARE * m.foot,
    trunk: k * (m.acromial - m.trochanter),
    shoulder: k * m.acromial,
    upperArm: k * m.upperArm,
    forearm: k * (m.radialeStylion + m.palm / 2),
    hipHalf: HIP_HALF * rider.stature,
    shoulderHalf: (k * m.biacromial) / 2,
    hipAboveSaddle: k * m.hipAboveSaddle,
  };
}

/** Inseam (crotch height, m) of a mean rider of that stature and its 1-sigma between riders. */
export function inseam(rider: Rider): { readonly mean: number; readonly sigma: number } {
  refuseStature(rider.stature);
  const of = (m: Means): { mean: number; sigma: number } => ({
    mean: m.inseam[0] / 1000 + m.inseam[1] * rider.stature,
    sigma: m.inseam[2] / 1000,
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
