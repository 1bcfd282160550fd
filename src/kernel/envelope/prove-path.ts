/** Signatures only in this commit; see `clash-types.ts` for the results. */
import type { Model, State } from '../model/types.ts';
import type { ProofOptions, SegmentProof } from './clash-types.ts';

/** Least clearance over every motion segment of the fold, with a proven lower bound. */
export type ProvePath = (m: Model, s: State, options?: ProofOptions) => SegmentProof[];
