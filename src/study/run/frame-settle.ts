/**
 * Frame discipline, settle tier: what is not linear. Faces that open and pins that rattle, buckling, a life of use, blows,
 * the folded bicycle under somebody who sits on it, locks after thousands of folds.
 *
 * Units: mm, N, MPa. Not here: the linear cases (`frame.ts`).
 */
import {
  type BlowResult,
  type BucklingResult,
  type CaseId,
  type CaseResult,
  caseWith,
  type DetailCurve,
  evaluateCase,
  type FoldPlan,
  frameBuckling,
  frameSolver,
  type JointLaw,
  type LoadGroup,
  type Looseness,
  plasticBlow,
  rangeAt,
  type SpectrumEntry,
  type State,
  type StressPoints,
  solveWithJoints,
  spectrumDamage,
  stressPoints,
  useSpectrum,
  type Vec3,
  workOf,
} from '#kernel';
import type { ResolvedCandidate } from '#project';
import type { Setting } from '../setting.ts';
import type { FrameResult } from './frame.ts';
import { type FrameModel, foldedFrame } from './frame-context.ts';
import { runLooseness } from './frame-stiffness.ts';
import { type JointAgeing, jointAgeing } from './joint-ageing.ts';

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
  /** The same under the worst blow of the road: below 1 the face opens for a moment. Infinity where no blow pulls at it. */
  readonly blowMargin: number;
}
export interface AgedLock extends JointAgeing {
  readonly joint: string;
}
export interface UseDamage {
  readonly tube: number;
  readonly point: number;
  readonly detail: DetailCurve;
  /** Multiple of all ranges at which Miner's sum reaches failure. */
  readonly reserve: number;
  readonly damage: number;
  readonly critical: number;
  readonly parts: readonly { readonly case: string; readonly damage: number; readonly share: number }[];
}
export interface JointsResult {
  /** Every component that can open, the one nearest to it first. */
  readonly openings: readonly Opening[];
  readonly ages: readonly AgedLock[];
}
export interface PlayResult {
  readonly looseness: { readonly grips?: Looseness; readonly wheel?: Looseness };
  /** Worst use of every service case with joints as they open and rattle, where, and which open. */
  readonly opened: ReadonlyMap<CaseId, OpenedCase>;
}
export interface OpenedCase {
  readonly use: number;
  readonly point: number;
  readonly open: readonly string[];
}
export type LeastBuckling = BucklingResult & { readonly frameCase: CaseId; readonly state: string };
export interface UseResult {
  /** Undefined where no detail has a curve. */
  readonly worst: UseDamage | undefined;
  readonly distance_km: number;
}
export type BlowsResult = ReadonlyMap<CaseId, BlowResult & { readonly limit: number }>;
export interface FoldedSeatResult {
  readonly result: CaseResult;
  readonly model: FrameModel;
  readonly points: StressPoints;
}

/** What opens each joint, from the linear cases, and locks after thousands of folds. */
export function runFrameJoints(candidate: ResolvedCandidate, s: State, frame: FrameResult): JointsResult {
  const openings = worstOpenings(frame);
  return { openings, ages: agedLocks(candidate, s, frame, openings) };
}

/** Faces that open and pins that rattle, solved. */
export const runFramePlay = (frame: FrameResult): PlayResult => ({
  looseness: runLooseness(frame.model, frame.solver),
  opened: openCases(frame),
});

const COUNTED: ReadonlySet<string> = new Set(['service', 'test_static', 'test_fatigue']);

/** What a rider does all day. Under a blow (a step, a kerb) a face may open for a moment: that margin stands beside it. */
export const RIDING: ReadonlySet<CaseId> = new Set(['seated', 'stroke', 'start', 'braking']);

/** For every component that can open: the riding case that asks most of its preload, and what the worst blow leaves. */
function worstOpenings(frame: FrameResult): Opening[] {
  const { joints } = frame.model.built.structure;
  const out: Opening[] = [];
  joints.forEach((joint, j) => {
    joint.laws.forEach((law, component) => {
      const opensAt = law.preload ?? 0;
      if (law.open === undefined || !(opensAt > 0)) return;
      let asked = 0;
      let blow = 0;
      let where: [CaseId, string] | undefined;
      for (const [id, c] of frame.cases) {
        // in a strength test a face may open; on the road it must not
        if (c.frameCase.kind !== 'service') continue;
        c.solutions.forEach((solution, v) => {
          const force = openingForce(law, solution.joint[6 * j + component]!);
          if (!RIDING.has(id)) blow = Math.max(blow, force);
          else if (force > asked) {
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
          blowMargin: opensAt / blow,
        });
    });
  });
  return out.sort((a, b) => a.margin - b.margin);
}
const openingForce = (law: JointLaw, force: number): number =>
  law.opens === 0 || law.opens === undefined ? Math.abs(force) : law.opens * force;

function openCases(frame: FrameResult): PlayResult['opened'] {
  const out = new Map<CaseId, OpenedCase>();
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
        x.branches.filter((b) => b.branch === 'open' && b.joint < joints.length).map((b) => joints[b.joint]!.name),
      ),
    );
    out.set(id, { use: evaluated.worst.use, point: evaluated.worst.point, open: [...open] });
  }
  return out;
}

