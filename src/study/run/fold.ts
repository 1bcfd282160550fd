/**
 * Fold discipline: is it rigid while riding, does the procedure work, and how near does anything come to anything on the way?
 */
import {
  type Clash,
  clash,
  crankSweep,
  type FoldPlan,
  type Model,
  movesWhenReleased,
  newClash,
  newLinkageWorkspace,
  newPosedShapes,
  planFold,
  poseBodies,
  poseShapes,
  provePath,
  type ReleasedMotion,
  type RidingRigidity,
  rigidWhenLocked,
  type SegmentProof,
  type State,
  steerSweep,
} from '#kernel';

/** How far the free steering angle is looked for, rad: beyond it a bicycle needs no more. */
export const STEER_LOOK = (100 * Math.PI) / 180;

export interface FoldResult {
  readonly rigidity: RidingRigidity;
  readonly plan: FoldPlan;
  readonly released: ReleasedMotion;
  readonly proofs: readonly SegmentProof[];
  /** Ride posture, all pairs of the fold. */
  readonly ride: Clash;
  readonly cranks: SegmentProof | undefined;
  readonly steering: readonly [SegmentProof, SegmentProof] | undefined;
  /** Free angle to the worse side, rad, as far as it was looked for or the steerer's own range goes. */
  readonly freeSteer: number | undefined;
}

/** `s` must be filled and in the ride posture; it is left there. */
export function runFold(m: Model, s: State): FoldResult {
  const ws = newLinkageWorkspace(m.top);
  const plan = planFold(m, s);
  const posed = newPosedShapes(m.top);
  poseBodies(m.top, s);
  poseShapes(m.top, s, posed);
  const ride = newClash();
  clash(m.top, posed, ride);
  const steering = steerSweep(m, s, steerLook(m, s));
  return {
    rigidity: rigidWhenLocked(m, s),
    plan,
    released: movesWhenReleased(m, s, plan),
    proofs: provePath(m, s, plan, undefined, ws),
    ride,
    cranks: crankSweep(m, s),
    steering,
    freeSteer: steering && Math.min(...steering.map((p) => Math.abs((p.firstContact?.at ?? p.to) - p.from))),
  };
}

function steerLook(m: Model, s: State): number {
  const j = m.roles.steerer;
  if (j < 0) return 0;
  return Math.min(STEER_LOOK, Math.abs(s.range[2 * j]!), Math.abs(s.range[2 * j + 1]!));
}

/** The segment with the least clearance, if anything moves past anything. */
export const tightest = (r: FoldResult): SegmentProof | undefined =>
  r.proofs
    .filter((p) => p.least !== undefined)
    .reduce<SegmentProof | undefined>((a, b) => (!a || b.least!.gap < a.least!.gap ? b : a), undefined);
