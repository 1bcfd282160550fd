import { z } from 'zod';
import { BASIC_FORCES, FORCE_KINDS, type ForceKind, forceBand, forceCap, forceMultipliers, shareAble } from '#kernel';
import { CalcRefusal, type CalcTopic } from './topic.ts';

const input = z.strictObject({
  force_N: z.number().nonnegative().describe('What one hand (or the whole body, or a foot) must bring up, N'),
  kind: z
    .enum(FORCE_KINDS as [ForceKind, ...ForceKind[]])
    .describe(`How: ${FORCE_KINDS.map((k) => `${k} ${BASIC_FORCES[k].words}`).join('; ')}`),
  users: z.enum(['anybody', 'workers']).optional().describe('Whose limit: 1st or 15th percentile; anybody if absent'),
  moving: z.boolean().optional().describe('The part moves under the force; yes if absent'),
  per_minute: z.number().min(0).max(20).optional().describe('Actions of up to 3 s a minute; 0.1 if absent'),
  hours: z.number().min(0).max(8).optional().describe('Hours of such work a day; 0.1 if absent'),
  women: z.number().min(0).max(1).optional().describe('Share of women among the users; 0.5 if absent'),
});
const output = z.strictObject({
  basic_force_N: z.number().describe('F_B of these users, N'),
  velocity: z.number().describe('Multiplier of the movement'),
  frequency: z.number().describe('Multiplier of the frequency'),
  duration: z.number().describe('Multiplier of the duration'),
  cap_N: z.number().describe('F_cap, N'),
  recommended_N: z.number().describe('Half of it: recommended for a design, N'),
  risk: z.number().describe('Force over cap'),
  band: z.enum(['recommended', 'conditional', 'avoid']).describe('Up to 0.5, up to 0.7, above'),
  share_able: z.number().describe('Share of users who can, 0 to 1'),
  share_at_ease: z.number().describe('Share of users for whom it is half of their own strength or less, 0 to 1'),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** A hand force beside what people can do. */
export const topic: CalcTopic<Input, Output> = {
  name: 'hand-force',
  meaning: 'limit of a hand force, its risk, and the share of users who can',
  method:
    'EN 1005-3:2002+A1:2008, multipliers from memory; strength of women and men lognormal through its 1st and 15th percentile, ratio after Leyk et al. 2007. Docs: methods/effort',
  input,
  output,
  run(given) {
    const { force_N, kind } = given;
    const users = given.users ?? 'anybody';
    const use = { moving: given.moving ?? true, perMinute: given.per_minute ?? 0.1, hours: given.hours ?? 0.1 };
    const women = given.women ?? 0.5;
    try {
      const cap = forceCap(kind, users, use);
      return {
        basic_force_N: BASIC_FORCES[kind][users],
        ...forceMultipliers(use),
        cap_N: cap,
        recommended_N: cap / 2,
        risk: force_N / cap,
        band: forceBand(force_N / cap),
        share_able: shareAble(kind, force_N, use, women),
        share_at_ease: shareAble(kind, force_N, use, women, 0.5),
      };
    } catch (error) {
      if (error instanceof RangeError) throw new CalcRefusal(error.message);
      throw error;
    }
  },
};
