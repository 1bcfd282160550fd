import { z } from 'zod';
import { gearSet, rollOut, tyreDiameter } from '#kernel';
import { readTyreSize } from '#project';
import { CalcRefusal, type CalcTopic } from './topic.ts';

const input = z.strictObject({
  etrto: z.string().max(20).describe('Size of the tyre, width-rim in mm as on its side: 40-406'),
  loaded_mm: z
    .number()
    .positive()
    .optional()
    .describe('Height of the hub under load, mm: the way per turn is then that of a pressed tyre. Absent: unloaded'),
  ring: z.number().int().positive().max(200).optional().describe('Teeth of the chainring; with it developments'),
  sprockets: z.array(z.number().int().positive().max(200)).min(1).max(30).optional().describe('Teeth of the sprockets'),
  hub_ratios: z
    .array(z.number().positive())
    .min(1)
    .max(30)
    .optional()
    .describe('Turns of the wheel per turn of the sprocket in each gear of the hub; 1 if absent'),
});
const output = z.strictObject({
  diameter_mm: z.number().describe('Nominal outside diameter, mm'),
  circumference_mm: z.number().describe('Its circumference, mm'),
  roll_out_mm: z.number().optional().describe('Way per turn with the hub at the given height, mm'),
  gears: z
    .array(
      z.strictObject({
        sprocket: z.number().describe('Teeth of the sprocket'),
        hub_ratio: z.number().describe('Ratio of the hub'),
        development_m: z.number().describe('Way per turn of the cranks, m'),
      }),
    )
    .optional()
    .describe('Lowest first'),
  range: z.number().optional().describe('Highest development over lowest'),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** A tyre's size, and the gears that go with it. */
export const topic: CalcTopic<Input, Output> = {
  name: 'tyre',
  meaning: 'diameter and circumference of a tyre from its size, and developments of gears on it',
  method:
    'ISO 5775-1: outside diameter = rim + 2 × width. Loaded way per turn: radius less a third of the sag (from memory). Docs: methods/drive',
  input,
  output,
  run(given) {
    const size = readTyreSize(given.etrto);
    if (!size)
      throw new CalcRefusal(
        `${JSON.stringify(given.etrto)} is no tyre size: width and rim in mm, as in 40-406`,
        'etrto',
      );
    // In mm, so that 40-406 is 486 mm to the last digit.
    const diameter_mm = tyreDiameter(size.beadSeat * 1000, size.width * 1000);
    const diameter = diameter_mm / 1000;
    const { loaded_mm, ring, sprockets, hub_ratios } = given;
    if (loaded_mm !== undefined && !(loaded_mm / 1000 <= diameter / 2 && loaded_mm / 1000 > size.beadSeat / 2))
      throw new CalcRefusal(
        `a hub of this wheel stands between ${size.beadSeat * 500} and ${diameter_mm / 2} mm high`,
        'loaded_mm',
      );
    if ((ring === undefined) !== (sprockets === undefined))
      throw new CalcRefusal('developments need chainring and sprockets', ring === undefined ? 'ring' : 'sprockets');
    if (hub_ratios !== undefined && ring === undefined)
      throw new CalcRefusal('ratios of a hub need chainring and sprockets', 'ring');
    const perTurn = rollOut(diameter / 2, loaded_mm === undefined ? diameter / 2 : loaded_mm / 1000);
    const set =
      ring !== undefined && sprockets !== undefined
        ? gearSet({ rollOut: perTurn, rings: [ring], sprockets, ratios: hub_ratios ?? [1] })
        : undefined;
    return {
      diameter_mm,
      circumference_mm: rollOut(diameter_mm / 2),
      ...(loaded_mm === undefined ? {} : { roll_out_mm: perTurn * 1000 }),
      ...(set
        ? {
            gears: set.gears.map((g) => ({
              sprocket: g.sprocket,
              hub_ratio: g.ratio,
              development_m: g.development,
            })),
            range: set.range,
          }
        : {}),
    };
  },
};
