import { z } from 'zod';
import { FATIGUE_CODES, FatigueRefusal, fatigueCurve, minerDamage } from '#kernel';
import { CalcRefusal, type CalcTopic } from './topic.ts';

const input = z.strictObject({
  code: z.enum(FATIGUE_CODES).describe('Which family of S-N curves'),
  category_MPa: z
    .number()
    .positive()
    .describe(
      'Detail category (Δσc, FAT): stress range at 2·10⁶ cycles, MPa; already divided by γMf where one applies',
    ),
  slope: z
    .number()
    .min(1)
    .max(50)
    .optional()
    .describe(
      'First slope m1; 3 if absent, 3.4 for EN1999-1-3. 5 means the shear curve for EN1993-1-9 (cut-off at 10⁸) and for IIW (knee at 10⁸)',
    ),
  blocks: z
    .array(
      z.strictObject({
        range_MPa: z.number().nonnegative().describe('Stress range, greatest minus least, MPa'),
        cycles: z.number().nonnegative().describe('Number of cycles at it'),
      }),
    )
    .min(1)
    .max(100_000)
    .describe('What the detail bears, in any order'),
});
const output = z.strictObject({
  lives: z
    .array(z.number().nullable())
    .describe('Cycles to failure at each block alone, same order; null: infinite (range 0 or under the cut-off)'),
  damage: z.number().describe('Palmgren–Miner sum; fails at 1'),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

const PATHS: Readonly<Record<string, string>> = { category: 'category_MPa' };

/** Life and damage of a welded detail. */
export const topic: CalcTopic<Input, Output> = {
  name: 'fatigue',
  meaning: 'life at each stress range and Palmgren–Miner damage of a welded detail',
  method:
    'EN 1993-1-9, IIW-1823-07 (variable amplitude) or EN 1999-1-3 curves, knees from memory; ranges under the cut-off add no damage, as the codes say. Walls under 3–4 mm lie below the codes’ test base: rank with it',
  input,
  output,
  run(given) {
    try {
      const curve = fatigueCurve({
        code: given.code,
        category: given.category_MPa,
        ...(given.slope === undefined ? {} : { slope: given.slope }),
        // Of IIW's two curves of slope 5 (bare metal, knee 10⁷; shear, knee 10⁸) the shear curve gives the shorter lives.
        ...(given.code === 'IIW' && given.slope === 5 ? { stress: 'shear' as const } : {}),
      });
      const blocks = given.blocks.map((b) => ({ range: b.range_MPa, cycles: b.cycles }));
      const { lives, damage } = minerDamage(curve, blocks);
      return { lives: lives.map((n) => (n === Number.POSITIVE_INFINITY ? null : n)), damage };
    } catch (error) {
      if (!(error instanceof FatigueRefusal)) throw error;
      throw new CalcRefusal(error.message, PATHS[error.path] ?? error.path);
    }
  },
};
