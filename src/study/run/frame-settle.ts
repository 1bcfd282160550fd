/**
 * Frame discipline, settle tier: what is not linear. Faces that open and pins that rattle, buckling, a life of use, blows,
 * the folded bicycle under somebody who sits on it, locks after thousands of folds.
 *
 * Units: mm, N, MPa. Not here: the linear cases (`frame.ts`).
 */
import {
  ageLock,
  type BlowResult,
  type BucklingResult,
  type CaseId,
  type CaseResult,
  caseWith,
  type DetailCurve,
  evaluateCase,
  FOLDS,
  type FoldPlan,
  frameBuckling,
  frameSolver,
  type JointLaw,
  type LockAge,
  type Looseness,
  plasticBlow,
  rangeAt,
  type SpectrumEntry,
  type State,
  solveWithJoints,
  spectrumDamage,
  stressPoints,
  useSpectrum,
  type Vec3,
  workOf,
} from '#kernel';
import { findPrinciple, type ResolvedCandidate } from '#project';
import type { Setting } from '../setting.ts';
import type { FrameResult } from './frame.ts';
import { foldedFrame } from './frame-context.ts';
import { runLooseness } from './frame-stiffness.ts';

/** One joint under the case and state that comes nearest to opening it. */
export interface Opening {
  readonly joint: string;
  readonly component: number;
  readonly frameCase: CaseId;
  readonly state: string;
  /** Force or moment that opens it, and the greatest that a case asks of it; N, N·mm. */
  readonly opensAt: number;
  readonly asked: number;
  readonly margin: number;
}
export interface AgedLock {
  readonly joint: string;
  readonly principle: string;
  readonly ages: readonly LockAge[];
}
export interface UseDamage {
  readonly tube: number;
  readonly point: number;
  readonly detail: DetailCurve;
  readonly damage: number;
  readonly critical: number;
  readonly parts: readonly { readonly case: string; readonly damage: number; readonly share: number }[];
}
export interface FrameSettled {
  readonly openings: readonly Opening[];
  readonly looseness: { readonly grips?: Looseness; readonly wheel?: Looseness };
  /** Worst use of every service case with joints as they open; by case. */
  readonly opened: ReadonlyMap<CaseId, { readonly use: number; readonly open: readonly string[] }>;
  readonly buckling: (BucklingResult & { readonly frameCase: CaseId; readonly state: string }) | undefined;
  readonly use: UseDamage | undefined;
  readonly distance_km: number;
  readonly blows: ReadonlyMap<CaseId, BlowResult & { readonly limit: number }>;
  readonly ages: readonly AgedLock[];
  readonly folded: CaseResult | undefined;
  /** Why there is no folded case. */
  readonly foldedReason: string | undefined;
}

export interface FoldedPackageInput {
  readonly plan: FoldPlan;
  readonly up: Vec3;
}

/** @param folded how the package lies; undefined where the bicycle does not fold. */
export function runFrameSettle(
  candidate: ResolvedCandidate,
  s: State,
  setting: Setting,
  frame: FrameResult,
  folded: FoldedPackageInput | undefined,
): FrameSettled {
  const openings = worstOpenings(frame);
  const seat = foldedSeat(candidate, s, setting, frame, folded);
  return {
    openings,
    looseness: runLooseness(frame.model, frame.solver),
    opened: openCases(frame),
    buckling: leastBuckling(frame),
    ...lifeOfUse(frame, setting),
    blows: blowsOf(frame),
    ages: agedLocks(candidate, s, frame, openings),
    ...seat,
  };
}

const COUNTED: ReadonlySet<string> = new Set(['service', 'test_static', 'test_fatigue']);

