/**
 * The figures of every load case: forces, distances, masses, cycles, limits. The one table from which briefs are checked,
 * cases computed and sheets written.
 *
 * Values stand in the unit beside them (N, mm, kg, km/h, deg, N/mm; '1' for plain numbers); a case receives them so.
 * `standing`: `found` = read in the source named; `memory` = recalled, to be checked against the standard that you bought.
 * Four values are the columns of ISO 4210: city and trekking, young adult, mountain, racing. Sources seen: TBIS 4210-x and
 * 15194 (Taiwan bicycle industry standards, whose text is that of the ISO or EN part of the same number); where TBIS
 * asks for more than ISO, ISO's figure stands here from memory. Not here: which demand a brief makes of a case.
 */
export const BIKE_CLASSES = ['city', 'young', 'mountain', 'racing'] as const;
export type BikeClass = (typeof BIKE_CLASSES)[number];

export interface CaseFigure {
  readonly key: string;
  readonly unit: 'N' | 'J' | 'mm' | 'kg' | 'deg' | 'km/h' | 'km' | 'N/mm' | '1';
  readonly value: number | readonly [city: number, young: number, mountain: number, racing: number];
  /** What an edited value may be, both ends included. */
  readonly range: readonly [least: number, most: number];
  readonly meaning: string;
  readonly source: string;
  readonly standing: 'found' | 'memory';
}

/** Printed beside every figure of a standard that stands here from memory. */
export const CHECK_THE_STANDARD = 'from memory: check against the standard you bought';

type Row = readonly [
  key: string,
  unit: CaseFigure['unit'],
  value: CaseFigure['value'],
  range: CaseFigure['range'],
  meaning: string,
  source: string,
  standing: CaseFigure['standing'],
];
const rows = (...list: readonly Row[]): readonly CaseFigure[] =>
  list.map(([key, unit, value, range, meaning, source, standing]) => ({
    key,
    unit,
    value,
    range,
    meaning,
    source,
    standing,
  }));

const ISO6 = 'ISO 4210-6';
const ISO5 = 'ISO 4210-5';
const ISO9 = 'ISO 4210-9';
const OURS = 'default';
const FORCE = [0, 20_000] as const;
const REACH = [0, 2000] as const;
const DROP = [0, 2000] as const;
const CYCLES = [1, 1e9] as const;
const FACTOR = [0, 5] as const;
const SHARE = [0, 1] as const;
const STRIKER: Row = ['striker', 'kg', 22.5, [0, 200], 'mass of the striker', `${ISO6} (2014)`, 'memory'];
const BAR_END: Row = [
  'inset',
  'mm',
  50,
  [0, 300],
  'distance of the load from the end of the bar',
  `${ISO5} as TBIS 4210-5 p. 18–19`,
  'found',
];
const HEAD_REFERENCE = 'reference force; results are scaled to the energy';

