/**
 * Path discipline: how near anything comes to anything, over the whole fold, a turn of the cranks and the range of the
 * steering, each with a proven bound; and which joints really move once released.
 */
import {
  clash,
  crankSweep,
  type Model,
  movesWhenReleased,
  newClash,
  newPosedShapes,
  poseBodies,
  poseShapes,
  provePath,
  type ReleasedMotion,
  type SegmentProof,
  type State,
  steerSweep,
} from '#kernel';
import type { FoldResult } from './fold.ts';

/** How far the free steering angle is looked for, rad: beyond it a bicycle needs no more. */
const STEER_LOOK = (75 * Math.PI) / 180;

export interface PathResult {
  readonly released: ReleasedMotion;
  /** Nearest two shapes on different bodies in the ride posture (m; negative: they overlap); undefined when there are none. */
  readonly ride: { readonly gap: number; readonly shapes: readonly [number, number] } | undefined;
  /** Nearest shape of a tyre's own body to the tyre (m); undefined when there is none to compare. */
  readonly tyre: { readonly gap: number; readonly shapes: readonly [number, number] } | undefined;
  /** One per motion of the plan. */
  readonly proofs: readonly SegmentProof[];
  readonly cranks: SegmentProof | undefined;
  readonly steering: readonly [SegmentProof, SegmentProof] | undefined;
  /** Free angle to the worse side, rad, as far as it was looked for or the steerer's own range goes. */
  readonly freeSteer: number | undefined;
}

/**
 * `s` must be filled and in the ride posture; it is left there.
 * @param tyrePairs wheel disc and shape of the same body, two by two, that must not rub
 */
export function runPath(m: Model, s: State, fold: FoldResult, tyrePairs: Int32Array): PathResult {
  const steering = steerSweep(m, s, steerLook(m, s));
  return {
    ride: nearestOf(m, s, m.top.pairs, m.top.ridePairs),
    tyre: nearestOf(m, s, tyrePairs),
    released: movesWhenReleased(m, s, fold.plan),
    proofs: provePath(m, s, fold.plan),
    cranks: crankSweep(m, s),
    steering,
    freeSteer: steering && Math.min(...steering.map((p) => Math.abs((p.firstContact?.at ?? p.to) - p.from))),
  };
}

/** The nearest of the given pairs in the ride posture; undefined when there is none. */
function nearestOf(m: Model, s: State, ...lists: readonly Int32Array[]): PathResult['ride'] {
  const posed = newPosedShapes(m.top);
  poseBodies(m.top, s);
  poseShapes(m.top, s, posed);
  const nearest = lists.map((pairs) => {
    const out = newClash();
    clash({ ...m.top, pairs }, posed, out);
    return out;
  });
  const least = nearest.reduce((a, b) => (b.gap < a.gap ? b : a));
  return least.pair < 0 ? undefined : { gap: least.gap, shapes: [least.a, least.b] };
}

function steerLook(m: Model, s: State): number {
  const j = m.roles.steerer;
  if (j < 0) return 0;
  return Math.min(STEER_LOOK, Math.abs(s.range[2 * j]!), Math.abs(s.range[2 * j + 1]!));
}

/** The motion with the least clearance, if anything moves past anything. */
export const tightest = (r: PathResult): SegmentProof | undefined =>
  r.proofs
    .filter((p) => p.least !== undefined)
    .reduce<SegmentProof | undefined>((a, b) => (!a || b.least!.gap < a.least!.gap ? b : a), undefined);