/** For every component that can open: the case that asks most of its preload. */
function worstOpenings(frame: FrameResult): Opening[] {
  const { joints } = frame.model.built.structure;
  const out: Opening[] = [];
  joints.forEach((joint, j) => {
    joint.laws.forEach((law, component) => {
      const opensAt = law.preload ?? 0;
      if (law.open === undefined || !(opensAt > 0)) return;
      let asked = 0;
      let where: [CaseId, string] | undefined;
      for (const [id, c] of frame.cases) {
        if (!COUNTED.has(c.frameCase.kind)) continue;
        c.solutions.forEach((solution, v) => {
          const force = openingForce(law, solution.joint[6 * j + component]!);
          if (force > asked) {
            asked = force;
            where = [id, c.loads.labels[v]!];
          }
        });
      }
      if (where)
        out.push({
          joint: joint.name,
          component,
          frameCase: where[0],
          state: where[1],
          opensAt,
          asked,
          margin: opensAt / asked,
        });
    });
  });
  return out.sort((a, b) => a.margin - b.margin);
}
const openingForce = (law: JointLaw, force: number): number =>
  law.opens === 0 || law.opens === undefined ? Math.abs(force) : law.opens * force;

function openCases(frame: FrameResult): FrameSettled['opened'] {
  const out = new Map<CaseId, { use: number; open: readonly string[] }>();
  const { joints } = frame.model.built.structure;
  for (const [id, c] of frame.cases) {
    if (c.frameCase.kind !== 'service') continue;
    const solved = solveWithJoints(frame.solver, c.loads);
    const evaluated = evaluateCase(
      c.frameCase,
      c.loads,
      solved.map((x) => x.solution),
      frame.points,
      frame.model.bearing.tubes.length,
    );
    const open = new Set(
      solved.flatMap((x) =>
        x.branches.filter((b) => b.branch !== 'closed' && b.joint < joints.length).map((b) => joints[b.joint]!.name),
      ),
    );
    out.set(id, { use: evaluated.worst.use, open: [...open] });
  }
  return out;
}

/** The least factor over the states that press the frame most: the worst state of every case that is no screening. */
function leastBuckling(frame: FrameResult): FrameSettled['buckling'] {
  let best: FrameSettled['buckling'];
  const seen: [CaseId, CaseResult][] = [...frame.cases].filter(([, c]) => COUNTED.has(c.frameCase.kind));
  for (const [id, c] of seen) {
    if (c.worst.state < 0) continue;
    const found = frameBuckling(frame.model.built.structure, c.loads, c.worst.state, { accuracy: 0.01 });
    if (!best || found.factor < best.factor) best = { ...found, frameCase: id, state: c.loads.labels[c.worst.state]! };
  }
  return best;
}

/** Miner's sum of a life of use at the detail that fares worst. */
function lifeOfUse(frame: FrameResult, setting: Setting): { use: UseDamage | undefined; distance_km: number } {
  const events = useSpectrum(setting.loads.use);
  const distance = events[0] ? events[0].count / Math.max(events[0].perKm, 1e-12) : 0;
  const { points, model, solver } = frame;
  const entries: SpectrumEntry[][] = points.points.map(() => []);
  for (const event of events) {
    if (!(event.perKm > 0)) continue;
    const made = caseWith(event.case, setting.loads.class, { ...setting.loads.cases[event.case], ...event.figures });
    const loads = made.load(model.context);
    if (!loads.applicable) continue;
    const result = evaluateCase(made.case, loads, solver.solve(loads), points, model.bearing.tubes.length);
    for (const range of loads.ranges)
      points.points.forEach((p, i) => {
        if (!p.detail) return;
        entries[i]!.push({
          case: event.meaning,
          cyclesPerUnit: event.perKm * range.cycles,
          range: rangeAt(points, result.forces, i, range.states),
        });
      });
  }
  let worst: UseDamage | undefined;
  points.points.forEach((p, i) => {
    if (!p.detail || entries[i]!.length === 0) return;
    const d = spectrumDamage(p.detail.curve, { unit: 'km', entries: entries[i]! }, distance);
    if (!worst || d.damage / d.critical > worst.damage / worst.critical)
      worst = { tube: p.tube, point: i, detail: p.detail, damage: d.damage, critical: d.critical, parts: d.parts };
  });
  return { use: worst, distance_km: distance };
}

