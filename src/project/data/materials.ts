/**
 * Built-in materials, 20 °C. Units as the trade writes them: kg/m³, GPa, MPa.
 *
 * Every row says where its figures come from. `memory` rows are defaults from memory: shown to the user as such, with the
 * advice to put the supplier's certificate in their place. Strengths are minima unless `basis` says typical; heat-affected
 * values (`haz`) apply as welded, before any heat treatment. Welding, compression, fatigue of the bare metal and states of
 * plastics stand in material-strength.ts, by the same names.
 * Not here: welded details (details.ts), stock sizes (stock.ts), prices.
 */
import { type BareMetal, goodmanAmplitude } from '#kernel';
import { type PlasticState, STRENGTH, type StateValues, type StrengthData } from './material-strength.ts';

export interface Material extends StrengthData {
  readonly name: string;
  /** Other spellings under which it is found. */
  readonly also: readonly string[];
  readonly density_kgpm3: number;
  readonly E_GPa: number;
  readonly G_GPa: number;
  /** E/2G − 1; NaN where the material is not isotropic and the pair E, G says nothing about it. */
  readonly poisson: number;
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

const ANISOTROPIC: ReadonlySet<string> = new Set(['beech', 'CFRP UD']);

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
  ['6061-T6 drawn', ['6061-T6 tube'], 2700, 68.3, 26.2, 241, 290, 10, 115, 175, 'minimum', 'MIL-HDBK-5J, drawn tube (9.9 and 3.8 Msi, 35 and 42 ksi): ' + MEMORY + '; as welded by EN 1999-1-1 table 3.2b'],
  ['6061-T4', [], 2700, 70, 26.3, 110, 180, 15, 95, 150, 'minimum', 'EN 1999-1-1 table 3.2b; G as 6061-T6'],
  ['6063-T6', ['6063'], 2700, 70, 26.3, 160, 195, 8, 65, 110, 'minimum', 'EN 1999-1-1 table 3.2b (extruded, t ≤ 25 mm); G as 6061-T6'],
  ['6005A-T6', ['6005A'], 2700, 70, 26.3, 225, 270, 8, 115, 165, 'minimum', 'EN 1999-1-1 table 3.2b (t ≤ 5 mm, open profile); G as 6061-T6'],
  ['6082-T6', ['6082'], 2700, 70, 26.9, 250, 290, 8, 125, 185, 'minimum', MEMORY + ' (t ≤ 5 mm)'],
  ['7005-T6', ['7005', '7005-T53'], 2780, 71, 26.9, 290, 350, 10, 190, 235, 'minimum', MEMORY + '; welds age naturally (30 days) to 60-70 % of the parent: 65 % taken'],
  ['7020-T6', ['7020'], 2780, 70, 26.9, 280, 350, 10, 205, 280, 'minimum', MEMORY],
  ['7075-T6', ['7075'], 2810, 71.7, 26.9, 460, 530, 7, NONE, NONE, 'typical', MEMORY + '; not for welding'],
  ['2014-T6', ['2014'], 2800, 73, 28, 415, 470, 7, NONE, NONE, 'typical', MEMORY + '; forgings, not for welding'],
  ['A356-T6', ['A356', 'AlSi7Mg0.3-T6'], 2680, 72, 27, 165, 230, 3, NONE, NONE, 'typical', MEMORY + '; castings, porosity decides'],
  ['25CrMo4', ['4130', '25CrMo4-N', '1.7218'], 7830, 200, 75.8, 517, 655, 10, 414, 552, 'minimum', 'MIL-HDBK-5J: ' + MEMORY + ' (normalised, t ≤ 4.8 mm; beside a weld 80 of its 80-90 ksi, yield in proportion)'],
  ['25CrMo4+SR', ['4130 stress-relieved'], 7830, 200, 75.8, 586, 724, 10, 414, 552, 'typical', 'Tube supplier, typical (85 and 105 ksi); as welded as normalised, ' + MEMORY],
  ['25CrMo4-HT125', ['4130 HT-125'], 7830, 200, 75.8, 689, 862, 10, 414, 552, 'minimum', 'MMPDS-01 table 2.3.1.0, low-alloy steel of 125 ksi (yield 100); welded after heat treatment: as normalised, ' + MEMORY],
  ['25CrMo4-HT150', ['4130 HT-150'], 7830, 200, 75.8, 910, 1034, 8, 414, 552, 'minimum', 'MMPDS-01 table 2.3.1.0, low-alloy steel of 150 ksi (yield 132); welded after heat treatment: as normalised, ' + MEMORY],
  ['25CrMo4-HT180', ['4130 HT-180'], 7830, 200, 75.8, 1124, 1241, 8, 414, 552, 'minimum', 'MMPDS-01 table 2.3.1.0, low-alloy steel of 180 ksi (yield 163); welded after heat treatment: as normalised, ' + MEMORY],
  ['E235', ['E235+N'], 7850, 210, 81, 235, 340, 25, 235, 340, 'minimum', MEMORY + ' (EN 10305-1, normalised)'],
  ['E355', ['E355+N'], 7850, 210, 81, 355, 490, 22, 355, 490, 'minimum', MEMORY + ' (EN 10305-1, normalised)'],
  ['1020 HREW', ['1020'], 7850, 205, 80, 262, 359, 12, 262, 359, 'typical', 'Tube supplier, typical, resistance-welded (38 and 52 ksi)'],
  ['1020 DOM', [], 7850, 205, 80, 414, 483, 10, 262, 359, 'typical', 'Tube supplier, typical, drawn over mandrel (60 and 70 ksi); as welded as 1020 HREW, ' + MEMORY],
  ['S235', ['S235JR', 'mild steel'], 7850, 210, 81, 235, 360, 26, 235, 360, 'minimum', MEMORY],
  ['S355', ['S355J2'], 7850, 210, 81, 355, 470, 22, 355, 470, 'minimum', MEMORY],
  ['304', ['1.4301', 'stainless'], 7900, 200, 77, 210, 520, 45, 210, 520, 'minimum', MEMORY + ' (annealed)'],
  ['316L', ['1.4404'], 7980, 200, 77, 200, 500, 40, 200, 500, 'minimum', MEMORY + ' (annealed)'],
  ['17-4PH-H900', ['17-4PH', '1.4542'], 7800, 197, 77, 1170, 1310, 10, NONE, NONE, 'minimum', MEMORY + '; pins'],
  ['42CrMo4+QT', ['42CrMo4'], 7850, 210, 81, 900, 1100, 10, NONE, NONE, 'minimum', MEMORY + ' (d ≤ 16 mm); pins and axles'],
  ['Ti-3Al-2.5V', ['Ti-3Al-2.5V CWSR', 'titanium'], 4480, 107, 44, 724, 862, 10, 500, 620, 'typical', 'Supplier data for cold-worked, stress-relieved tube; welds as annealed'],
  ['Ti-3Al-2.5V annealed', [], 4480, 100, 44, 500, 620, 15, 500, 620, 'typical', 'Handbook data of annealed tube'],
  ['Ti-6Al-4V', [], 4430, 114, 44, 828, 895, 10, 786, 850, 'minimum', MEMORY + ' (annealed; welds 95 %)'],
  ['AZ91D', [], 1810, 45, 17, 150, 230, 3, NONE, NONE, 'typical', MEMORY + '; die casting, yields earlier in compression'],
  ['AZ61', [], 1800, 45, 17, 170, 278, 8, NONE, NONE, 'typical', 'Smithells Metals Reference Book (extruded tube), yields earlier in compression; density, E, G ' + MEMORY],
  ['AZ31', [], 1780, 45, 17, 162, 255, 11, NONE, NONE, 'typical', 'Smithells Metals Reference Book (extruded bar), yields much earlier in compression; density, E, G ' + MEMORY],
  ['PA66-GF30', ['nylon'], 1360, 7, 2.6, NONE, 125, 5, NONE, NONE, 'typical', MEMORY + ' (conditioned at 50 % RH); creeps to about 60 % of E in 1000 h'],
  ['POM', ['acetal'], 1410, 2.8, 1, 65, 65, 25, NONE, NONE, 'typical', MEMORY],
  ['CFRP quasi-isotropic', ['carbon'], 1580, 47, 17.5, NONE, 450, NONE, NONE, NONE, 'typical', MEMORY + '; design by strain, 0.3-0.4 %'],
  ['CFRP UD', [], 1580, 130, 4.75, NONE, 1000, NONE, NONE, NONE, 'typical', MEMORY + ' along the fibres (fibre share 0.6; compression, lower end); across them E 8-9 GPa; design by strain, 0.3-0.4 %'],
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
    poisson: ANISOTROPIC.has(name) ? NONE : E_GPa / (2 * G_GPa) - 1,
    ...strengthOf(name),
  }),
);

