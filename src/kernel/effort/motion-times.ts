/**
 * Predetermined motion times: the table alone. 1 TMU = 0.036 s.
 *
 * Origin: predetermined motion times, the MTM-1 table in inches, as printed in university work-measurement handouts and
 * textbooks (after Maynard, Stegemerten & Schwab 1948). The inch table is the master: metric cards round it. Weights
 * per hand in pounds. Body and leg motions per inch beyond their first step: default, from memory (a metric card that
 * prints 0.5, 0.2 and 0.4 TMU/cm agrees after rounding). The method's name and cards belong to an association; what is here is the published table.
 * Not here: motions already under way at their beginning or end, crank motions, simultaneous motions.
 */
export const TMU_SECONDS = 0.036;

/** in; the first row holds for everything shorter. */
export const DISTANCES = [0.75, 1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 12, 14, 16, 18, 20, 22, 24, 26, 28, 30] as const;
export interface DistanceRow {
  readonly tmu: readonly number[];
  /** TMU per inch beyond 30 in. */
  readonly beyond: number;
}
const row = (beyond: number, ...tmu: readonly number[]): DistanceRow => ({ tmu, beyond });

// biome-ignore format: a printed table
export const REACH: Readonly<Record<'A' | 'B' | 'C' | 'D' | 'E', DistanceRow>> = {
  A: row(0.4, 2, 2.5, 4, 5.3, 6.1, 6.5, 7, 7.4, 7.9, 8.3, 8.7, 9.6, 10.5, 11.4, 12.3, 13.1, 14, 14.9, 15.8, 16.7, 17.5),
  B: row(0.7, 2, 2.5, 4, 5.3, 6.4, 7.8, 8.6, 9.3, 10.1, 10.8, 11.5, 12.9, 14.4, 15.8, 17.2, 18.6, 20.1, 21.5, 22.9, 24.4, 25.8),
  C: row(0.7, 2, 3.6, 5.9, 7.3, 8.4, 9.4, 10.1, 10.8, 11.5, 12.2, 12.9, 14.2, 15.6, 17, 18.4, 19.8, 21.2, 22.5, 23.9, 25.3, 26.7),
  D: row(0.7, 2, 3.6, 5.9, 7.3, 8.4, 9.4, 10.1, 10.8, 11.5, 12.2, 12.9, 14.2, 15.6, 17, 18.4, 19.8, 21.2, 22.5, 23.9, 25.3, 26.7),
  E: row(0.6, 2, 2.4, 3.8, 5.3, 6.8, 7.4, 8, 8.7, 9.3, 9.9, 10.5, 11.8, 13, 14.2, 15.5, 16.7, 18, 19.2, 20.4, 21.7, 22.9),
};
// biome-ignore format: a printed table
export const MOVE: Readonly<Record<'A' | 'B' | 'C', DistanceRow>> = {
  A: row(0.8, 2, 2.5, 3.6, 4.9, 6.1, 7.3, 8.1, 8.9, 9.7, 10.5, 11.3, 12.9, 14.4, 16, 17.6, 19.2, 20.8, 22.4, 24, 25.5, 27.1),
  B: row(0.6, 2, 2.9, 4.6, 5.7, 6.9, 8, 8.9, 9.7, 10.6, 11.5, 12.2, 13.4, 14.6, 15.8, 17, 18.2, 19.4, 20.6, 21.8, 23.1, 24.3),
  C: row(0.85, 2, 3.4, 5.2, 6.7, 8, 9.2, 10.3, 11.1, 11.8, 12.7, 13.5, 15.2, 16.9, 18.7, 20.4, 22.1, 23.8, 25.5, 27.3, 29, 30.7),
};

/** Up to this weight (lb, per hand): time = constant + factor × time without weight. */
export const MOVE_WEIGHTS: readonly (readonly [pounds: number, factor: number, constant: number])[] = [
  [2.5, 1, 0],
  [7.5, 1.06, 2.2],
  [12.5, 1.11, 3.9],
  [17.5, 1.17, 5.6],
  [22.5, 1.22, 7.4],
  [27.5, 1.28, 9.1],
  [32.5, 1.33, 10.8],
  [37.5, 1.39, 12.5],
  [42.5, 1.44, 14.3],
  [47.5, 1.5, 16],
];

