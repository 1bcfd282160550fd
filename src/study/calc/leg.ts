import { z } from 'zod';
import { flexionAt } from '#kernel';
import { CalcRefusal, type CalcTopic } from './topic.ts';

const length = (meaning: string) => z.number().positive().max(2000).describe(meaning);
const input = z.strictObject({
  thigh_mm: length('Hip joint to knee joint, mm'),
  shank_mm: length('Knee joint to ankle joint, mm'),
  hip_to_ankle_mm: length('Hip joint to ankle joint, mm'),
});
const output = z.strictObject({
  knee_flexion_deg: z.number().describe('Departure of the leg from straight, deg; 0 when stretched'),
  knee_included_deg: z.number().describe('Angle between thigh and shank, deg: 180 less the flexion'),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** Knee flexion of a leg between hip and ankle. */
export const topic: CalcTopic<Input, Output> = {
  name: 'leg',
  meaning: 'knee flexion of a leg whose hip and ankle are a given distance apart',
  method:
    'law of cosines in the plane of the leg. Where hip and ankle really are is known to about ±10° of flexion (docs/methods/fit.md)',
  input,
  output,
  run({ thigh_mm, shank_mm, hip_to_ankle_mm: d }) {
    const least = Math.abs(thigh_mm - shank_mm);
    const most = thigh_mm + shank_mm;
    if (d < least || d > most)
      throw new CalcRefusal(`this leg spans ${least} to ${most} mm, not ${d} mm`, 'hip_to_ankle_mm', {
        least_mm: least,
        most_mm: most,
      });
    const flexion = (flexionAt(thigh_mm, shank_mm, d) * 180) / Math.PI;
    return { knee_flexion_deg: flexion, knee_included_deg: 180 - flexion };
  },
};
