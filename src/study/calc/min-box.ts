import { z } from 'zod';
import { minBox } from '#kernel';
import type { CalcTopic } from './topic.ts';

const input = z.strictObject({
  points_m: z
    .array(z.tuple([z.number(), z.number(), z.number()]))
    .min(1)
    .max(400)
    .describe(
      'Points that the box must hold, m; at most 400 (the time grows with the square of the edges of their hull)',
    ),
});
const output = z.strictObject({
  volume_m3: z.number().describe('Volume of the least box, m³; 0 for points in a plane or on a line'),
  sides_m: z
    .tuple([z.number(), z.number(), z.number()])
    .describe('Its sides, longest first, m; where several boxes are least, those of one of them'),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** The box of least volume around points, in any orientation. */
export const topic: CalcTopic<Input, Output> = {
  name: 'min-box',
  meaning: 'the box of least volume around points, in any orientation',
  method:
    'exact: O’Rourke 1985, Finding minimal enclosing boxes (two adjacent faces flush with hull edges); all edge pairs, stationary points of the volume as roots of polynomials',
  input,
  output,
  run({ points_m }) {
    const { volume, sides } = minBox(points_m);
    return { volume_m3: volume, sides_m: [sides[0], sides[1], sides[2]] };
  },
};
