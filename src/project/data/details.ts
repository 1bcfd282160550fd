/**
 * Fatigue details of a frame and their categories: MPa of stress range at 2·10⁶ cycles, first slope, code.
 *
 * A detail is one place of a joint; a candidate's tube may name it (`detail: tube side fillet`), else `usualDetail` picks one
 * from the material's family and from how the tube ends. Each family of materials has its own class. Which stress a
 * class goes with is part of the detail: nominal stress of the tube, hot-spot stress (kernel: teeHotSpotFactors), stress
 * over the weld's throat, or shear.
 *
 * Standing: all figures are from memory unless marked `seen`. Check them against the edition that you bought. `no code` rows
 * are estimates of this table: titanium takes the steel class times the ratio of the moduli, 0.5, because cracks grow with
 * ΔK/E; brazed, bonded and drilled rows say how they were estimated.
 * `leastWall_mm` is where the codes' test base begins. Bicycle walls lie under it nearly always: the classes rank details.
 * Not here: the curves (kernel: fatigueCurve), calibration by a tested frame.
 */
import type { FatigueCurveSpec } from '#kernel';
import type { FatigueFamily } from './material-strength.ts';

export type DetailStress = 'nominal' | 'hot-spot' | 'throat' | 'shear';
export interface DetailClass {
  /** For `fatigueCurve`. Rows without a code use a code's shape of curve. */
  readonly curve: FatigueCurveSpec;
  /** Where the figure comes from. */
  readonly source: string;
  readonly standing: 'seen' | 'memory' | 'no code';
  /** Thinnest wall of the code's test base, mm; NaN where no code stands behind the row. */
  readonly leastWall_mm: number;
}
export interface Detail {
  readonly name: string;
  /** What it is and where it applies. */
  readonly meaning: string;
  readonly stress: DetailStress;
  readonly classes: Readonly<Partial<Record<FatigueFamily, DetailClass>>>;
}

const MEMORY = 'from memory';
const leastWall = { 'EN1993-1-9': 4, IIW: 4, 'EN1999-1-3': 3 } as const;

const cls = (
  code: FatigueCurveSpec['code'],
  category: number,
  slope: number,
  table: string,
  extra: Pick<FatigueCurveSpec, 'stress'> = {},
  standing: DetailClass['standing'] = 'memory',
): DetailClass => ({
  curve: { code, category, slope, ...extra },
  source: standing === 'memory' ? `${table}, ${MEMORY}` : table,
  standing,
  leastWall_mm: leastWall[code],
});
const ec3 = (category: number, table: string, slope = 3): DetailClass => cls('EN1993-1-9', category, slope, table);
const ec9 = (category: number, slope: number, table: string): DetailClass => cls('EN1999-1-3', category, slope, table);
const iiw = (category: number, slope = 3, of = 'structural details'): DetailClass =>
  cls('IIW', category, slope, `IIW-1823-07, ${of}`);
/** No code: shape of the IIW curve, category estimated as said. */
const estimate = (category: number, how: string, slope = 3): DetailClass => ({
  curve: { code: 'IIW', category, slope },
  source: `no code; ${how}, ${MEMORY}`,
  standing: 'no code',
  leastWall_mm: Number.NaN,
});
/** Titanium from a steel category. */
const ti = (steel: number, slope = 3): DetailClass =>
  estimate(Math.round(steel / 2), `half the steel class ${steel} (ratio of the moduli)`, slope);
const bond = estimate(6, 'mean shear of a structural epoxy joint', 8);

