/**
 * How like two bicycles handle: one bar per figure, a mean per group, one number last.
 *
 *   similarity of figures a, b = max(0, 1 − |a − b|/(max(|a|, |b|) + floor))
 *
 * so a bar of 0.8 says, away from the floor, that one figure is 80 % of the other. It is symmetric, 1 exactly when the
 * figures are equal, and never leaves [0, 1]; opposite signs give 0 once they stand clear of the floor. A figure that
 * only one of the two has scores 0 (a penalty, not a gap); one that neither has scores 1. Time histories of the lane
 * change score 1 − rms(a − b)/(rms a + rms b + floor), which the triangle inequality keeps in [0, 1].
 * The condensed number is the mean of the group means: the groups count alike, however many figures they hold.
 *
 * Standing: own choice throughout, no source. Published work is a warning: kinematic indicators correlate with what
 * riders report but predict it poorly (Ronné et al., 20 riders, two bicycles), and open-loop stability does not track
 * handling qualities (Moore, Hubbard & Hess 2016).
 * Not here: any claim that the number is what a rider feels.
 */
import type { FigureGroup, HandlingFigure, HandlingProfile } from './profile.ts';
import { FIGURE_GROUPS } from './profile.ts';
import { insist } from './refusal.ts';

export interface LikenessBar {
  readonly id: string;
  readonly group: FigureGroup;
  readonly meaning: string;
  readonly unit: string;
  readonly speed: number | null;
  /** The two figures; null where absent, and for time histories, which have no single figure. */
  readonly a: number | null;
  readonly b: number | null;
  /** 0 to 1. */
  readonly similarity: number;
}

export interface Likeness {
  readonly bars: readonly LikenessBar[];
  readonly groups: readonly { readonly group: FigureGroup; readonly similarity: number }[];
  /** Mean of the groups, 0 to 1. */
  readonly value: number;
  readonly caution: string;
  /** What was missing on either side, in words. */
  readonly notes: readonly string[];
}

export const LIKENESS_CAUTION =
  'Figures of a linear model with a rigid rider: a way to choose what to try, not a forecast of feel. Rider trials decide.';

/** Similarity of two figures, 0 to 1. */
export function similarity(a: number | null, b: number | null, floor: number): number {
  if (a === null && b === null) return 1;
  if (a === null || b === null) return 0;
  if (a === b) return 1;
  return Math.max(0, 1 - Math.abs(a - b) / (Math.max(Math.abs(a), Math.abs(b)) + floor));
}

function historySimilarity(a: Float64Array, b: Float64Array, floor: number): number {
  if (a.length === 0 && b.length === 0) return 1;
  if (a.length !== b.length) return 0;
  let aa = 0;
  let bb = 0;
  let dd = 0;
  for (let i = 0; i < a.length; i++) {
    const d = a[i]! - b[i]!;
    aa += a[i]! * a[i]!;
    bb += b[i]! * b[i]!;
    dd += d * d;
  }
  const rms = (sum: number): number => Math.sqrt(sum / a.length);
  return Math.max(0, 1 - rms(dd) / (rms(aa) + rms(bb) + floor));
}

const HISTORIES = [
  ['torque', 'steer torque over time', 'N·m', 0.1],
  ['lean', 'lean over time', 'rad', 0.005],
  ['steer', 'steer angle over time', 'rad', 0.002],
] as const;

/**
 * Likeness of two profiles made with the same options.
 * @throws SteerRefusal when the options differ: figures at other speeds cannot be compared.
 */
export function likeness(a: HandlingProfile, b: HandlingProfile): Likeness {
  const pairs = a.figures.map((figure, i): readonly [HandlingFigure, HandlingFigure | undefined] => [
    figure,
    b.figures[i],
  ]);
  insist(
    a.figures.length === b.figures.length && pairs.every(([x, y]) => x.id === y?.id) && sameOptions(a, b),
    'options',
    'the two profiles were made with different speeds, frequencies, turns or riders',
  );
  const notes: string[] = [];
  const bars: LikenessBar[] = pairs.map(([x, y]) => {
    const other = y!.value;
    if ((x.value === null) !== (other === null))
      notes.push(
        `${x.meaning}${x.speed === null ? '' : ` at ${x.speed} m/s`}: only one of the two has it; counted as 0`,
      );
    const { id, group, meaning, unit, speed } = x;
    return { id, group, meaning, unit, speed, a: x.value, b: other, similarity: similarity(x.value, other, x.floor) };
  });
  a.lanes.forEach((lane, i) => {
    const other = b.lanes[i]!;
    for (const [which, l] of [
      ['first', lane],
      ['second', other],
    ] as const)
      if (!l.stabilised)
        notes.push(`the rider cannot hold the ${which} bicycle at ${l.speed} m/s: ${l.solution.reason}`);
    for (const [name, meaning, unit, floor] of HISTORIES)
      bars.push({
        id: `lane.${name}_history@${lane.speed}`,
        group: 'lane',
        meaning,
        unit,
        speed: lane.speed,
        a: null,
        b: null,
        similarity: historySimilarity(lane[name], other[name], floor),
      });
  });
  const groups = FIGURE_GROUPS.map((group) => {
    const own = bars.filter((bar) => bar.group === group);
    return { group, similarity: own.reduce((sum, bar) => sum + bar.similarity, 0) / own.length };
  });
  const value = groups.reduce((sum, g) => sum + g.similarity, 0) / groups.length;
  return { bars, groups, value, caution: LIKENESS_CAUTION, notes };
}

function sameOptions(a: HandlingProfile, b: HandlingProfile): boolean {
  const key = ({ options: o }: HandlingProfile): string =>
    JSON.stringify([o.lateralAcceleration, o.rider.pathError, o.rider.torque, o.rider.muscle, o.rider.damping]);
  return key(a) === key(b);
}
