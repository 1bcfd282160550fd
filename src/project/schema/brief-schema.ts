/** The structure of `brief.yaml`. The words are explained in docs/project-files.md. */
import { z } from 'zod';
import { FIT_FIGURES, PUBLIC_IDS } from '#kernel';
import { loadsSchema } from './loads-schema.ts';
import { amount, format, name, named, text } from './values.ts';

const because = z.string().optional().describe('Where the number comes from.');
const quantity = text('Name of a quantity: mass.total, steer.trail, space.bench.margin.');

export const openingSchema = z.strictObject({
  kind: z.literal('opening'),
  opening: z.tuple([amount('width'), amount('height')]).describe('Clear width and height: [640 mm, 330 mm].'),
  depth: amount('Depth behind the opening: 950 mm.'),
  margin: amount('Room to keep in each direction, both sides together: 10 mm; 0 when left out.').optional(),
  lies: z.enum(['flat', 'upright', 'any']).optional().describe('How the package must lie; any when left out.'),
  chain_side: z
    .enum(['up', 'any'])
    .optional()
    .describe('Up keeps chain and oil off what lies below; any when left out.'),
  because,
});
export const boxSpaceSchema = z.strictObject({
  kind: z.literal('box'),
  size: z.tuple([amount('length'), amount('width'), amount('height')]).describe('Inside: [800 mm, 600 mm, 300 mm].'),
  margin: amount('Room to keep in each direction, both sides together: 10 mm; 0 when left out.').optional(),
  lies: z.enum(['flat', 'upright', 'any']).optional(),
  chain_side: z.enum(['up', 'any']).optional(),
  because,
});
export const standSchema = z.strictObject({
  kind: z.literal('stand'),
  footprint: z.tuple([amount('length'), amount('width')]).describe('Floor that it may take: [700 mm, 400 mm].'),
  height: amount('Height that it may take.').optional(),
  slope: amount('Tilt of the floor: 12 deg; 0 when left out.').optional(),
  jerk: amount('Lateral jerk in g: 0.15; 0 when left out.').optional(),
  because,
});
export const demandSchema = z.strictObject({
  quantity,
  at_most: amount('Upper limit: 12.5 kg.').optional(),
  at_least: amount('Lower limit: 0 mm.').optional(),
  because,
});
export const wishSchema = z.strictObject({
  quantity,
  best: amount('Value 1 from here on: 10 kg.'),
  worst: amount('Value 0 from here on: 13 kg.'),
  weight: amount('Weight against the other wishes: 3.'),
  because,
});

const limitsSchema = z.strictObject(
  Object.fromEntries(
    FIT_FIGURES.map((f) => [f.key, amount(`${f.meaning}; ${f.value} ${f.unit} when left out.`).optional()]),
  ),
);
const publicSchema = z.strictObject({
  stature: amount('Mean: 1.65 m.').optional(),
  stature_spread: amount('One standard deviation: 62 mm.').optional(),
  mass: amount('Mean, with clothing: 70 kg.').optional(),
  mass_spread: amount('One standard deviation: 13 kg.').optional(),
});

export const briefSchema = z.strictObject({
  format,
  brief: text('The name people see.'),
  note: z.string().optional(),
  riders: z
    .strictObject({
      shortest: amount('Stature: 1.50 m.'),
      tallest: amount('Stature: 1.95 m.'),
      heaviest: amount('Mass with clothing: 110 kg.'),
      usual: z
        .strictObject({
          stature: amount('1.72 m.'),
          mass: amount('75 kg.'),
          sex: z.enum(['female', 'male', 'mixed']).optional(),
        })
        .optional(),
      women: amount('Share of women: 50 %.').optional(),
      public: z
        .enum(PUBLIC_IDS)
        .optional()
        .describe('Whose statures and masses: germany_2005 when left out; survey: the measured soldiers themselves.'),
      female: publicSchema.optional().describe('Figures of the women that differ from the public named.'),
      male: publicSchema.optional().describe('Figures of the men that differ from the public named.'),
      sample: amount('Riders drawn: 4000.').optional(),
      seed: z.number().int().min(0).optional().describe('Which riders are drawn: 1 when left out.'),
      hands: z
        .enum(['anybody', 'workers'])
        .optional()
        .describe('Whose strength counts: anybody at home (1st percentile, when left out) or adults at work (15th).'),
      limits: limitsSchema.optional().describe('What counts as fitting, where it differs from the defaults.'),
    })
    .optional(),
  luggage: z
    .strictObject({
      mass: amount('6 kg.'),
      at: name.describe("The candidate's station or part that carries it."),
    })
    .optional(),
  trip: z
    .strictObject({
      stairs: amount('Steps up which it is carried: 60.').optional(),
      climb: amount('Steepest street up: 11 %.').optional(),
      descent: amount('Steepest street down: 11 %.').optional(),
      speed: amount('Usual speed: 18 km/h.').optional(),
      distance: amount('Ridden, one way: 3 km.').optional(),
      climb_length: amount('Of that on the steepest street up: 200 m.').optional(),
      roll: amount('Rolled folded: 40 m.').optional(),
      carry: amount('Carried on the level: 20 m.').optional(),
      step: amount('Rise of one step of the stairs: 170 mm.').optional(),
      rest: amount('Steps from one rest to the next: 30; all in one go when left out.').optional(),
      lifts: named(amount('Height: 350 mm.'))
        .optional()
        .describe('Heights to which both hands lift it: {gangway: 350 mm, rack: 1.2 m}.'),
    })
    .optional(),
  loads: loadsSchema.optional().describe('What frame, fork, bar and post must carry.'),
  spaces: named(z.discriminatedUnion('kind', [openingSchema, boxSpaceSchema, standSchema])).optional(),
  reference: name.optional().describe('The candidate file that steering is likened to.'),
  demands: z.array(demandSchema).optional(),
  wishes: z.array(wishSchema).optional(),
  market: z
    .strictObject({
      volume: amount('Bicycles a year: 2500.').optional(),
      price: amount('Retail price: 1490 EUR.').optional(),
      region: z.string().optional(),
    })
    .optional(),
  stakes: z
    .strictObject({
      prototype: amount('Cost of a prototype: 9000 EUR.').optional(),
      days: amount('Days until it can be ridden: 45.').optional(),
    })
    .optional(),
  weights_sweep: amount('By how much the weights are varied: 30 %.').optional(),
});
export type BriefData = z.infer<typeof briefSchema>;
export type SpaceData = NonNullable<BriefData['spaces']>[string];