export const DETAILS: readonly Detail[] = [
  {
    name: 'tube side fillet',
    meaning:
      'Round tube welded to the side of another one, toe of the weld, hot-spot stress by the factors of tube joints',
    stress: 'hot-spot',
    classes: {
      'steel-weld': iiw(90, 3, 'hot-spot stress, load-carrying fillet'),
      'aluminium-weld': iiw(36, 3, 'hot-spot stress, load-carrying fillet'),
      'titanium-weld': ti(90),
    },
  },
  {
    name: 'tube side nominal',
    meaning: 'The same, or an oval or rectangular tube, in nominal stress: cruciform or T joint, toe of the fillet',
    stress: 'nominal',
    classes: { 'steel-weld': iiw(63), 'aluminium-weld': iiw(22), 'titanium-weld': ti(63) },
  },
  {
    name: 'fillet root',
    meaning: 'Root of a load-carrying fillet that does not penetrate, stress over the throat',
    stress: 'throat',
    classes: { 'steel-weld': iiw(36), 'aluminium-weld': iiw(12), 'titanium-weld': ti(36) },
  },
  {
    name: 'tube butt plate',
    meaning: 'Round tube butt-welded to a plate or to a hinge face, full penetration, wall under 8 mm',
    stress: 'nominal',
    classes: { 'steel-weld': iiw(50), 'aluminium-weld': iiw(20), 'titanium-weld': ti(50) },
  },
  {
    name: 'tube fillet plate',
    meaning: 'Round tube fillet-welded to a plate or to a hinge face, root, wall under 8 mm',
    stress: 'nominal',
    classes: { 'steel-weld': iiw(40), 'aluminium-weld': iiw(14), 'titanium-weld': ti(40) },
  },
  {
    name: 'box fillet plate',
    meaning: 'Rectangular tube fillet-welded to a plate or to a hinge face, root, wall under 8 mm',
    stress: 'nominal',
    classes: { 'steel-weld': iiw(36), 'aluminium-weld': iiw(14), 'titanium-weld': ti(36) },
  },
  {
    name: 'tube butt',
    meaning: 'Round tubes butt-welded end to end from outside',
    stress: 'nominal',
    classes: {
      'steel-weld': ec3(71, 'EN 1993-1-9 table 8.6'),
      'aluminium-weld': ec9(28, 3.4, 'EN 1999-1-3 annex J, tubes, lower end'),
      'titanium-weld': ti(71),
    },
  },
  {
    name: 'box butt',
    meaning: 'Rectangular tubes butt-welded end to end from outside',
    stress: 'nominal',
    classes: {
      'steel-weld': ec3(56, 'EN 1993-1-9 table 8.6'),
      'aluminium-weld': ec9(25, 3.4, 'EN 1999-1-3 annex J, lower than round tubes'),
      'titanium-weld': ti(56),
    },
  },
  {
    name: 'slotted dropout',
    meaning: 'Tube flattened or slotted over a plate (dropout) and welded; 71 for slots tapered under 45°',
    stress: 'nominal',
    classes: {
      'steel-weld': ec3(63, 'EN 1993-1-9 table 8.6, taper over 45°'),
      'aluminium-weld': ec9(18, 3.4, 'EN 1999-1-3 annex J, attachments, lowest'),
      'titanium-weld': ti(63),
    },
  },
  {
    name: 'lug fillet',
    meaning: 'Lug, hinge plate or dropout attached by load-carrying fillets, toe',
    stress: 'nominal',
    classes: { 'steel-weld': iiw(63), 'aluminium-weld': iiw(22), 'titanium-weld': ti(63) },
  },
  {
    name: 'gusset end',
    meaning: 'End of a gusset or long plate welded along a tube, 150 to 300 mm',
    stress: 'nominal',
    classes: { 'steel-weld': iiw(63), 'aluminium-weld': iiw(20), 'titanium-weld': ti(63) },
  },
  {
    name: 'boss fillet',
    meaning: 'Small attachment that bears no load: cable stop, boss, bracket under 100 mm',
    stress: 'nominal',
    classes: {
      'steel-weld': ec3(71, 'EN 1993-1-9 table 8.6'),
      'aluminium-weld': ec9(23, 3.4, 'EN 1999-1-3 annex J, attachments, of 18-36'),
      'titanium-weld': ti(71),
    },
  },
  {
    name: 'seam',
    meaning: 'Along the automatic longitudinal seam of a welded tube',
    stress: 'nominal',
    classes: {
      'steel-weld': ec3(125, 'EN 1993-1-9, continuous automatic seam, 125-140'),
      'aluminium-weld': iiw(50, 3, 'longitudinal automatic butt weld'),
      'titanium-weld': ti(125),
    },
  },
  {
    name: 'through hole',
    meaning: 'Hole drilled through a tube (bolt, cable, bottle boss), stress on the net section',
    stress: 'nominal',
    classes: {
      'steel-weld': ec3(90, 'EN 1993-1-9, plate with holes, net section'),
      'aluminium-weld': estimate(40, 'bare metal 70 in the ratio that steel has, 90 to 160'),
      'titanium-weld': estimate(90, 'as steel: a notch without a weld', 3),
    },
  },
  {
    name: 'machined',
    meaning: 'Machined part without welds, edges rounded, stress at the notch',
    stress: 'nominal',
    classes: {
      'steel-weld': ec3(125, 'EN 1993-1-9, machine-cut edges'),
      'aluminium-weld': ec9(80, 7, 'EN 1999-1-3 annex J, bare 6xxx, lower end'),
      'titanium-weld': estimate(125, 'as steel: bare metal'),
    },
  },
  {
    name: 'parent',
    meaning: 'Tube wall away from welds and holes',
    stress: 'nominal',
    classes: {
      'steel-weld': cls(
        'IIW',
        160,
        5,
        'IIW-1823-07 as quoted by FITNET Fitness-for-Service Procedure, annex G',
        {},
        'seen',
      ),
      'aluminium-weld': cls(
        'IIW',
        70,
        5,
        'IIW-1823-07 as quoted by FITNET Fitness-for-Service Procedure, annex G (5000 and 6000; 80 for 7000)',
        {},
        'seen',
      ),
      'titanium-weld': estimate(160, 'as steel: bare metal', 5),
    },
  },
  {
    name: 'weld shear',
    meaning: 'Shear over the throat of a fillet',
    stress: 'shear',
    classes: {
      'steel-weld': cls('EN1993-1-9', 80, 5, 'EN 1993-1-9 table 8.5', { stress: 'shear' }),
      'aluminium-weld': cls('IIW', 28, 5, 'IIW-1823-07, shear over the throat', { stress: 'shear' }),
    },
  },
  {
    name: 'brazed lug',
    meaning: 'Tube brazed into a lug, or fillet-brazed, at the edge of the lug',
    stress: 'nominal',
    classes: { 'steel-weld': estimate(80, 'between a welded attachment (71) and a bare hole (90)') },
  },
  {
    name: 'bonded lug',
    meaning: 'Tube bonded into a socket: mean shear over the bond',
    stress: 'shear',
    classes: { 'steel-weld': bond, 'aluminium-weld': bond, 'titanium-weld': bond, none: bond },
  },
];

const byName = new Map(DETAILS.map((d) => [d.name, d]));

/** The detail of that name, in any case; undefined when there is none. */
export const findDetail = (name: string): Detail | undefined => byName.get(name.trim().toLowerCase());
export const detailNames = (): readonly string[] => DETAILS.map((d) => d.name);
/** Names of the details that this family of materials has a class for. */
export const detailsFor = (family: FatigueFamily): readonly string[] =>
  DETAILS.filter((d) => d.classes[family]).map((d) => d.name);

/**
 * The detail that a tube's end is ranked by when its file names none: a weld on a tube's side (round tubes by hot-spot
 * stress, others by nominal stress), on a plate or hinge face (the arc goes through walls as thin as these: common practice, no source), or, unwelded, the bare wall.
 */
export function usualDetail(end: {
  readonly welded: boolean;
  readonly round: boolean;
  readonly onto: 'tube side' | 'plate';
}): Detail {
  const name = !end.welded
    ? 'parent'
    : end.onto === 'tube side'
      ? end.round
        ? 'tube side fillet'
        : 'tube side nominal'
      : end.round
        ? 'tube butt plate'
        : 'box fillet plate';
  return byName.get(name)!;
}
