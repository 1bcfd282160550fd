/** Postures along a fold plan, and how fast everything moves there. See fold-plan.ts and trace-loop.ts for the method. */
import type { Model } from '../model/types.ts';
import { type Posture, poseBodies } from './chain.ts';
import type { FoldPlan } from './fold-plan.ts';
import { ratesOf } from './follower-rates.ts';
import type { ClosureReport, LinkageWorkspace } from './loop-system.ts';
import { poseOnTrace } from './trace-loop.ts';

/**
 * Puts `s` (q and bodyT) at fraction `u` (0..1) of segment `i`. Allocates nothing; any order of calls, forward or back,
 * gives the same postures to rounding. Returns `ws.report` (always closed for `tree` segments).
 */
export function poseAlong(
  m: Pick<Model, 'top'>,
  plan: FoldPlan,
  i: number,
  u: number,
  s: Posture,
  ws: LinkageWorkspace,
): ClosureReport {
  const segment = plan.segments[i]!;
  if (segment.trace) return poseOnTrace(m.top, s, segment.trace, u, ws);
  s.q.set(segment.startQ);
  s.q[segment.joint] = segment.from + (segment.to - segment.from) * u;
  poseBodies(m.top, s);
  ws.report.converged = true;
  ws.report.iterations = 0;
  ws.report.residual = 0;
  ws.report.reason = 'closed';
  return ws.report;
}

/** Puts `s` at the end of the whole fold. */
export function poseFolded(m: Pick<Model, 'top'>, plan: FoldPlan, s: Posture): void {
  s.q.set(plan.foldedQ);
  poseBodies(m.top, s);
}

/**
 * dq/dq_driven of every joint at the posture in `s`, which must lie on segment `i` (after `poseAlong`): 1 for the driven
 * joint, the followers' rates, 0 for joints that stay (cut joints' own rates are not given: no body hangs on them).
 * rad or m per rad or m, in `ws.rates`.
 */
export function followerRates(
  m: Pick<Model, 'top'>,
  plan: FoldPlan,
  i: number,
  s: Posture,
  ws: LinkageWorkspace,
): Float64Array {
  const segment = plan.segments[i]!;
  if (segment.trace) return ratesOf(m.top, s, segment.trace.system, segment.joint, ws);
  ws.rates.fill(0);
  ws.rates[segment.joint] = 1;
  return ws.rates;
}
