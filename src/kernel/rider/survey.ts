/**
 * The survey's measures as a model to draw from: normal scores with the survey's correlations, each turned into its measure by
 * the survey's own percentiles.
 *
 * Scores z ~ N(0, R); L of R = L·Lᵀ is made once, when the module is loaded; a pivot that is not clearly positive means a broken
 * table and throws. Lengths are nearly normal (skew within ±0.33) and so is the logarithm of mass, but a normal curve
 * misses the 5th percentile of men's stature by 5 mm. So z goes through a curve (monotone cubics, F. N. Fritsch, R. E. Carlson
 * 1980, SIAM J. Numer. Anal. 17:238) through the percentiles 1, 5, 50, 95, 99; straight beyond them.
 * Source: ANSUR II, see `survey-model.ts`. Units here: m; the last measure is ln(kg).
 * Not here: which public the riders come from (`publics.ts`), age.
 */
import { SURVEY_MEN, SURVEY_WOMEN } from './survey-model.ts';

/** Order of the columns of a population. */
export const MEASURES = [
  'stature',
  'inseam',
  'trochanter',
  'epicondyle',
  'malleolus',
  'sitting',
  'acromion',
  'biacromial',
  'upper_arm',
  'forearm',
  'palm',
  'foot',
  'ball',
  'hand_breadth',
  'hip_breadth',
  'thumb_reach',
  'wrist',
  'mass',
] as const;
export type Measure = (typeof MEASURES)[number];
/** Column of each measure. */
export const COLUMN = Object.fromEntries(MEASURES.map((name, i) => [name, i])) as Readonly<Record<Measure, number>>;

export interface Survey {
  /** m, the last in ln(kg); in the order of `MEASURES`. */
  readonly mean: Float64Array;
  readonly sd: Float64Array;
  /** Five numbers a measure: (percentile − mean)/SD at `SCORES`, and the slope there. */
  readonly knot: Float64Array;
  readonly slope: Float64Array;
  /** Lower triangle of the factor, row after row: L[i(i+1)/2 + k], k ≤ i. */
  readonly factor: Float64Array;
}

/** Normal scores of the percentiles 1, 5, 50, 95, 99. */
const SCORES = [-2.3263478740408408, -1.6448536269514722, 0, 1.6448536269514722, 2.3263478740408408] as const;

/** Slopes at the knots that keep every piece monotone: the harmonic mean of its neighbours', one-sided at the ends. */
function slopesOf(t: readonly number[]): number[] {
  const chord = SCORES.slice(1).map((z, k) => (t[k + 1]! - t[k]!) / (z - SCORES[k]!));
  return SCORES.map((_, k) => {
    const [before, after] = [chord[k - 1], chord[k]];
    if (before === undefined || after === undefined) return before ?? after!;
    return (2 * before * after) / (before + after);
  });
}

/** (measure − mean)/SD of measure `i` at the normal score z. */
export function standardMeasure(s: Survey, i: number, z: number): number {
  const o = i * SCORES.length;
  const last = SCORES.length - 1;
  if (z <= SCORES[0]) return s.knot[o]! + s.slope[o]! * (z - SCORES[0]);
  if (z >= SCORES[4]) return s.knot[o + last]! + s.slope[o + last]! * (z - SCORES[4]);
  const k = z < SCORES[1] ? 0 : z < 0 ? 1 : z < SCORES[3] ? 2 : 3;
  const h = SCORES[k + 1]! - SCORES[k]!;
  const u = (z - SCORES[k]!) / h;
  const v = 1 - u;
  return (
    v * v * (1 + 2 * u) * s.knot[o + k]! +
    u * u * (3 - 2 * u) * s.knot[o + k + 1]! +
    u * v * h * (v * s.slope[o + k]! - u * s.slope[o + k + 1]!)
  );
}

/** Least accepted square of a pivot: the survey's own correlations leave 0.02 and more. */
const LEAST_PIVOT = 1e-3;

function readSurvey(text: string): Survey {
  const rows = text
    .trim()
    .split('\n')
    .map((line) => line.split(' ').slice(1).map(Number));
  const n = MEASURES.length;
  if (rows.length !== n) throw new Error(`the survey has ${rows.length} measures, ${n} are read`);
  const scale = (i: number): number => (i === n - 1 ? 1 : 1e-3);
  const factor = new Float64Array((n * (n + 1)) / 2);
  const at = (i: number, k: number): number => (i * (i + 1)) / 2 + k;
  for (let i = 0; i < n; i++)
    for (let k = 0; k <= i; k++) {
      let sum = k === i ? 1 : rows[i]![k + 2 + SCORES.length]!;
      for (let j = 0; j < k; j++) sum -= factor[at(i, j)]! * factor[at(k, j)]!;
      if (k < i) factor[at(i, k)] = sum / factor[at(k, k)]!;
      else if (sum > LEAST_PIVOT) factor[at(i, i)] = Math.sqrt(sum);
      else throw new Error(`the survey's correlations are not positive definite at ${MEASURES[i]}`);
    }
  const knot = new Float64Array(n * SCORES.length);
  const slope = new Float64Array(n * SCORES.length);
  rows.forEach((r, i) => {
    const t = SCORES.map((_, k) => (r[2 + k]! - r[0]!) / r[1]!);
    knot.set(t, i * SCORES.length);
    slope.set(slopesOf(t), i * SCORES.length);
  });
  return {
    knot,
    slope,
    mean: Float64Array.from(rows, (r, i) => scale(i) * r[0]!),
    sd: Float64Array.from(rows, (r, i) => scale(i) * r[1]!),
    factor,
  };
}

export const SURVEY: Readonly<Record<'female' | 'male', Survey>> = {
  female: readSurvey(SURVEY_WOMEN),
  male: readSurvey(SURVEY_MEN),
};
