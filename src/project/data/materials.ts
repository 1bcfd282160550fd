/**
 * Built-in materials, 20 °C. Units as the trade writes them: kg/m³, GPa, MPa.
 *
 * Every row says where its figures come from. `memory` rows are defaults from memory: shown to the user as such, with the
 * advice to put the supplier's certificate in their place. Strengths are minima unless `basis` says typical; heat-affected
 * values (`haz`) apply as welded, before any heat treatment.
 * Not here: fatigue lines and prices.
 */

export interface Material {
  readonly name: string;
  /** Other spellings under which it is found. */
  readonly also: readonly string[];
  readonly density_kgpm3: number;
  readonly E_GPa: number;
  readonly G_GPa: number;
  /** Proof or yield strength and ultimate strength; NaN where the material has no such figure. */
  readonly yield_MPa: number;
  readonly ultimate_MPa: number;
  /** Elongation at break, %; NaN if not given. */
  readonly elongation_percent: number;
  /** As welded; NaN where welding leaves no known figure or is not done. */
  readonly hazYield_MPa: number;
  readonly hazUltimate_MPa: number;
  readonly basis: 'minimum' | 'typical';
  readonly source: string;
}

const MEMORY = 'default, from memory';
const NONE = Number.NaN;

type Row = [
  name: string,
  also: string[],
  density: number,
  E: number,
  G: number,
  yieldStrength: number,
  ultimate: number,
  elongation: number,
  hazYield: number,
  hazUltimate: number,
  basis: 'minimum' | 'typical',
  source: string,
];

// biome-ignore format: a table reads best with one material a line
const ROWS: readonly Row[] = [
  ['6061-T6', ['6061', 'AW-6061-T6'], 2700, 70, 26.3, 240, 260, 8, 115, 175, 'minimum', 'EN 1999-1-1 table 3.2b (extruded, t ≤ 20 mm); G from supplier data'],
  ['6061-T4', [], 2700, 70, 26.3, 110, 180, 15, 95, 150, 'minimum', 'EN 1999-1-1 table 3.2b; G as 6061-T6'],
  ['6063-T6', ['6063'], 2700, 70, 26.3, 160, 195, 8, 65, 110, 'minimum', 'EN 1999-1-1 table 3.2b (extruded, t ≤ 25 mm); G as 6061-T6'],
  ['6005A-T6', ['6005A'], 2700, 70, 26.3, 225, 270, 8, 115, 165, 'minimum', 'EN 1999-1-1 table 3.2b (t ≤ 5 mm, open profile); G as 6061-T6'],
  ['6082-T6', ['6082'], 2700, 70, 26.9, 250, 290, 8, 125, 185, 'minimum', MEMORY + ' (t ≤ 5 mm)'],
  ['7005-T6', ['7005', '7005-T53'], 2780, 71, 26.9, 290, 350, 10, NONE, NONE, 'minimum', MEMORY + '; welds age naturally to roughly 60-70 % of the parent'],
  ['7020-T6', ['7020'], 2780, 70, 26.9, 280, 350, 10, 205, 280, 'minimum', MEMORY],
  ['7075-T6', ['7075'], 2810, 71.7, 26.9, 460, 530, 7, NONE, NONE, 'typical', MEMORY + '; not for welding'],
  ['2014-T6', ['2014'], 2800, 73, 28, 415, 470, 7, NONE, NONE, 'typical', MEMORY + '; forgings, not for welding'],
  ['A356-T6', ['A356', 'AlSi7Mg0.3-T6'], 2680, 72, 27, 165, 230, 3, NONE, NONE, 'typical', MEMORY + '; castings, porosity decides'],
  ['25CrMo4', ['4130', '25CrMo4-N', '1.7218'], 7830, 200, 75.8, 517, 655, 10, NONE, NONE, 'minimum', MEMORY + ' (normalised, t ≤ 4.8 mm)'],
  ['E235', ['E235+N'], 7850, 210, 81, 235, 340, 25, 235, 340, 'minimum', MEMORY + ' (EN 10305-1, normalised)'],
  ['E355', ['E355+N'], 7850, 210, 81, 355, 490, 22, 355, 490, 'minimum', MEMORY + ' (EN 10305-1, normalised)'],
  ['S235', ['S235JR', 'mild steel'], 7850, 210, 81, 235, 360, 26, 235, 360, 'minimum', MEMORY],
  ['S355', ['S355J2'], 7850, 210, 81, 355, 470, 22, 355, 470, 'minimum', MEMORY],
  ['304', ['1.4301', 'stainless'], 7900, 200, 77, 210, 520, 45, 210, 520, 'minimum', MEMORY + ' (annealed)'],
  ['316L', ['1.4404'], 7980, 200, 77, 200, 500, 40, 200, 500, 'minimum', MEMORY + ' (annealed)'],
  ['17-4PH-H900', ['17-4PH', '1.4542'], 7800, 197, 77, 1170, 1310, 10, NONE, NONE, 'minimum', MEMORY + '; pins'],
  ['42CrMo4+QT', ['42CrMo4'], 7850, 210, 81, 900, 1100, 10, NONE, NONE, 'minimum', MEMORY + ' (d ≤ 16 mm); pins and axles'],
  ['Ti-3Al-2.5V', ['Ti-3Al-2.5V CWSR', 'titanium'], 4480, 107, 44, 724, 862, 10, 500, 620, 'typical', 'Supplier data for cold-worked, stress-relieved tube; welds as annealed'],
  ['Ti-6Al-4V', [], 4430, 114, 44, 828, 895, 10, NONE, NONE, 'minimum', MEMORY + ' (annealed)'],
  ['AZ91D', [], 1810, 45, 17, 150, 230, 3, NONE, NONE, 'typical', MEMORY + '; die casting, yields earlier in compression'],
  ['PA66-GF30', ['nylon'], 1360, 7, 2.6, NONE, 125, 5, NONE, NONE, 'typical', MEMORY + ' (conditioned at 50 % RH); creeps to about 60 % of E in 1000 h'],
  ['POM', ['acetal'], 1410, 2.8, 1, 65, 65, 25, NONE, NONE, 'typical', MEMORY],
  ['CFRP quasi-isotropic', ['carbon'], 1580, 47, 17.5, NONE, 450, NONE, NONE, NONE, 'typical', MEMORY + '; design by strain, 0.3-0.4 %'],
  ['beech', ['wood'], 720, 12, 0.8, NONE, 90, NONE, NONE, NONE, 'typical', MEMORY + '; rod models'],
];

export const MATERIALS: readonly Material[] = ROWS.map(
  ([
    name,
    also,
    density_kgpm3,
    E_GPa,
    G_GPa,
    yield_MPa,
    ultimate_MPa,
    elongation_percent,
    hazY,
    hazU,
    basis,
    source,
  ]) => ({
    name,
    also,
    density_kgpm3,
    E_GPa,
    G_GPa,
    yield_MPa,
    ultimate_MPa,
    elongation_percent,
    hazYield_MPa: hazY,
    hazUltimate_MPa: hazU,
    basis,
    source,
  }),
);

const byName = new Map<string, Material>();
for (const m of MATERIALS) for (const name of [m.name, ...m.also]) byName.set(name.toLowerCase(), m);

/** The material of that name or alias, in any case; undefined when there is none. */
export const findMaterial = (name: string): Material | undefined => byName.get(name.trim().toLowerCase());
/** Proper names, for hints. */
export const materialNames = (): readonly string[] => MATERIALS.map((m) => m.name);
