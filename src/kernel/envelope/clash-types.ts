/**
 * What the clearance checks of a posture and of a whole fold report.
 *
 * A *gap* is the true distance (m) when the shapes are apart. When they overlap it is negative and an estimate of how far
 * they must be pulled apart, made for searches to have a slope: a measure, not a physical depth (see `gap.ts`).
 */

/** Result of `clash`, owned by the caller; make one with `newClash`. */
export interface Clash {
  /** Least gap over all pairs; +Infinity when the topology has no pairs. */
  gap: number;
  /** Index of the pair that has it (pairs[2k], pairs[2k+1]); -1 when none. */
  pair: number;
  /** Its shapes, in the order of the pair. */
  a: number;
  b: number;
  /** Witness points: 3 on shape a, 3 on shape b. When the gap is negative: the middle of the overlap, about. */
  readonly points: Float64Array;
  /** Sum of −gap over all overlapping pairs (m), 0 when nothing overlaps: the penalty of a search. */
  overlap: number;
  /** Number of overlapping pairs. */
  count: number;
  /** When given (one per pair), every pair is computed and written here; otherwise far pairs are skipped early. */
  readonly perPair?: Float64Array;
}

/** Least gap between two bodies in a posture, or over a motion. */
export interface BodiesGap {
  /** Bodies, the lower index first. */
  readonly bodies: readonly [number, number];
  readonly gap: number;
  /** Shapes and witness points, in the order of `bodies`; shapes -1 when the bodies have no pair to check. */
  readonly shapes: readonly [number, number];
  readonly points: readonly [readonly [number, number, number], readonly [number, number, number]];
}

/**
 * The least clearance during one motion segment. `gap` was found at `at`; the true least lies between `proven` and `gap`.
 * Bodies that clash have `proven` −Infinity, and `gap` is the least of some 33 postures: where it begins is `firstContact`.
 */
export interface LeastAlong extends BodiesGap {
  /** Lower bound that holds for every value in between, m; see `prove-path.ts` for what exactly is proven. */
  readonly proven: number;
  /** Joint value (rad or m) of the driven joint where `gap` was found. */
  readonly at: number;
}

export interface FirstContact {
  /** Driven joint's value where the first pair touches, coming from the start of the segment. */
  readonly at: number;
  readonly bodies: readonly [number, number];
  readonly shapes: readonly [number, number];
}

export interface SegmentProof {
  /** Index into `Model.fold`; -1 for a sweep. */
  readonly move: number;
  readonly joint: number;
  /** Driven joint's value at both ends, rad or m. */
  readonly from: number;
  readonly to: number;
  /** Least over all pairs that move relative to each other; undefined when none does. */
  readonly least: LeastAlong | undefined;
  /** Least of every pair of bodies that move relative to each other, smallest gap first. */
  readonly byBodies: readonly LeastAlong[];
  readonly firstContact: FirstContact | undefined;
  /** False where the motion could not be followed or a bound stayed inconsistent; then `proven` is −Infinity there. */
  readonly complete: boolean;
  readonly reason: string;
  /** Distance evaluations made. */
  readonly evaluations: number;
}

export interface ProofOptions {
  /** The proof ends when every bound is within `tolerance` + `relative`·gap of the value found. Defaults 0.2 mm and 5 %. */
  readonly tolerance?: number;
  readonly relative?: number;
  /** Pairs of bodies farther apart than this are only shown to be so, m. Default 0.05. */
  readonly care?: number;
  /** Largest number of distance evaluations per segment. Default 200 000. */
  readonly budget?: number;
}