/** Blows by energy: permanent set by one plastic hinge at the worst place. */
function blowsOf(frame: FrameResult): FrameSettled['blows'] {
  const out = new Map<CaseId, BlowResult & { limit: number }>();
  for (const [id, c] of frame.cases) {
    const { blow } = c.loads;
    if (!blow || c.worst.point < 0) continue;
    const stretch = workOf(c.loads.loads[blow.state]!, c.solutions[blow.state]!, frame.model.context) / blow.reference;
    const p = frame.points.points[c.worst.point]!;
    const firstYield = blow.reference / c.worst.use;
    const shape = Math.max(p.section.zz / p.section.wz, p.section.zy / p.section.wy);
    out.set(id, {
      ...plasticBlow({
        energy: blow.energy,
        weight: blow.weight,
        stiffness: blow.reference / stretch,
        firstYield,
        collapse: firstYield * shape,
        drops: blow.drops,
      }),
      limit: blow.limit,
    });
  }
  return out;
}

/** Locks that name a principle, after 0, 5,000 and 20,000 folds. */
function agedLocks(
  candidate: ResolvedCandidate,
  s: State,
  frame: FrameResult,
  openings: readonly Opening[],
): AgedLock[] {
  const v = s.value;
  return frame.model.bearing.hinges.flatMap((hinge, i) => {
    const j = frame.model.bearing.hingeJoint[i];
    const h = j === undefined ? undefined : candidate.hardware[j];
    const principle = h && findPrinciple(h.principle);
    if (!h || !principle || h.preload < 0 || h.stack < 0) return [];
    const opening = openings.find((o) => o.joint === hinge.name);
    const preload = v[h.preload]!;
    const size = h.face[0] < 0 ? 40 : 500 * (v[h.face[0]]! + v[h.face[1]]!);
    const w = principle.wear;
    const ages = ageLock(
      {
        preload,
        stack: 1e-3 * v[h.stack]!,
        play: principle.clearance.typical,
        span: principle.span * size,
        arm: opening && opening.component > 2 ? opening.opensAt / preload : 1,
        serviceMoment: opening ? opening.asked : Number.NaN,
      },
      {
        seatWear: w.seatWear.typical,
        bearingWear: w.bearingWear.typical,
        seatSlide: w.seatSlide.typical,
        seatArea: w.seatArea.typical,
        bearingSlide: w.bearingSlide.typical,
        bearingForce: w.bearingForce.typical,
        bearingArea: w.bearingArea.typical,
        settling: w.settling.typical,
      },
      FOLDS,
    );
    return [{ joint: hinge.name, principle: principle.name, ages }];
  });
}

/** Somebody sits on the folded bicycle. */
function foldedSeat(
  candidate: ResolvedCandidate,
  s: State,
  setting: Setting,
  frame: FrameResult,
  folded: FoldedPackageInput | undefined,
): Pick<FrameSettled, 'folded' | 'foldedReason'> {
  if (!folded) return { folded: undefined, foldedReason: 'this bicycle does not fold' };
  try {
    const model = foldedFrame(candidate, s, frame.model.bearing, setting, folded.plan, folded.up);
    const found = caseWith('folded_seat', setting.loads.class, setting.loads.cases.folded_seat);
    const loads = found.load(model.context);
    if (!loads.applicable) return { folded: undefined, foldedReason: loads.reason };
    const points = stressPoints(model.built, frame.strength);
    const solver = frameSolver(model.built.structure, [loads]);
    const solutions = solver.solve(loads);
    return {
      folded: evaluateCase(found.case, loads, solutions, points, model.bearing.tubes.length),
      foldedReason: undefined,
    };
  } catch (error) {
    // a package that stands on too few points, or falls apart, says so
    if (!(error instanceof RangeError)) throw error;
    return { folded: undefined, foldedReason: error.message };
  }
}
