/**
 * Frame discipline, drag tier: every linear load case of the ride posture on one beam model.
 *
 * Joints answer with their closed stiffness here; play and opening faces are the settle tier (`frame-joints.ts`).
 * Units: mm, N, MPa.
 */
import {
  CASE_IDS,
  type CaseId,
  type CaseLoads,
  type CaseResult,
  caseWith,
  evaluateCase,
  type FrameSolver,
  type State,
  type StressPoints,
  solveGroups,
  stressPoints,
  type TubeStrength,
} from '#kernel';
import type { ResolvedCandidate } from '#project';
import type { Setting } from '../setting.ts';
import { type FrameModel, rideFrame } from './frame-context.ts';
import { loadBearing } from './frame-parts.ts';
import { tubeStrengths } from './frame-strength.ts';

export interface FrameResult {
  readonly model: FrameModel;
  readonly strength: readonly TubeStrength[];
  readonly points: StressPoints;
  readonly solver: FrameSolver;
  /** Cases that this bicycle can be put through. */
  readonly cases: ReadonlyMap<CaseId, CaseResult>;
  /** Why the others cannot. */
  readonly left: ReadonlyMap<CaseId, string>;
}

/** @param s filled, ride posture; it is left there. @throws RangeError, Mechanism where the frame bears no load. */
export function runFrame(candidate: ResolvedCandidate, s: State, setting: Setting): FrameResult {
  const bearing = loadBearing(candidate, s);
  const model = rideFrame(candidate, s, bearing, setting);
  const strength = tubeStrengths(bearing);
  const points = stressPoints(model.built, strength);
  const left = new Map<CaseId, string>();
  const loads = new Map<CaseId, { readonly loads: CaseLoads; readonly found: ReturnType<typeof caseWith> }>();
  for (const id of CASE_IDS) {
    const found = caseWith(id, setting.loads.class, setting.loads.cases[id]);
    if (!found.case.postures.includes('ride')) continue;
    const made = found.load(model.context);
    if (made.applicable) loads.set(id, { loads: made, found });
    else left.set(id, made.reason);
  }
  const groups = [...loads.values()].map((l) => l.loads);
  const { solver, solutions } = solveGroups(model.built.structure, groups);
  const cases = new Map<CaseId, CaseResult>();
  [...loads].forEach(([id, { loads: group, found }], i) => {
    cases.set(id, evaluateCase(found.case, group, solutions[i]!, points, bearing.tubes.length));
  });
  return { model, strength, points, solver, cases, left };
}
