/**
 * Frequency multiplier of the revised lifting equation, with V from 75 cm up; below that height the rows marked by the third
 * number are 0. Columns: work of up to 1, 2, 8 hours. NIOSH 94-110, Table 5; the 8-hour column and that of 2 hours beyond
 * 3 lifts a minute: default, from memory.
 */
export const FREQUENCY_HOURS = [1, 2, 8] as const;
/** Lifts a minute; multipliers; from which column on they are 0 with hands below 75 cm (3: never). */
export const FREQUENCY_ROWS: readonly (readonly [
  perMinute: number,
  multipliers: readonly [number, number, number],
  lowFrom: 0 | 1 | 2 | 3,
])[] = [
  [0.2, [1, 0.95, 0.85], 3],
  [0.5, [0.97, 0.92, 0.81], 3],
  [1, [0.94, 0.88, 0.75], 3],
  [2, [0.91, 0.84, 0.65], 3],
  [3, [0.88, 0.79, 0.55], 3],
  [4, [0.84, 0.72, 0.45], 3],
  [5, [0.8, 0.6, 0.35], 3],
  [6, [0.75, 0.5, 0.27], 3],
  [7, [0.7, 0.42, 0.22], 3],
  [8, [0.6, 0.35, 0.18], 3],
  [9, [0.52, 0.3, 0.15], 2],
  [10, [0.45, 0.26, 0.13], 2],
  [11, [0.41, 0.23, 0], 1],
  [12, [0.37, 0.21, 0], 1],
  [13, [0.34, 0, 0], 0],
  [14, [0.31, 0, 0], 0],
  [15, [0.28, 0, 0], 0],
];
