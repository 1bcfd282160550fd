import { z } from 'zod';
import { type LiftEnd, type LiftLimit, liftLimits, MULTIPLIERS, shareLifting } from '#kernel';
import { CalcRefusal, type CalcTopic } from './topic.ts';

const end = z.strictObject({
  reach_cm: z.number().nonnegative().describe('Hands ahead of the middle between the ankles, cm'),
  height_cm: z.number().nonnegative().describe('Hands over the floor, cm'),
  turn_deg: z.number().min(0).max(180).optional().describe('Turn of the body, deg; 0 if absent'),
});
const input = z.strictObject({
  load_kg: z.number().positive().describe('What is lifted, kg'),
  origin: end.describe('Where the lift begins'),
  destination: end.optional().describe('Where it is set down with care; absent: dropped'),
  distance_cm: z.number().nonnegative().optional().describe('Way up, cm; from the two heights if absent'),
  coupling: z.enum(['good', 'fair', 'poor']).describe('How it can be held'),
  per_minute: z.number().nonnegative().optional().describe('Lifts a minute; 0.2 if absent'),
  hours: z.number().positive().max(8).optional().describe('Hours of such work a day; 1 if absent'),
  women: z.number().min(0).max(1).optional().describe('Share of women among the users; 0.5 if absent'),
  inch_constants: z
    .boolean()
    .optional()
    .describe('Constants of the manual in inches and pounds (51 lb, 10/H, 0.0075, 1.8/D); no if absent'),
  rounded: z.boolean().optional().describe('Each multiplier to two decimals, as the manual prints them; no if absent'),
});

const limit = z.strictObject({
  limit_kg: z.number().describe('Recommended weight limit, kg; 0 outside the equation'),
  index: z.number().nullable().describe('Load over limit; null outside the equation'),
  HM: z.number().describe('Multiplier of the reach'),
  VM: z.number().describe('Multiplier of the height'),
  DM: z.number().describe('Multiplier of the way up'),
  AM: z.number().describe('Multiplier of the turn'),
  FM: z.number().describe('Multiplier of the frequency'),
  CM: z.number().describe('Multiplier of the hold'),
  outside: z.string().nullable().describe('Why the equation ends; null inside'),
});
const output = z.strictObject({
  origin: limit,
  destination: limit.nullable().describe('null where nothing is set down with care'),
  limit_kg: z.number().describe('The lower limit of both ends, kg'),
  index: z.number().nullable().describe('Load over that limit; null outside the equation'),
  share_able: z.number().nullable().describe('Share of users who accept it, 0 to 1; null outside the equation'),
  note: z.string().describe('What the equation is for'),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** Two-handed lift. */
export const topic: CalcTopic<Input, Output> = {
  name: 'lifting',
  meaning: 'recommended weight limit and lifting index of a two-handed lift, and the share of users who accept it',
  method:
    'revised NIOSH lifting equation (NIOSH 94-110), metric or inch constants; 75 % of women and 99 % of men accept an index of 1. Docs: methods/effort',
  input,
  output,
  run(given) {
    const { load_kg, distance_cm } = given;
    const endOf = (raw: z.infer<typeof end>): LiftEnd => ({
      reach: raw.reach_cm / 100,
      height: raw.height_cm / 100,
      turn: ((raw.turn_deg ?? 0) * Math.PI) / 180,
    });
    try {
      const found = liftLimits(
        {
          origin: endOf(given.origin),
          ...(given.destination ? { destination: endOf(given.destination) } : {}),
          coupling: given.coupling,
          perMinute: given.per_minute ?? 0.2,
          hours: given.hours ?? 1,
        },
        {
          system: given.inch_constants ? 'inch' : 'metric',
          rounded: given.rounded ?? false,
          ...(distance_cm === undefined ? {} : { distance: distance_cm / 100 }),
        },
      );
      const told = (l: LiftLimit) => ({
        limit_kg: l.limit,
        index: l.limit > 0 ? load_kg / l.limit : null,
        ...(Object.fromEntries(MULTIPLIERS.map((m) => [m, l.multipliers[m]])) as Record<
          (typeof MULTIPLIERS)[number],
          number
        >),
        outside: l.outside ?? null,
      });
      const index = found.limit > 0 ? load_kg / found.limit : null;
      return {
        origin: told(found.origin),
        destination: found.destination ? told(found.destination) : null,
        limit_kg: found.limit,
        index,
        share_able: index === null ? null : shareLifting(index, given.women ?? 0.5),
        note: 'two-handed, smooth lifts, standing on a sound floor; not for one hand, not for carrying',
      };
    } catch (error) {
      if (error instanceof RangeError) throw new CalcRefusal(error.message);
      throw error;
    }
  },
};
