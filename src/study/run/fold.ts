/**
 * Fold discipline: is the frame rigid while riding, and what does each move of the procedure do to the joints?
 */
import {
  type FoldPlan,
  type Model,
  newLinkageWorkspace,
  planFold,
  type RidingRigidity,
  rigidWhenLocked,
  type State,
} from '#kernel';

export interface FoldResult {
  readonly rigidity: RidingRigidity;
  readonly plan: FoldPlan;
}

/** `s` must be filled and in the ride posture; it is left there. */
export const runFold = (m: Model, s: State): FoldResult => ({
  rigidity: rigidWhenLocked(m, s),
  plan: planFold(m, s, newLinkageWorkspace(m.top)),
});
