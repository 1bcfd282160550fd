/**
 * Is the bicycle one rigid thing while riding, and does every released joint move? Computed, not declared.
 *
 * Riding: latches and clamps are welds, pins are pivots of their loops, joints held by a loop or by nothing are free; steerer
 * and cranks must move and are taken as welds here. What mobility.ts then finds is a frame that moves under the rider.
 * Folding: before each move the same count with the fold's releases up to there, at the posture reached.
 * Not here: play and compliance; whether a lock is superfluous.
 */
import { KIND, type Model, type State } from '../model/types.ts';
import { jointCount, poseBodies, postureLike } from './chain.ts';
import { type FoldPlan, FREEDOM, planFold, ridingFreedom } from './fold-plan.ts';
import { newLinkageWorkspace } from './loop-system.ts';
import { mobilityRank } from './mobility.ts';

export interface RidingRigidity {
  readonly rigid: boolean;
  /** Freedoms that remain. */
  readonly freedoms: number;
  /** Joints that take part in them. */
  readonly loose: readonly number[];
  /** True where it is rigid only because a loop stands at a dead position: a small push moves it a little. */
  readonly deadPosition: boolean;
}

/**
 * Rigidity with all locks closed, in the ride posture of `s` (its own posture is not read). `open`: a joint whose lock is open
 * all the same (a pin is then out); -1: none.
 */
export function rigidWhenLocked(m: Pick<Model, 'top' | 'roles'>, s: State, open = -1): RidingRigidity {
  const { top } = m;
  const freedom = ridingFreedom(top);
  if (open >= 0) freedom[open] = top.kind[open] === KIND.pin ? FREEDOM.absent : FREEDOM.free;
  for (let j = 0; j < jointCount(top); j++)
    if (top.kind[j] === KIND.steerer || j === m.roles.steerer || j === m.roles.cranks) freedom[j] = FREEDOM.held;
  const ride = postureLike(s);
  ride.q.fill(0);
  poseBodies(top, ride);
  const { firstOrder, finite, moving } = mobilityRank(top, ride, freedom, newLinkageWorkspace(top));
  const loose = [...moving.keys()].filter((j) => moving[j] === 1);
  return { rigid: finite === 0, freedoms: finite, loose, deadPosition: firstOrder > finite };
}

export interface ReleasedMotion {
  /** 1 per joint that can move at some stage of the fold. */
  readonly moves: Uint8Array;
  /** First move (index into the fold) before which the joint can move; the number of moves for "only after the last"; -1: never. */
  readonly since: Int32Array;
}

/** Which joints can move once the fold's releases up to each move have been done, at the postures that the fold reaches. */
export function movesWhenReleased(
  m: Pick<Model, 'top' | 'fold'>,
  s: State,
  plan: FoldPlan = planFold(m, s),
): ReleasedMotion {
  const { top } = m;
  const n = jointCount(top);
  const ws = newLinkageWorkspace(top);
  const here = postureLike(s);
  here.q.fill(0);
  const moves = new Uint8Array(n);
  const since = new Int32Array(n).fill(-1);
  for (let stage = 0; stage <= m.fold.length; stage++) {
    const before = plan.segments.findLast((segment) => segment.move < stage);
    if (before) here.q.set(before.endQ);
    const freedom = plan.freedom.slice(stage * n, (stage + 1) * n);
    const posed = plan.segments.some((segment) => segment.move === stage - 1);
    const changed = stage === 0 || posed || freedom.some((f, j) => f !== plan.freedom[(stage - 1) * n + j]);
    if (!changed) continue;
    const { moving } = mobilityRank(top, here, freedom, ws);
    for (let j = 0; j < n; j++)
      if (moving[j] === 1 && moves[j] === 0) {
        moves[j] = 1;
        since[j] = stage;
      }
  }
  return { moves, since };
}
