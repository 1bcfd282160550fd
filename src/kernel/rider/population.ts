/**
 * Riders drawn at random from a public: body measures that belong together, never percentiles added up.
 *
 * Per rider z ~ N(0, I); scores L z with the survey's L, each through the survey's own distribution (`survey.ts`). The public's stature replaces the
 * survey's: every length keeps its share of the mean stature and its share of the stature's deviation, so that proportions
 * and correlations stay. Mass: the survey's correlations of its logarithm, with mean and deviation of the public's mass,
 * σ² = ln(1 + (SD/mean)²), μ = ln mean − σ²/2. Women and men take turns in their exact shares (a stratified sample: its true
 * error is a little below the interval shown).
 * Generator: xoroshiro128+ (pure-rand), normal deviates by Box & Muller 1958; same seed, same riders.
 * Units: m, kg. Not here: children, age, people who do not fit the survey (soldiers, 17-58 years) in proportion.
 */
import { uniformFloat64 } from 'pure-rand/distribution/uniformFloat64';
import { xoroshiro128plus } from 'pure-rand/generator/xoroshiro128plus';
import type { SexPublic } from './publics.ts';
import { COLUMN, MEASURES, type Measure, SURVEY, type Survey, standardMeasure } from './survey.ts';

export interface PopulationSpec {
  /** Share of women, 0 to 1. */
  readonly women: number;
  readonly female: SexPublic;
  readonly male: SexPublic;
}

export interface Population {
  readonly n: number;
  /** 1 for a woman. */
  readonly female: Uint8Array;
  /** n rows of `MEASURES`: m, the last kg. */
  readonly value: Float64Array;
}

/** Numbers of one rider in `Population.value`. */
export const RIDER_STRIDE = MEASURES.length;

interface Scaled {
  readonly mean: Float64Array;
  readonly sd: Float64Array;
  readonly survey: Survey;
}

/** The survey's model of one sex with the public's stature and mass laid over it. */
function scaled(sex: 'female' | 'male', people: SexPublic): Scaled {
  const survey = SURVEY[sex];
  const { mean, sd } = survey;
  const k = people.stature / mean[COLUMN.stature]!;
  const w = people.statureSpread / sd[COLUMN.stature]!;
  const cv = people.massSpread / people.mass;
  const sigma = Math.sqrt(Math.log(1 + cv * cv));
  const last = COLUMN.mass;
  return {
    mean: mean.map((m, i) => (i === last ? Math.log(people.mass) - (sigma * sigma) / 2 : k * m)),
    sd: sd.map((s, i) => (i === last ? sigma : w * s)),
    survey,
  };
}

/** @throws RangeError for a share outside 0-1, or stature, mass or spread that is not positive. */
function refuse(spec: PopulationSpec, n: number): void {
  if (!(spec.women >= 0 && spec.women <= 1)) throw new RangeError(`share of women must be 0 to 1, got ${spec.women}`);
  if (!(Number.isInteger(n) && n > 0)) throw new RangeError(`number of riders must be 1 or more, got ${n}`);
  for (const people of [spec.female, spec.male])
    for (const [key, value] of Object.entries(people))
      if (!(value > 0 && value < Number.POSITIVE_INFINITY))
        throw new RangeError(`${key} must be positive, got ${value}`);
}

/** Draws `n` riders. Same arguments, same riders. @throws RangeError for a public that is none. */
export function drawPopulation(spec: PopulationSpec, n: number, seed: number): Population {
  refuse(spec, n);
  const women = scaled('female', spec.female);
  const men = scaled('male', spec.male);
  const random = xoroshiro128plus(seed);
  const female = new Uint8Array(n);
  const value = new Float64Array(n * RIDER_STRIDE);
  const z = new Float64Array(RIDER_STRIDE + 1);
  for (let rider = 0; rider < n; rider++) {
    const woman = Math.floor((rider + 1) * spec.women + 1e-9) > Math.floor(rider * spec.women + 1e-9);
    female[rider] = woman ? 1 : 0;
    const { mean, sd, survey } = woman ? women : men;
    const { factor } = survey;
    for (let i = 0; i < RIDER_STRIDE; i += 2) {
      // 1 − u keeps the logarithm finite
      const radius = Math.sqrt(-2 * Math.log(1 - uniformFloat64(random)));
      const angle = 2 * Math.PI * uniformFloat64(random);
      z[i] = radius * Math.cos(angle);
      z[i + 1] = radius * Math.sin(angle);
    }
    const o = rider * RIDER_STRIDE;
    for (let i = 0, l = 0; i < RIDER_STRIDE; i++) {
      let sum = 0;
      for (let k = 0; k <= i; k++, l++) sum += factor[l]! * z[k]!;
      value[o + i] = mean[i]! + sd[i]! * standardMeasure(survey, i, sum);
    }
    value[o + COLUMN.mass] = Math.exp(value[o + COLUMN.mass]!);
  }
  return { n, female, value };
}

/** One measure of all riders, in their order. */
export const measureOf = (p: Population, measure: Measure): Float64Array =>
  Float64Array.from({ length: p.n }, (_, i) => p.value[i * RIDER_STRIDE + COLUMN[measure]]!);

/** The value below which the share `p` of a sorted list lies; straight between the order statistics. */
export function quantileOf(sorted: Float64Array, p: number): number {
  const at = p * (sorted.length - 1);
  const low = Math.floor(at);
  const high = Math.min(low + 1, sorted.length - 1);
  return sorted[low]! + (at - low) * (sorted[high]! - sorted[low]!);
}