/** Figures by case. */
export const CASE_FIGURES = {
  falling_mass: rows(
    STRIKER,
    ['drop', 'mm', [180, 180, 360, 212], DROP, 'height of fall', ISO6, 'memory'],
    [
      'set_limit',
      'mm',
      30,
      [0, 500],
      'greatest permanent change of the wheelbase with the bicycle’s own fork (dummy fork: 10)',
      'EN 15194 as TBIS 15194 p. 59',
      'found',
    ],
    ['reference', 'N', 1000, [1, 1e5], HEAD_REFERENCE, OURS, 'memory'],
  ),
  falling_frame: rows(
    ['drop', 'mm', [200, 200, 300, 200], DROP, 'height of the front roller above the anvil', ISO6, 'memory'],
    ['mass_seat', 'kg', [50, 40, 30, 30], [0, 200], 'mass on the seat post', ISO6, 'memory'],
    ['mass_head', 'kg', [10, 10, 10, 10], [0, 200], 'mass on the steering head', ISO6, 'memory'],
    [
      'mass_crank',
      'kg',
      [30, 20, 50, 50],
      [0, 200],
      'mass on the bottom bracket (a maker prints 80 kg in all for mountain)',
      ISO6,
      'memory',
    ],
    [
      'seat_offset',
      'mm',
      75,
      [0, 500],
      'centre of the seat mass along the post from where the post enters the frame',
      `${ISO6} as TBIS 4210-6 p. 12`,
      'found',
    ],
    ['drops', '1', 2, [1, 10], 'number of drops', `${ISO6} as TBIS 4210-6 p. 14`, 'found'],
    [
      'set_limit',
      'mm',
      [60, 60, 60, 15],
      [0, 500],
      'greatest permanent change of the wheelbase',
      'EN 15194 as TBIS 15194 p. 62, table 11',
      'found',
    ],
    [
      'reference',
      'N',
      1000,
      [1, 1e5],
      'reference force at the anvil; results are scaled to the energy',
      OURS,
      'memory',
    ],
  ),
  pedalling: rows(
    ['force', 'N', [1000, 1000, 1200, 1100], FORCE, 'force on each pedal, in turn', ISO6, 'memory'],
    ['crank', 'mm', 175, [50, 300], 'length of the test cranks', 'EPAC rule of Korea; ISO 4210-6', 'found'],
    [
      'crank_angle',
      'deg',
      45,
      [0, 90],
      'both cranks forward and down from level',
      `${ISO6} as TBIS 4210-6 p. 15`,
      'found',
    ],
    [
      'pedal_out',
      'mm',
      150,
      [50, 300],
      'distance of the force from the mid-plane',
      'EPAC rule of Korea; ISO 4210-6',
      'found',
    ],
    [
      'tilt',
      'deg',
      7.5,
      [0, 30],
      'tilt of the force across the bicycle; its sense is run both ways',
      'EPAC rule of Korea; ISO 4210-6',
      'found',
    ],
    [
      'rod_arm',
      'mm',
      75,
      [20, 200],
      'vertical arm of the tie rod that stands for the chain',
      'EPAC rule of Korea; ISO 4210-6',
      'found',
    ],
    ['cycles', '1', 100_000, CYCLES, 'test cycles, each a right and a left stroke', ISO6, 'memory'],
  ),
  horizontal: rows(
    ['forward', 'N', [450, 450, 1200, 600], FORCE, 'forward force at the front axle', ISO6, 'memory'],
    ['rearward', 'N', [450, 450, 600, 600], FORCE, 'rearward force at the front axle', ISO6, 'memory'],
    ['cycles', '1', [100_000, 100_000, 50_000, 100_000], CYCLES, 'test cycles', ISO6, 'memory'],
  ),
  vertical: rows(
    ['force', 'N', [1000, 500, 1200, 1200], FORCE, 'downward force behind the post', ISO6, 'memory'],
    [
      'behind',
      'mm',
      70,
      REACH,
      'distance of the force behind the saddle clamp',
      'ISO 4210-6 as TBIS 79010 p. 36–37',
      'found',
    ],
    ['cycles', '1', 50_000, CYCLES, 'test cycles', ISO6, 'memory'],
  ),
  frontal_impact: rows(
    ['force', 'N', 890, FORCE, 'rearward force at the fork’s axle', '16 CFR 1512.14', 'found'],
    ['energy', 'J', 39.5, [0, 1000], 'energy; whichever gives the greater force counts', '16 CFR 1512.14', 'found'],
  ),
  fork_bending: rows(
    ['force', 'N', [1000, 1000, 1500, 1200], FORCE, 'force at the axle, square to the steerer', ISO6, 'memory'],
    [
      'set_limit',
      'mm',
      10,
      [0, 200],
      'greatest permanent set at the axle',
      'EN 15194 as TBIS 15194 p. 72; ASTM F2899',
      'found',
    ],
  ),
  fork_fatigue: rows(
    [
      'force',
      'N',
      [450, 450, 650, 620],
      FORCE,
      'forward and rearward force at the axle (racing: also ASTM F2899)',
      ISO6,
      'memory',
    ],
    ['cycles', '1', 100_000, CYCLES, 'test cycles, fully reversed', ISO6, 'memory'],
  ),
  fork_impact: rows(
    STRIKER,
    [
      'drop',
      'mm',
      [180, 180, 360, 360],
      DROP,
      'height of fall, metal fork (with composite parts: 320, 320, 600, 640)',
      ISO6,
      'memory',
    ],
    [
      'set_limit',
      'mm',
      45,
      [0, 500],
      'greatest permanent set at the axle',
      'EN 15194 as TBIS 15194 p. 77; ASTM F2899',
      'found',
    ],
    ['reference', 'N', 1000, [1, 1e5], HEAD_REFERENCE, OURS, 'memory'],
  ),
  bar_lateral: rows(
    [
      'force',
      'N',
      [600, 600, 1000, 1000],
      FORCE,
      'force near one end of the bar, along the steering axis',
      `${ISO5} as TBIS 4210-5 p. 9, table 2`,
      'found',
    ],
    BAR_END,
    ['set_limit', 'mm', 15, [0, 200], 'greatest permanent set at the load', 'EN 15194 as TBIS 15194 p. 50', 'found'],
  ),
  bar_forward: rows(
    [
      'force',
      'N',
      [1600, 1600, 1600, 1600],
      FORCE,
      'first stage: force at the bar’s clamp',
      `${ISO5} as TBIS 4210-5 p. 11, table 3`,
      'found',
    ],
    [
      'force_2',
      'N',
      [2000, 2000, 2600, 2300],
      FORCE,
      'second stage: this force or 50 mm of deflection, no fracture',
      `${ISO5} as TBIS 4210-5 p. 13, table 3`,
      'found',
    ],
    ['angle', 'deg', 45, [0, 90], 'forward and down, from the steering axis', `${ISO5} as TBIS 4210-5 p. 11`, 'found'],
    ['set_limit', 'mm', 10, [0, 200], 'greatest permanent set after the first stage', ISO5, 'memory'],
  ),
  stem_lateral: rows(
    [
      'force',
      'N',
      [600, 600, 1000, 1000],
      FORCE,
      'force on a test bar, along the steering axis',
      `${ISO5} as TBIS 4210-5 p. 9, table 1`,
      'found',
    ],
    [
      'lever',
      'mm',
      [300, 300, 300, 230],
      REACH,
      'distance of the force from the middle',
      `${ISO5} as TBIS 4210-5 p. 9, table 1`,
      'found',
    ],
    ['set_limit', 'mm', 10, [0, 200], 'greatest permanent set at the load', ISO5, 'memory'],
  ),
  bar_fatigue_out: rows(
    ['force', 'N', [200, 200, 270, 280], FORCE, 'at both ends, one up and one down, reversed', ISO5, 'memory'],
    BAR_END,
    ['cycles', '1', 100_000, CYCLES, 'test cycles', ISO5, 'memory'],
  ),
  bar_fatigue_in: rows(
    ['force', 'N', [250, 250, 450, 400], FORCE, 'at both ends, up or down together, reversed', ISO5, 'memory'],
    BAR_END,
    ['cycles', '1', 100_000, CYCLES, 'test cycles', ISO5, 'memory'],
  ),
  seat_post: rows(
    ['force', 'N', [1000, 1000, 1200, 1200], FORCE, 'downward force behind the post', ISO9, 'memory'],
    [
      'behind',
      'mm',
      70,
      REACH,
      'distance of the force behind the clamp’s middle',
      `${ISO9} as TBIS 4210-9 p. 11`,
      'found',
    ],
    ['post_angle', 'deg', 73, [30, 90], 'post against the ground in the test', `${ISO9} as TBIS 4210-9 p. 11`, 'found'],
    ['bar_angle', 'deg', 10, [0, 45], 'test bar below level, to the rear', `${ISO9} as TBIS 4210-9 p. 11`, 'found'],
    ['cycles', '1', 100_000, CYCLES, 'test cycles', ISO9, 'memory'],
  ),
  seated: rows(['factor', '1', 1, FACTOR, 'multiple of all weights; 1 is at rest', OURS, 'memory']),
  stroke: rows(
    [
      'factor',
      '1',
      0.55,
      FACTOR,
      'peak pedal force over the rider’s weight, seated on the level',
      'order of Stone & Hull 1995, J. Biomech. 28:365',
      'memory',
    ],
    [
      'saddle_shift',
      'mm',
      60,
      [0, 150],
      'how far the rider’s weight can move sideways on the saddle before the hands help',
      OURS,
      'memory',
    ],
  ),
  start: rows([
    'factor',
    '1',
    1.5,
    FACTOR,
    'pedal force over the rider’s weight; standing climbs 1.2–1.6 (memory), trained riders reach 2, racing starts 3 (found)',
    'order of Stone & Hull 1995; Maestrelli & Falsini 2008; Soden & Adeyefa 1979, J. Biomech. 12:527',
    'memory',
  ]),
  braking: rows(
    ['share', '1', 1, [0, 1.5], 'share of the deceleration at which the rear wheel lifts', OURS, 'memory'],
    ['grip', '1', 1, [0.1, 2], 'deceleration over gravity that tyre and road allow at most', OURS, 'memory'],
    [
      'arms',
      '1',
      0.8,
      SHARE,
      'share of the rider’s inertia that the arms carry forward into the bar; the feet carry the rest',
      OURS,
      'memory',
    ],
    ['rim_depth', 'mm', 8, [0, 60], 'brake blocks below the edge of the rim, for a rim brake', OURS, 'memory'],
  ),
  step: rows(
    ['height', 'mm', 25, [1, 150], 'height of the step', OURS, 'memory'],
    ['speed', 'km/h', 18, [1, 60], 'speed at the step', OURS, 'memory'],
    ['tyre', 'N/mm', 130, [20, 600], 'radial stiffness of a tyre', OURS, 'memory'],
    [
      'stroke',
      '1',
      0.75,
      [0.1, 1],
      'share of the tyre’s width that it can be pressed in before it meets the rim',
      OURS,
      'memory',
    ],
    ['rim', 'N/mm', 1000, [100, 20_000], 'stiffness once the tyre has bottomed', OURS, 'memory'],
    [
      'coupled',
      '1',
      0.25,
      SHARE,
      'share of the rider’s mass that follows the bicycle within the few hundredths of a second: seated people weigh 0.3–0.4 upright and 0.1–0.2 fore and aft at 10–20 Hz',
      'order of the apparent mass of seated persons (ISO 5982)',
      'memory',
    ],
  ),
  kerb: rows(
    ['height', 'mm', 100, [1, 500], 'height of the kerb', OURS, 'memory'],
    ['tyre', 'N/mm', 130, [20, 600], 'radial stiffness of a tyre', OURS, 'memory'],
    [
      'stroke',
      '1',
      0.75,
      [0.1, 1],
      'share of the tyre’s width that it can be pressed in before it meets the rim',
      OURS,
      'memory',
    ],
    ['rim', 'N/mm', 1000, [100, 20_000], 'stiffness once the tyre has bottomed', OURS, 'memory'],
    ['legs', 'N/mm', 20, [2, 200], 'stiffness of the rider’s bent legs and arms together', OURS, 'memory'],
    ['hands', '1', 0.2, SHARE, 'share of the rider that lands on the hands, the rest on level pedals', OURS, 'memory'],
  ),
  folded_seat: rows(['factor', '1', 1.5, FACTOR, 'multiple of the rider’s weight, for sitting down', OURS, 'memory']),
  lifting: rows(['factor', '1', 2, FACTOR, 'multiple of the weight, for the jerk', OURS, 'memory']),
} as const satisfies Record<string, readonly CaseFigure[]>;

