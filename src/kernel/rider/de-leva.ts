/**
 * Body segment parameters of men and women.
 *
 * Source: de Leva, P. (1996) Adjustments to Zatsiorsky-Seluyanov's segment inertia parameters, J. Biomechanics 29(9),
 * 1223-1230, Table 4. Reference men 73.0 kg, 1.741 m; women 61.9 kg, 1.735 m (young, athletic). Mass in % of the body;
 * CoM in % of the segment's length from its first-named end; radii of gyration about the CoM in % of that length, about
 * the sagittal (fore-aft), transverse (left-right) and longitudinal axes. Masses sum to 100.00 % (men), 99.99 % (women);
 * users of the table divide by the sum. `mixed` is the mean of both tables.
 * Not here: the head and trunk rows with other end points; another transcription prints 26.3 for the women's
 * longitudinal head radius (used here: 26.1; it changes the rider's inertia by less than 0.01 %).
 */

export type Sex = 'male' | 'female' | 'mixed';
export interface SegmentRow {
  /** Length in the reference body, mm. */
  readonly length_mm: number;
  readonly mass_percent: number;
  readonly com_percent: number;
  /** Sagittal, transverse, longitudinal, % of length. */
  readonly radii_percent: readonly [number, number, number];
}
/** Head: vertex to C7. Trunk: mid-shoulder to mid-hip. Hand: wrist to third knuckle. Foot: heel to toe tip. */
export type SegmentName = 'head' | 'trunk' | 'upper_arm' | 'forearm' | 'hand' | 'thigh' | 'shank' | 'foot';
export interface SegmentTable {
  readonly stature_mm: number;
  readonly mass_kg: number;
  readonly rows: Readonly<Record<SegmentName, SegmentRow>>;
}
/** How many of each segment a body has. */
export const SEGMENT_COUNT: Readonly<Record<SegmentName, number>> = {
  head: 1,
  trunk: 1,
  upper_arm: 2,
  forearm: 2,
  hand: 2,
  thigh: 2,
  shank: 2,
  foot: 2,
};

const row = (
  length_mm: number,
  mass_percent: number,
  com_percent: number,
  radii_percent: readonly [number, number, number],
): SegmentRow => ({ length_mm, mass_percent, com_percent, radii_percent });

const MEN: SegmentTable = {
  stature_mm: 1741,
  mass_kg: 73,
  rows: {
    head: row(242.9, 6.94, 50.02, [30.3, 31.5, 26.1]),
    trunk: row(515.5, 43.46, 43.1, [38.4, 35.8, 19.7]),
    upper_arm: row(281.7, 2.71, 57.72, [28.5, 26.9, 15.8]),
    forearm: row(268.9, 1.62, 45.74, [27.6, 26.5, 12.1]),
    hand: row(86.2, 0.61, 79.0, [62.8, 51.3, 40.1]),
    thigh: row(422.2, 14.16, 40.95, [32.9, 32.9, 14.9]),
    shank: row(434.0, 4.33, 44.59, [25.5, 24.9, 10.3]),
    foot: row(258.1, 1.37, 44.15, [25.7, 24.5, 12.4]),
  },
};
const WOMEN: SegmentTable = {
  stature_mm: 1735,
  mass_kg: 61.9,
  rows: {
    head: row(243.7, 6.68, 48.41, [27.1, 29.5, 26.1]),
    trunk: row(497.9, 42.57, 37.82, [37.9, 36.1, 18.2]),
    upper_arm: row(275.1, 2.55, 57.54, [27.8, 26.0, 14.8]),
    forearm: row(264.3, 1.38, 45.59, [26.1, 25.7, 9.4]),
    hand: row(78.0, 0.56, 74.74, [53.1, 45.4, 33.5]),
    thigh: row(368.5, 14.78, 36.12, [36.9, 36.4, 16.2]),
    shank: row(432.3, 4.81, 44.16, [27.1, 26.7, 9.3]),
    foot: row(228.3, 1.29, 40.14, [29.9, 27.9, 13.9]),
  },
};

const mean = (a: number, b: number): number => (a + b) / 2;
const meanRow = (a: SegmentRow, b: SegmentRow): SegmentRow =>
  row(mean(a.length_mm, b.length_mm), mean(a.mass_percent, b.mass_percent), mean(a.com_percent, b.com_percent), [
    mean(a.radii_percent[0], b.radii_percent[0]),
    mean(a.radii_percent[1], b.radii_percent[1]),
    mean(a.radii_percent[2], b.radii_percent[2]),
  ]);
const MIXED: SegmentTable = {
  stature_mm: mean(MEN.stature_mm, WOMEN.stature_mm),
  mass_kg: mean(MEN.mass_kg, WOMEN.mass_kg),
  rows: Object.fromEntries(
    (Object.keys(MEN.rows) as SegmentName[]).map((name) => [name, meanRow(MEN.rows[name], WOMEN.rows[name])]),
  ) as Record<SegmentName, SegmentRow>,
};
const TABLES: Readonly<Record<Sex, SegmentTable>> = { male: MEN, female: WOMEN, mixed: MIXED };

export const segmentTable = (sex: Sex): SegmentTable => TABLES[sex];

/** Sum of all segments in % of body mass: 100 within the table's rounding. */
export function segmentSum(table: SegmentTable): number {
  let sum = 0;
  for (const name of Object.keys(SEGMENT_COUNT) as SegmentName[])
    sum += SEGMENT_COUNT[name] * table.rows[name].mass_percent;
  return sum;
}