/** 30 to 180 deg by 15: small (to 1 kg), medium (to 5 kg), large (to 16 kg). */
export const TURN: Readonly<Record<'S' | 'M' | 'L', readonly number[]>> = {
  S: [2.8, 3.5, 4.1, 4.8, 5.4, 6.1, 6.8, 7.4, 8.1, 8.7, 9.4],
  M: [4.4, 5.5, 6.5, 7.5, 8.5, 9.6, 10.6, 11.6, 12.7, 13.7, 14.8],
  L: [8.4, 10.5, 12.3, 14.4, 16.2, 18.3, 20.4, 22.2, 24.3, 26.1, 28.2],
};

/** Motions with one time. */
export const FIXED: Readonly<Record<string, readonly [tmu: number, words: string]>> = {
  G1A: [2, 'grasp something that lies by itself'],
  G1B: [3.5, 'grasp something very small or flat'],
  G1C1: [7.3, 'grasp a cylinder over 12 mm among others'],
  G1C2: [8.7, 'grasp a cylinder of 6 to 12 mm among others'],
  G1C3: [10.8, 'grasp a cylinder under 6 mm among others'],
  G2: [5.6, 'shift the grasp'],
  G3: [5.6, 'pass it to the other hand'],
  G4A: [7.3, 'pick a large thing out of a heap'],
  G4B: [9.1, 'pick a middling thing out of a heap'],
  G4C: [12.9, 'pick a small thing out of a heap'],
  G5: [0, 'touch'],
  RL1: [2, 'let go'],
  RL2: [0, 'lift the hand off'],
  APA: [10.6, 'press'],
  APB: [16.2, 'press after a new hold'],
  P1SE: [5.6, 'place loosely, symmetrical'],
  P1SD: [11.2, 'place loosely, symmetrical, awkward to handle'],
  P1SSE: [9.1, 'place loosely, half symmetrical'],
  P1SSD: [14.7, 'place loosely, half symmetrical, awkward to handle'],
  P1NSE: [10.4, 'place loosely, not symmetrical'],
  P1NSD: [16, 'place loosely, not symmetrical, awkward to handle'],
  P2SE: [16.2, 'place closely, symmetrical'],
  P2SD: [21.8, 'place closely, symmetrical, awkward to handle'],
  P2SSE: [19.7, 'place closely, half symmetrical'],
  P2SSD: [25.3, 'place closely, half symmetrical, awkward to handle'],
  P2NSE: [21, 'place closely, not symmetrical'],
  P2NSD: [26.6, 'place closely, not symmetrical, awkward to handle'],
  P3SE: [43, 'place tightly, symmetrical'],
  P3SD: [48.6, 'place tightly, symmetrical, awkward to handle'],
  P3SSE: [46.5, 'place tightly, half symmetrical'],
  P3SSD: [52.1, 'place tightly, half symmetrical, awkward to handle'],
  P3NSE: [47.8, 'place tightly, not symmetrical'],
  P3NSD: [53.4, 'place tightly, not symmetrical, awkward to handle'],
  D1E: [4, 'pull apart, loose'],
  D1D: [5.7, 'pull apart, loose, awkward to handle'],
  D2E: [7.5, 'pull apart, close'],
  D2D: [11.8, 'pull apart, close, awkward to handle'],
  D3E: [22.9, 'pull apart, tight'],
  D3D: [34.7, 'pull apart, tight, awkward to handle'],
  EF: [7.3, 'look closely'],
  FM: [8.5, 'move a foot'],
  FMP: [19.1, 'press with a foot'],
  TBC1: [18.6, 'turn the body'],
  TBC2: [37.2, 'turn the body, both feet set'],
  B: [29, 'bend'],
  AB: [31.9, 'rise from bending'],
  S: [29, 'stoop'],
  AS: [31.9, 'rise from stooping'],
  KOK: [29, 'kneel on one knee'],
  AKOK: [31.9, 'rise from one knee'],
  KBK: [69.4, 'kneel on both knees'],
  AKBK: [76.7, 'rise from both knees'],
  SIT: [34.7, 'sit down'],
  STD: [43.4, 'stand up'],
};

/** TMU per pace, per pace with a load or in a narrow place, per foot. */
export const WALK = { P: 15, PO: 17, FT: 5.3 } as const;
/** First step up to so many inches, then per inch. */
export const LEG = { first: 6, tmu: 7.1, beyond: 1.2 } as const;
export const SIDE_STEP = {
  C1: { first: 12, tmu: 17, beyond: 0.6 },
  C2: { first: 12, tmu: 34.1, beyond: 1.1 },
} as const;
/** 15.2 × distance of the points over distance of the eyes, at most 20. From memory. */
export const EYE_TRAVEL = { factor: 15.2, most: 20 } as const;
