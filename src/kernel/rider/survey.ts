/**
 * The survey's measures as a multivariate normal model: means, deviations and the Cholesky factor of the correlations.
 *
 * Lengths are close to normal (skew within ±0.33); mass is not, its logarithm is. L of R = L·Lᵀ is made once, when the module
 * is loaded; a pivot that is not clearly positive means a broken table and throws.
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
  /** Lower triangle of the factor, row after row: L[i(i+1)/2 + k], k ≤ i. */
  readonly factor: Float64Array;
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
      let sum = k === i ? 1 : rows[i]![k + 2]!;
      for (let j = 0; j < k; j++) sum -= factor[at(i, j)]! * factor[at(k, j)]!;
      if (k < i) factor[at(i, k)] = sum / factor[at(k, k)]!;
      else if (sum > LEAST_PIVOT) factor[at(i, i)] = Math.sqrt(sum);
      else throw new Error(`the survey's correlations are not positive definite at ${MEASURES[i]}`);
    }
  return {
    mean: Float64Array.from(rows, (r, i) => scale(i) * r[0]!),
    sd: Float64Array.from(rows, (r, i) => scale(i) * r[1]!),
    factor,
  };
}

export const SURVEY: Readonly<Record<'female' | 'male', Survey>> = {
  female: readSurvey(SURVEY_WOMEN),
  male: readSurvey(SURVEY_MEN),
};
