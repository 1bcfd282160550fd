import { z } from 'zod';
import {
  drawPopulation,
  MEASURES,
  type Measure,
  measureOf,
  type Population,
  PUBLIC_IDS,
  PUBLICS,
  quantileOf,
  SADDLE_RULE,
  shareOf,
} from '#kernel';
import { CalcRefusal, type CalcTopic } from './topic.ts';

/** As typed: `stature_mm`, `mass_kg`, and what follows from them. */
const named = (m: Measure): string => (m === 'mass' ? 'mass_kg' : `${m}_mm`);
const QUANTITIES = ['saddle_height_mm', 'thigh_mm', 'shank_mm', ...MEASURES.map(named)] as const;

const input = z.strictObject({
  sex: z.enum(['female', 'male', 'mixed']).describe('Who is drawn; mixed: women and men in equal shares'),
  women_share: z.number().min(0).max(1).optional().describe('Share of women where sex is mixed; 0.5 when left out'),
  quantity: z
    .enum(QUANTITIES as unknown as [string, ...string[]])
    .describe('Body measure, barefoot; saddle_height_mm is 0.883 × inseam, crank centre to saddle top'),
  from: z.number().describe('Lower end, in the unit of the quantity'),
  to: z.number().describe('Upper end, in the unit of the quantity'),
  n: z.number().int().min(10).max(1_000_000).describe('Riders drawn'),
  seed: z.number().int().min(0).describe('Which riders: the same seed draws the same'),
  public: z
    .enum(PUBLIC_IDS)
    .optional()
    .describe('Whose statures and masses: the surveyed soldiers when left out (docs/methods/fit.md)'),
});
const output = z.strictObject({
  share: z.number().describe('Share of those drawn who lie between from and to, 0 to 1'),
  ci95: z.tuple([z.number(), z.number()]).describe('95 % confidence interval of the share (Wilson)'),
  p5: z.number().describe('5th percentile of the quantity among those drawn'),
  p50: z.number().describe('Median'),
  p95: z.number().describe('95th percentile'),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

function valuesOf(people: Population, quantity: string): Float64Array {
  if (quantity === 'saddle_height_mm') return measureOf(people, 'inseam').map((m) => 1000 * SADDLE_RULE * m);
  const between = (upper: Measure, lower: Measure): Float64Array => {
    const low = measureOf(people, lower);
    return measureOf(people, upper).map((m, i) => 1000 * (m - low[i]!));
  };
  if (quantity === 'thigh_mm') return between('trochanter', 'epicondyle');
  if (quantity === 'shank_mm') return between('epicondyle', 'malleolus');
  if (quantity === 'mass_kg') return measureOf(people, 'mass');
  return measureOf(people, MEASURES.find((m) => named(m) === quantity)!).map((m) => 1000 * m);
}

/** The share of a public between two values. */
export const topic: CalcTopic<Input, Output> = {
  name: 'population',
  meaning: 'the share of riders whose body measure, saddle height or mass lies in a range',
  method:
    'riders drawn with the correlations of ANSUR II (Gordon et al. 2014), each measure through the survey’s own percentiles, seeded xoroshiro128+; Wilson 1927 interval',
  input,
  output,
  run({ sex, women_share, quantity, from, to, n, seed, public: id }) {
    if (from > to) throw new CalcRefusal(`from (${from}) lies above to (${to})`, 'from');
    if (women_share !== undefined && sex !== 'mixed')
      throw new CalcRefusal('women_share belongs to sex "mixed"', 'women_share');
    const people = PUBLICS[id ?? 'survey'];
    const women = sex === 'female' ? 1 : sex === 'male' ? 0 : (women_share ?? 0.5);
    const values = valuesOf(drawPopulation({ women, ...people }, n, seed), quantity);
    let inside = 0;
    for (const v of values) if (v >= from && v <= to) inside++;
    const { share, low, high } = shareOf(inside, n);
    const sorted = values.sort();
    const at = (p: number): number => quantileOf(sorted, p);
    return { share, ci95: [low, high], p5: at(0.05), p50: at(0.5), p95: at(0.95) };
  },
};
