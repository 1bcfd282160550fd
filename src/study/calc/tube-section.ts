import { z } from 'zod';
import { massPerMetre, memberMass, type TubeSize, tubeProperties } from '#kernel';
import { CalcRefusal, type CalcTopic } from './topic.ts';
import { tubeKeys, tubeOf } from './tube-input.ts';

const { shape: _, ...endKeys } = tubeKeys;
const input = z.strictObject({
  ...tubeKeys,
  end: z
    .strictObject(endKeys)
    .optional()
    .describe('The far end of a tapered tube, same shape; outside and wall vary evenly along the tube'),
  length_mm: z.number().positive().optional().describe('Length, mm; for the mass'),
  E_MPa: z.number().positive().optional().describe('Young’s modulus, MPa; for the stiffnesses'),
  G_MPa: z.number().positive().optional().describe('Shear modulus, MPa; E/(2(1 + ν)) if absent'),
  nu: z
    .number()
    .gt(-1)
    .max(0.5)
    .optional()
    .describe('Poisson’s ratio; from E and G where both are given, else 0.3. Shear areas depend on it'),
  density_kgm3: z.number().positive().optional().describe('Density, kg/m³; for the mass'),
});

const section = {
  A_mm2: z.number().describe('Area, mm²'),
  Iy_mm4: z.number().describe('Second moment that resists bending in the direction of the width, mm⁴'),
  Iz_mm4: z.number().describe('Second moment that resists bending in the direction of the height, mm⁴'),
  J_mm4: z.number().describe('Torsion constant, mm⁴'),
  shear_area_y_mm2: z.number().describe('Shear area for a force along the height, mm²'),
  shear_area_z_mm2: z.number().describe('Shear area for a force along the width, mm²'),
  Wy_mm3: z.number().describe('Elastic modulus to Iy, mm³'),
  Wz_mm3: z.number().describe('Elastic modulus to Iz, mm³'),
  Wt_mm3: z.number().describe('Torsion modulus, torque over largest shear stress, mm³'),
  Zy_mm3: z.number().describe('Plastic modulus to Iy, mm³'),
  Zz_mm3: z.number().describe('Plastic modulus to Iz, mm³'),
  ry_mm: z.number().describe('Radius of gyration to Iy, mm'),
  rz_mm: z.number().describe('Radius of gyration to Iz, mm'),
  mass_kgpm: z.number().optional().describe('Mass per metre, kg/m'),
  EA_N: z.number().optional().describe('Stiffness along, N'),
  EIy_Nmm2: z.number().optional().describe('Bending stiffness in the direction of the width, N·mm²'),
  EIz_Nmm2: z.number().optional().describe('Bending stiffness in the direction of the height, N·mm²'),
  GJ_Nmm2: z.number().optional().describe('Torsional stiffness, N·mm²'),
};
const output = z.strictObject({
  ...section,
  end: z.strictObject(section).optional().describe('The far end'),
  mass_kg: z.number().optional().describe('Mass of the whole length, kg'),
});
type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;

/** Poisson's ratio and shear modulus from what is given. @throws CalcRefusal where E and G contradict each other or ν. */
function elasticity(given: Input): { readonly nu: number; readonly G: number | undefined } {
  const { E_MPa: E, G_MPa: G } = given;
  if (E === undefined || G === undefined) {
    const nu = given.nu ?? 0.3;
    return { nu, G: G ?? (E === undefined ? undefined : E / (2 * (1 + nu))) };
  }
  const nu = E / (2 * G) - 1;
  if (given.nu === undefined && !(nu > -1 && nu <= 0.5))
    throw new CalcRefusal(`E and G make ν ${nu.toFixed(3)}; give nu if the material is not isotropic`, 'G_MPa');
  return { nu: given.nu ?? nu, G };
}

/** Section properties of a tube or bar. */
export const topic: CalcTopic<Input, Output> = {
  name: 'tube-section',
  meaning: 'area, second moments, torsion, shear areas and moduli of a round, oval or rectangular tube or bar',
  method:
    'Closed forms; torsion Bredt and Saint-Venant (EN 10210-2 with sharp corners), shear areas Cowper 1966. Keys as in calc frame: local y along the height',
  input,
  output,
  run(given) {
    const size = tubeOf(given);
    const far = given.end && tubeOf(given.end, 'end', size.shape);
    const { nu, G } = elasticity(given);
    const told = (s: TubeSize): z.infer<z.ZodObject<typeof section>> => {
      const p = tubeProperties(s, nu);
      return {
        A_mm2: p.area,
        Iy_mm4: p.iy,
        Iz_mm4: p.iz,
        J_mm4: p.j,
        shear_area_y_mm2: p.asy,
        shear_area_z_mm2: p.asz,
        Wy_mm3: p.wy,
        Wz_mm3: p.wz,
        Wt_mm3: p.wt,
        Zy_mm3: p.zy,
        Zz_mm3: p.zz,
        ry_mm: p.ry,
        rz_mm: p.rz,
        ...(given.density_kgm3 === undefined ? {} : { mass_kgpm: massPerMetre(p.area, given.density_kgm3) }),
        ...(given.E_MPa === undefined
          ? {}
          : { EA_N: given.E_MPa * p.area, EIy_Nmm2: given.E_MPa * p.iy, EIz_Nmm2: given.E_MPa * p.iz }),
        ...(G === undefined ? {} : { GJ_Nmm2: G * p.j }),
      };
    };
    const { density_kgm3: density, length_mm: length } = given;
    return {
      ...told(size),
      ...(far ? { end: told(far) } : {}),
      ...(density === undefined || length === undefined ? {} : { mass_kg: massOf(size, far, length, density) }),
    };
  },
};

/** Exact for even taper, by the same quadrature as every tube's mass; mm³·kg/m³ → kg. */
function massOf(size: TubeSize, far: TubeSize | undefined, length: number, density: number): number {
  const end = far ? { endHeight: far.height, endWidth: far.width, endWall: far.wall } : {};
  const path = [
    [0, 0, 0],
    [length, 0, 0],
  ] as const;
  return memberMass({ ...size, ...end }, path, 0, density * 1e-9).mass;
}
