import { z } from 'zod';
import {
  aluminiumTubeClass,
  bendingStress,
  dentForceEllinasWalker,
  dentForceWierzbickiSuh,
  localBuckling,
  localBucklingUse,
  steelTubeClass,
  tubeProperties,
} from '#kernel';
import type { CalcTopic } from './topic.ts';
import { refusedAt, tubeKeys, tubeOf } from './tube-input.ts';

const input = z.strictObject({
  ...tubeKeys,
  E_MPa: z.number().positive().describe('Young’s modulus, MPa'),
  nu: z.number().gt(-1).max(0.5).optional().describe('Poisson’s ratio; 0.3 if absent'),
  yield_MPa: z
    .number()
    .positive()
    .describe('Yield or 0.2 % proof stress, MPa; of the heat-affected zone beside a weld'),
  family: z.enum(['steel', 'aluminium']).optional().describe('Whose section classes to give; none if absent'),
  heat_treated: z.boolean().optional().describe('Aluminium: class A (T5, T6…), yes if absent'),
  welded: z.boolean().optional().describe('Aluminium: weld in the section, no if absent'),
  axial_N: z.number().optional().describe('Axial force, N, tension positive; 0 if absent'),
  moment_height_Nm: z
    .number()
    .optional()
    .describe('Moment that bends in the direction of the height, N·m; 0 if absent'),
  moment_width_Nm: z.number().optional().describe('Moment that bends in the direction of the width, N·m; 0 if absent'),
  dent_mm: z
    .number()
    .positive()
    .optional()
    .describe('Depth of a dent, mm: gives the forces that make it (round tubes)'),
});
const output = z.strictObject({
  slenderness: z
    .number()
    .describe('Outside diameter over wall; oval: of the flattest place; flat walls: clear width over wall'),
  classical_MPa: z.number().describe('Elastic buckling stress of the perfect wall, MPa'),
  axial_elastic_MPa: z.number().describe('With imperfections, under compression, elastic, MPa'),
  bending_elastic_MPa: z.number().describe('With imperfections, in bending, elastic, MPa'),
  axial_strength_MPa: z.number().describe('Stress to compare with under compression, yield included, MPa'),
  bending_strength_MPa: z.number().describe('Stress to compare with in bending, yield included, MPa'),
  brazier_moment_Nm: z
    .number()
    .nullable()
    .describe('Moment at which a long round tube flattens, N·m; null for other shapes'),
  section_class: z.number().optional().describe('Class 1–4 of EN 1993-1-1 or EN 1999-1-1'),
  beta: z.number().optional().describe('β of EN 1999-1-1, aluminium'),
  use: z
    .number()
    .describe(
      'Local buckling on the compressed side, 1 = at the limit; tension relieves it, and yield in tension is not in it',
    ),
  dent_N: z
    .strictObject({
      ellinas_walker: z.number().describe('After Ellinas & Walker 1983, N'),
      wierzbicki_suh: z.number().describe('After Wierzbicki & Suh 1988, N'),
    })
    .optional()
    .describe('Force of a point or edge from the side that leaves the dent: to rank tubes only'),
  outside: z.array(z.string()).describe('Why the published range does not hold; empty inside it'),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** Local buckling and denting of a thin tube. */
export const topic: CalcTopic<Input, Output> = {
  name: 'tube-buckling',
  meaning: 'local buckling of a thin tube under compression and bending, section class, force of a dent',
  method:
    'NASA SP-8007 knock-downs with the capacity curve of EN 1993-1-6, Brazier 1927; flat walls EN 1993-1-5; coefficients from memory. The member’s own column buckling is not in it',
  input,
  output,
  run(given) {
    const size = tubeOf(given);
    const { E_MPa: E, yield_MPa: fy, nu = 0.3, axial_N: axial = 0 } = given;
    return refusedAt({}, () => {
      const b = localBuckling(size, { E, nu, yield: fy });
      const p = tubeProperties(size, nu);
      const bending = bendingStress(p, (given.moment_width_Nm ?? 0) * 1000, (given.moment_height_Nm ?? 0) * 1000);
      const byStress = localBucklingUse(b, axial / p.area, bending);
      const flattened = Number.isNaN(b.brazierMoment) ? 0 : (bending * p.wz) / b.brazierMoment;
      const how = { heatTreated: given.heat_treated ?? true, welded: given.welded ?? false };
      const aluminium = given.family === 'aluminium' ? aluminiumTubeClass(size, fy, how) : undefined;
      const dent =
        given.dent_mm === undefined || size.shape !== 'round'
          ? undefined
          : { diameter: size.height, wall: size.wall, yield: fy, depth: given.dent_mm };
      const share = Math.min(Math.max(axial / (p.area * fy), -1), 1);
      return {
        slenderness: b.slenderness,
        classical_MPa: b.classical,
        axial_elastic_MPa: b.axialElastic,
        bending_elastic_MPa: b.bendingElastic,
        axial_strength_MPa: b.axialStrength,
        bending_strength_MPa: b.bendingStrength,
        brazier_moment_Nm: Number.isNaN(b.brazierMoment) ? null : b.brazierMoment / 1000,
        ...(given.family === 'steel' ? { section_class: steelTubeClass(size, fy) } : {}),
        ...(aluminium ? { section_class: aluminium.class, beta: aluminium.beta } : {}),
        use: Math.max(byStress, flattened),
        ...(dent
          ? {
              dent_N: {
                ellinas_walker: dentForceEllinasWalker(dent),
                wierzbicki_suh: dentForceWierzbickiSuh(dent, share),
              },
            }
          : {}),
        outside: [...b.outside],
      };
    });
  },
};