function strengthOf(name: string): StrengthData {
  const found = STRENGTH[name];
  if (!found) throw new Error(`material-strength.ts has no row for ${name}`);
  return found;
}

const byName = new Map<string, Material>();
for (const m of MATERIALS) for (const name of [m.name, ...m.also]) byName.set(name.toLowerCase(), m);

/** The material of that name or alias, in any case; undefined when there is none. */
export const findMaterial = (name: string): Material | undefined => byName.get(name.trim().toLowerCase());
/** Proper names, for hints. */
export const materialNames = (): readonly string[] => MATERIALS.map((m) => m.name);

/**
 * The material in that state: E and strength as listed, G in proportion to E. The material itself where it lists no such
 * state, or none is asked for.
 */
export function materialIn(material: Material, state?: string): Material {
  const values = state === undefined ? undefined : stateOf(material, state);
  if (!values) return material;
  const { E_GPa, ultimate_MPa, source } = values;
  return {
    ...material,
    E_GPa,
    G_GPa: (material.G_GPa * E_GPa) / material.E_GPa,
    // Plastics without a yield point keep none; the others yield at the strength listed.
    yield_MPa: Number.isNaN(material.yield_MPa) ? NONE : ultimate_MPa,
    ultimate_MPa,
    source: `${source} (${state})`,
  };
}
const stateOf = (material: Material, state: string): StateValues | undefined =>
  material.states && Object.hasOwn(material.states, state) ? material.states[state as PlasticState] : undefined;

/** Fatigue strength of the bare material as fully reversed amplitude; by Goodman's line where the test was not reversed. */
export function bareMetal({ fatigue, ultimate_MPa: ultimate }: Material): BareMetal | undefined {
  if (!fatigue) return undefined;
  const { amplitude_MPa, cycles, R } = fatigue;
  const mean = R === -1 ? 0 : (amplitude_MPa * (1 + R)) / (1 - R);
  const swing = { max: mean + amplitude_MPa, min: mean - amplitude_MPa };
  return { ultimate, amplitude: goodmanAmplitude(swing, ultimate), cycles };
}
