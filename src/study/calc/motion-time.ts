import { z } from 'zod';
import { MOTION_CODES, motion, TMU_SECONDS } from '#kernel';
import { nearestName } from '#project';
import { CalcRefusal, type CalcTopic } from './topic.ts';

const code = z.string().min(1).max(20);
const element = z.union([
  code.describe('Motion code, inches: R16C'),
  z.strictObject({
    code: code.describe('Motion code, inches: M10B'),
    mass_lb: z.number().nonnegative().optional().describe('What is moved, lb; 0 if absent'),
    hands: z
      .union([z.literal(1), z.literal(2)])
      .optional()
      .describe('Hands that share it; 1 if absent'),
    times: z.number().int().min(1).max(1000).optional().describe('How often it is done in a row; 1 if absent'),
  }),
]);
const input = z.strictObject({
  elements: z.array(element).min(1).max(1000).describe('Motions one after the other'),
});
const output = z.strictObject({
  tmu: z.number().describe('Sum, TMU of 0.036 s'),
  seconds: z.number().describe('Time of a trained hand, s'),
  elements: z
    .array(
      z.strictObject({
        code: z.string().describe('As given'),
        tmu: z.number().describe('Time of this motion, all repetitions, TMU'),
        words: z.string().describe('What it is'),
      }),
    )
    .describe('The same motions with their times'),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** Sums of figures with one to three decimals, without the noise of their binary forms. */
const tidy = (x: number): number => Number(x.toPrecision(12));

/** Seconds of a piece of work by hand. */
export const topic: CalcTopic<Input, Output> = {
  name: 'motion-time',
  meaning: 'seconds of a piece of work by hand from the motions that it consists of',
  method:
    'predetermined motion times: the table in inches as printed in university work-measurement handouts; straight between its rows; weight per hand. Docs: methods/effort',
  input,
  output,
  run(given) {
    const elements = given.elements.map((raw, i) => {
      const { code, mass_lb, hands, times } = typeof raw === 'string' ? { code: raw } : raw;
      try {
        const found = motion(code, {
          ...(mass_lb === undefined ? {} : { pounds: mass_lb }),
          ...(hands === undefined ? {} : { hands }),
        });
        return { code, tmu: tidy(found.tmu * (times ?? 1)), words: found.words };
      } catch (error) {
        if (!(error instanceof RangeError)) throw error;
        const near = error.message.startsWith('no motion') ? nearestName(code, MOTION_CODES) : undefined;
        throw new CalcRefusal(`${error.message}${near ? `; did you mean ${near}?` : ''}`, `elements.${i}`);
      }
    });
    const tmu = elements.reduce((sum, e) => sum + e.tmu, 0);
    return { tmu: tidy(tmu), seconds: tidy(tmu * TMU_SECONDS), elements };
  },
};