export type CaseId = keyof typeof CASE_FIGURES;
/** One number per key, in the table's unit. */
export type FigureValues = Readonly<Record<string, number>>;

export const CASE_IDS = Object.keys(CASE_FIGURES) as readonly CaseId[];
export const isCaseId = (id: string): id is CaseId => Object.hasOwn(CASE_FIGURES, id);

/** Where a figure comes from, in the words that stand beside it. */
export const figureStanding = ({ source, standing }: CaseFigure): string =>
  standing === 'found'
    ? `found: ${source}`
    : source === OURS
      ? 'default, from memory: edit it'
      : /^(ISO|EN|16 CFR)/.test(source)
        ? `${source}; ${CHECK_THE_STANDARD}`
        : `${source}; from memory`;

/** A figure's default in a column of the table. */
export const figureDefault = (figure: CaseFigure, column: BikeClass): number =>
  typeof figure.value === 'number' ? figure.value : figure.value[BIKE_CLASSES.indexOf(column)]!;

/**
 * All figures of a list in one column, with a brief's edits in the table's units over them.
 * @throws RangeError for an edit that the list does not know or that is outside its range: briefs are checked before.
 */
export function figureValues(
  list: readonly CaseFigure[],
  column: BikeClass,
  edits: Readonly<Partial<FigureValues>> = {},
): FigureValues {
  for (const key of Object.keys(edits))
    if (!list.some((figure) => figure.key === key)) throw new RangeError(`no figure "${key}"`);
  return Object.fromEntries(
    list.map((figure) => {
      const value = edits[figure.key] ?? figureDefault(figure, column);
      const [least, most] = figure.range;
      if (!(value >= least && value <= most))
        throw new RangeError(`${figure.key} must be ${least} to ${most} ${figure.unit}, got ${value}`);
      return [figure.key, value];
    }),
  );
}
