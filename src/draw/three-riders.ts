/**
 * Three bodies that stand for the drawn public: so tall that 5, 50 and 95 % of it are shorter. Stature is the one measure that
 * is ranked; everything else is that of a mean body of this stature, because percentiles do not add up to a person. Mass and
 * sex are those of the riders nearest in stature. Drawings tell the three by their lines.
 */
import { bodyLinks, COLUMN, FIT, FIT_STRIDE, type Links, quantileOf, RIDER_STRIDE, type Rider } from '#kernel';
import { type FitResult, type Judged, type Seated, seatOn } from '#study';
import { line, type Point2, text } from './svg.ts';

export const PERCENTILES = [5, 50, 95] as const;
export type Percentile = (typeof PERCENTILES)[number];

export interface SizedRider {
  readonly percentile: Percentile;
  /** `p5`, as the drawings name it. */
  readonly name: string;
  /** Dashes of its lines; undefined: continuous. */
  readonly dash: string | undefined;
  readonly rider: Rider;
  readonly links: Links;
  readonly seated: Seated;
  /** Of so many riders nearest in stature, the share that fits. */
  readonly near: number;
  readonly fits: number;
}

const DASH: Readonly<Record<Percentile, string | undefined>> = { 5: '3 3', 50: undefined, 95: '13 4' };
/** Riders taken as alike in stature: this share of the public, at least so many. */
const ALIKE = 0.02;
const LEAST_ALIKE = 25;
/** Where so many of those alike are of one sex, the body is of that sex; else halfway. */
const MOSTLY = 0.8;

export function threeRiders(j: Judged, fit: FitResult): SizedRider[] {
  const { model, state } = j.evaluation.results;
  const { people, riders } = fit;
  const stature = (i: number): number => people.value[i * RIDER_STRIDE + COLUMN.stature]!;
  const order = Array.from({ length: people.n }, (_, i) => i).sort((a, b) => stature(a) - stature(b));
  const sorted = Float64Array.from(order, stature);
  const alike = Math.min(people.n, Math.max(LEAST_ALIKE, Math.round(ALIKE * people.n)));
  return PERCENTILES.map((percentile): SizedRider => {
    const tall = quantileOf(sorted, percentile / 100);
    const middle = Math.round((percentile / 100) * (people.n - 1) - alike / 2);
    const first = Math.min(people.n - alike, Math.max(0, middle));
    const near = order.slice(first, first + alike);
    const share = (count: (i: number) => boolean): number => near.filter(count).length / alike;
    const women = share((i) => people.female[i] === 1);
    const rider: Rider = {
      stature: tall,
      mass: near.reduce((sum, i) => sum + people.value[i * RIDER_STRIDE + COLUMN.mass]!, 0) / alike,
      sex: women >= MOSTLY ? 'female' : women <= 1 - MOSTLY ? 'male' : 'mixed',
    };
    return {
      percentile,
      name: `p${percentile}`,
      dash: DASH[percentile],
      rider,
      links: bodyLinks(rider),
      seated: seatOn(model, state, rider),
      near: alike,
      fits: share((i) => riders[i * FIT_STRIDE + FIT.mask] === 0),
    };
  });
}

/** `p5 1.55 m`. */
export const sizeWords = (r: SizedRider): string => `${r.name}, ${r.rider.stature.toFixed(2)} m`;

const SAMPLE = 34;
const KEY_GAP = 26;
/** What the lines mean, in a row from `at`, `step` px apart. */
export const lineKey = (list: readonly SizedRider[], at: Point2, step: number, colour: string): string =>
  list
    .map((r, i) => {
      const x = at[0] + i * step;
      return (
        line([x, at[1]], [x + SAMPLE, at[1]], { stroke: colour, 'stroke-width': 1.4, 'stroke-dasharray': r.dash }) +
        text([x + SAMPLE + 6, at[1] + 4], sizeWords(r), { class: 'figure small' })
      );
    })
    .join('');
export const KEY_STEP = SAMPLE + KEY_GAP + 66;
