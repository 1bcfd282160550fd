/**
 * What counts as fitting: one figure per rule, its range, and where it comes from. A brief may change any of them.
 *
 * Units as in the table: the kernel reads SI through `fitLimits`. Bodies are measured barefoot, so shoes are added here.
 */
export interface FitFigure {
  readonly key: string;
  /** In `unit`. */
  readonly value: number;
  readonly unit: 'mm' | 'deg' | '%';
  readonly range: readonly [number, number];
  readonly meaning: string;
  readonly source: string;
}

const MEMORY = 'default, from memory';
const figure = <K extends string>(
  key: K,
  value: number,
  unit: FitFigure['unit'],
  range: readonly [number, number],
  meaning: string,
  source: string = MEMORY,
): FitFigure & { readonly key: K } => ({ key, value, unit, range, meaning, source });

export const FIT_FIGURES = [
  figure(
    'saddle_tolerance',
    2,
    '%',
    [0, 6],
    'how far the saddle may miss the rule’s height',
    'our choice: half of what Bini, Hume & Croft 2011 found harmless (4 % of leg length)',
  ),
  figure('trunk_least', 45, 'deg', [15, 80], 'lowest trunk, to the ground, at which the grips may be reached'),
  figure('elbow_reach', 10, 'deg', [0, 40], 'flexion that the elbow keeps when the grips are far'),
  figure('elbow_most', 100, 'deg', [40, 140], 'largest flexion of the elbow when the grips are near, trunk at 85°'),
  figure('steer_knee', 30, 'deg', [0, 60], 'bar turned to either side when the knees are checked'),
  figure('knee_radius', 55, 'mm', [30, 90], 'knee joint to the front of kneecap and clothes'),
  figure(
    'knee_gap',
    25,
    'mm',
    [0, 120],
    'room from knee to bar, levers and what turns with them',
    'our choice: no published value found; 50 mm, as recalled, fails two riders in three on an ordinary city bicycle',
  ),
  figure('knee_out', 120, 'mm', [80, 180], 'knee joint from the mid-plane'),
  figure(
    'steer_toe',
    60,
    'deg',
    [0, 80],
    'bar turned to either side when the toes are checked',
    'the free steering of ISO 4210-2, from memory',
  ),
  figure('shoe', 15, 'mm', [0, 40], 'shoe beyond toe and heel'),
  figure(
    'toe_gap',
    0,
    'mm',
    [0, 100],
    'room from shoe to front wheel and guard',
    'our choice: the 100 mm from the pedal’s centre of ISO 4210-2 leave a long shoe about as much',
  ),
  figure(
    'heel_in',
    5,
    'deg',
    [0, 20],
    'feet turned, heels inward',
    'our choice: 10°, as recalled, fails five riders in six on an ordinary city bicycle',
  ),
  figure('heel_gap', 10, 'mm', [0, 40], 'room from heel to stays, hub and locks'),
  figure('leg_gap', 0, 'mm', [0, 40], 'room from calf and trouser to frame and locks', 'our choice: touching counts'),
  figure('calf_radius', 55, 'mm', [40, 90], 'calf in trousers, at three tenths of the shank'),
  figure(
    'over_gap',
    25,
    'mm',
    [0, 100],
    'room between crotch and frame when standing over it',
    'common practice, no source',
  ),
  figure('shoe_sole', 25, 'mm', [0, 50], 'sole under the foot that stands'),
  figure('ground_lean', 12, 'deg', [0, 30], 'lean of the bicycle when one foot is put down from the saddle'),
  figure('ground_drop', 40, 'mm', [0, 100], 'how far the hip sinks on that side, pelvis tilted'),
  figure('ground_out', 150, 'mm', [50, 400], 'foot put down beside the hip'),
] as const satisfies readonly FitFigure[];

export type FitKey = (typeof FIT_FIGURES)[number]['key'];
/** SI: m, rad, shares. */
export type FitLimits = Readonly<Record<FitKey, number>>;

const FACTOR: Readonly<Record<FitFigure['unit'], number>> = { mm: 1e-3, deg: Math.PI / 180, '%': 0.01 };

/** The table in SI with `own` (SI) in place of its defaults. */
export const fitLimits = (own: Readonly<Partial<Record<FitKey, number>>> = {}): FitLimits =>
  Object.fromEntries(FIT_FIGURES.map((f) => [f.key, own[f.key] ?? f.value * FACTOR[f.unit]])) as Record<FitKey, number>;

/** What can fail, in the order of the bits of a rider's mask. */
export const MISSES = [
  { key: 'post_short', words: 'the saddle cannot go high enough' },
  { key: 'post_long', words: 'the saddle cannot go low enough' },
  { key: 'reach_far', words: 'the grips are too far' },
  { key: 'reach_near', words: 'the grips are too near' },
  { key: 'knee', words: 'a knee comes too near to the bar' },
  { key: 'toe', words: 'a toe comes too near to the front wheel' },
  { key: 'heel', words: 'a heel comes too near to the frame' },
  { key: 'leg', words: 'calf or trouser come too near to the frame' },
  { key: 'over', words: 'no room to stand over it' },
  { key: 'ground', words: 'no foot reaches the ground from the saddle' },
  { key: 'mass', words: 'heavier than the bicycle is rated for' },
] as const;
export type MissKey = (typeof MISSES)[number]['key'];
/** Bit of each miss. */
export const MISS = Object.fromEntries(MISSES.map((m, i) => [m.key, 1 << i])) as Readonly<Record<MissKey, number>>;