/** The least buckling factor over the states that press the frame most: the worst state of every case that is no screening. */
export function runFrameBuckling(frame: FrameResult): LeastBuckling {
  let best: LeastBuckling | undefined;
  const seen = [...frame.cases].filter(([, c]) => COUNTED.has(c.frameCase.kind) && c.worst.state >= 0);
  // the case that stresses most comes first: its factor is the bound that the others have to beat
  seen.sort(([, a], [, b]) => b.worst.use - a.worst.use);
  for (const [id, c] of seen) {
    const found = frameBuckling(frame.model.built.structure, steadied(c, frame), c.worst.state, {
      accuracy: 0.01,
      ...(best ? { below: best.factor } : {}),
    });
    if (best === undefined || found.factor < best.factor)
      best = { ...found, frameCase: id, state: c.loads.labels[c.worst.state]! };
  }
  if (best === undefined) throw new RangeError('no load case presses this frame');
  return best;
}

/**
 * Loads of service are in balance and the linear cases clamp one axle; whether it buckles depends on what the ground holds:
 * both tyres' heights and grip. In the bicycle's plane that is determinate, so that the reactions stay 0.
 */
function steadied(c: CaseResult, frame: FrameResult): LoadGroup {
  const { rearAxle, frontAxle } = frame.model.context.places;
  if (c.frameCase.kind !== 'service' || frontAxle < 0 || rearAxle < 0) return c.loads;
  const held = (node: number, ...components: number[]) => components.map((component) => ({ node, component }));
  return { ...c.loads, supports: [...held(rearAxle, 0, 1, 2, 3, 5), ...held(frontAxle, 1, 2, 3)] };
}

/** Miner's sum of a life of use at the detail that fares worst. */
export function runFrameUse(frame: FrameResult, setting: Setting): UseResult {
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
    points.points.forEach((p, i) => {
      if (!p.detail) return;
      // kinds of cycle of one case are alternatives (either brake): the greater one counts
      const ranges = loads.ranges.map((kind) => rangeAt(points, result.forces, i, kind.states));
      entries[i]!.push({ case: event.meaning, cyclesPerUnit: event.perKm, range: Math.max(...ranges) });
    });
  }
  let worst: UseDamage | undefined;
  points.points.forEach((p, i) => {
    if (!p.detail || !entries[i]!.some((e) => e.range > 0)) return;
    const scaled = (k: number) =>
      spectrumDamage(
        p.detail!.curve,
        { unit: 'km', entries: k === 1 ? entries[i]! : entries[i]!.map((e) => ({ ...e, range: k * e.range })) },
        distance,
      );
    const d = scaled(1);
    // a detail that fares better than the worst so far needs no figure of its own
    if (worst && scaled(worst.reserve).damage < d.critical) return;
    const reserve = multipleAtFailure((k) => scaled(k).damage / d.critical);
    worst = {
      tube: p.tube,
      point: i,
      detail: p.detail,
      reserve,
      damage: d.damage,
      critical: d.critical,
      parts: d.parts,
    };
  });
  return { worst, distance_km: distance };
}

/** Where a growing function reaches 1: bisection on the logarithm, to 0.1 %. */
function multipleAtFailure(share: (k: number) => number): number {
  let low = 1e-4;
  let high = 1e4;
  while (high / low > 1.001) {
    const k = Math.sqrt(low * high);
    if (share(k) < 1) low = k;
    else high = k;
  }
  return Math.sqrt(low * high);
}

/** Blows by energy: permanent set by one plastic hinge at the worst place. */
export function runFrameBlows(frame: FrameResult): BlowsResult {
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

/** Every lock after 0, 5,000 and 20,000 folds, against the moment that riding asks of it. */
function agedLocks(
  candidate: ResolvedCandidate,
  s: State,
  frame: FrameResult,
  openings: readonly Opening[],
): AgedLock[] {
  const { hinges, hingeJoint } = frame.model.bearing;
  return hingeJoint.flatMap((j, i) => {
    const opening = openings.find((o) => o.joint === hinges[i]!.name);
    const preload = candidate.hardware[j]!.preload;
    const asked =
      opening && preload >= 0 ? { arm: opening.opensAt / s.value[preload]!, moment: opening.asked } : undefined;
    const ages = jointAgeing(candidate, s, j, asked);
    return ages ? [{ joint: hinges[i]!.name, ...ages }] : [];
  });
}

/**
 * Somebody sits on the folded bicycle.
 * @param up where up is for the package as it stands. @throws RangeError where it stands on too little, or falls apart.
 */
export function runFrameFolded(
  candidate: ResolvedCandidate,
  s: State,
  setting: Setting,
  frame: FrameResult,
  plan: FoldPlan,
  up: Vec3,
): FoldedSeatResult {
  const model = foldedFrame(candidate, s, frame.model.bearing, setting, plan, up);
  const found = caseWith('folded_seat', setting.loads.class, setting.loads.cases.folded_seat);
  const loads = found.load(model.context);
  if (!loads.applicable) throw new RangeError(loads.reason);
  const points = stressPoints(model.built, frame.strength);
  const solved = solveWithJoints(frameSolver(model.built.structure, [loads]), loads);
  if (solved.some((x) => !x.converged))
    throw new RangeError('it tips over, or comes apart, under somebody who sits on it');
  const solutions = solved.map((x) => x.solution);
  return { result: evaluateCase(found.case, loads, solutions, points, model.bearing.tubes.length), model, points };
}
