/**
 * One candidate in one brief: which disciplines are needed, what they find, and every quantity read from it.
 *
 * A discipline that refuses (a bicycle without steering, a rider out of reach of the model) leaves its reason; the
 * quantities that need it are then absent with that reason, never 0.
 */
import { countSimple, foldCables, type State } from '#kernel';
import type { ResolvedCandidate } from '#project';
import { type Quantity, quantitiesFor } from './catalogue.ts';
import { type Absent, absent, type Discipline, isAbsent, type SlotNames, type Tier } from './family.ts';
import type { Reference } from './reference.ts';
import type { Results } from './results.ts';
import { runBox } from './run/box.ts';
import { runBurden } from './run/burden.ts';
import { runDrive } from './run/drive.ts';
import { runEffort } from './run/effort.ts';
import { runFit, runFitChange } from './run/fit.ts';
import { runFold } from './run/fold.ts';
import { runFoolproof } from './run/foolproof.ts';
import { runFrame } from './run/frame.ts';
import { runFrameChecks } from './run/frame-checks.ts';
import {
  runFrameBlows,
  runFrameBuckling,
  runFrameFolded,
  runFrameJoints,
  runFramePlay,
  runFrameUse,
} from './run/frame-settle.ts';
import { runStiffness, runWobble } from './run/frame-stiffness.ts';
import { runHands } from './run/hands.ts';
import { runLikeness } from './run/likeness.ts';
import { runMass } from './run/mass.ts';
import { runHandling, runStow } from './run/package.ts';
import { runPath } from './run/path.ts';
import { runPinch } from './run/pinch.ts';
import { runSteer } from './run/steer.ts';
import { runTrip } from './run/trip.ts';
import type { Setting } from './setting.ts';
import { tyrePairs } from './tyre-pairs.ts';
import { moveNames } from './words.ts';

export interface Plan {
  readonly candidate: ResolvedCandidate;
  readonly setting: Setting;
  /** The reference bicycle; undefined when the brief names none or it cannot be computed. */
  readonly reference: Reference | undefined;
  readonly quantities: readonly Quantity[];
  readonly disciplines: ReadonlySet<Discipline>;
  /** See `tyrePairs`. */
  readonly tyrePairs: Int32Array;
}

export interface Evaluation {
  readonly quantities: readonly Quantity[];
  /** SI; NaN exactly where `reason` is set. */
  readonly value: Float64Array;
  readonly reason: readonly (string | undefined)[];
  readonly results: Results;
}

/** Order in which disciplines run; each may read those before it. */
const ORDER: readonly Discipline[] = [
  'mass',
  'simple',
  'steer',
  'fold',
  'box',
  'path',
  'stow',
  'handling',
  'cables',
  'likeness',
  'frame',
  'stiffness',
  'frame_joints',
  'frame_checks',
  'frame_play',
  'frame_buckling',
  'frame_use',
  'frame_blows',
  'frame_folded',
  'fit',
  'fit_change',
  'hands',
  'effort',
  'burden',
  'pinch',
  'foolproof',
  'drive',
  'trip',
];
const NEEDS: Readonly<Partial<Record<Discipline, readonly Discipline[]>>> = {
  box: ['fold'],
  path: ['fold'],
  stow: ['fold', 'box'],
  handling: ['fold', 'box'],
  cables: ['fold'],
  likeness: ['steer'],
  stiffness: ['frame'],
  frame_joints: ['frame'],
  frame_checks: ['frame'],
  frame_play: ['frame'],
  frame_buckling: ['frame'],
  frame_use: ['frame'],
  frame_blows: ['frame'],
  frame_folded: ['frame', 'handling'],
  fit_change: ['fit'],
  effort: ['mass', 'fold', 'hands'],
  burden: ['mass', 'box', 'handling'],
  hands: ['mass', 'fold'],
  pinch: ['fold', 'hands'],
  foolproof: ['fold'],
  drive: ['mass', 'fold'],
  trip: ['mass', 'effort', 'burden', 'drive'],
};

export function namesFor(candidate: ResolvedCandidate, setting: Setting): SlotNames {
  const { top } = candidate.model;
  return {
    spaces: setting.spaces,
    bodies: top.names.bodies,
    groups: [...new Set(top.massGroup)],
    moves: moveNames(candidate.model),
    joints: top.names.joints,
    lifts: setting.journey.lifts.map((l) => l.name),
  };
}

/** What to compute: all quantities of the given tiers, or just those in `only`. */
export function plan(
  candidate: ResolvedCandidate,
  setting: Setting,
  reference: Reference | undefined,
  tiers: readonly Tier[] = ['drag', 'settle'],
  only?: ReadonlySet<string>,
): Plan {
  const quantities = quantitiesFor(namesFor(candidate, setting)).filter(
    (q) => tiers.includes(q.family.tier) && (!only || only.has(q.id)),
  );
  const disciplines = new Set<Discipline>();
  const add = (d: Discipline): void => {
    for (const before of NEEDS[d] ?? []) add(before);
    disciplines.add(d);
  };
  for (const q of quantities) q.family.needs.forEach(add);
  return { candidate, setting, reference, quantities, disciplines, tyrePairs: tyrePairs(candidate) };
}

/** How much larger each shape may be than drawn, one share per shape: joint hardware that says `estimated`. */
function estimateShares(candidate: ResolvedCandidate, s: State): Float64Array {
  const { top } = candidate.model;
  const shares = new Float64Array(top.names.shapes.length);
  candidate.paths.shapes.forEach((path, i) => {
    if (!top.shapeEstimated[i] || path[0] !== 'joints') return;
    const slot = candidate.hardware[top.names.joints.indexOf(String(path[1]))]?.estimated ?? -1;
    if (slot >= 0) shares[i] = s.value[slot]!;
  });
  return shares;
}

type Mutable<T> = { -readonly [K in keyof T]: T[K] };

/** Runs the plan at the dimensions `x` (the candidate's own when left out). `s` may be lent to save allocation. */
export function evaluate(p: Plan, x?: Float64Array, s: State = p.candidate.model.newState()): Evaluation {
  const { model } = p.candidate;
  model.fill(x ?? model.x, s);
  const failures: Partial<Record<Discipline, string>> = {};
  const results: Mutable<Results> = { model, state: s, setting: p.setting, failures };
  const runs: Record<Discipline, () => void> = {
    mass: () => (results.mass = runMass(model, s)),
    simple: () => (results.simple = countSimple(model)),
    steer: () => (results.steer = runSteer(model, s, p.setting)),
    fold: () => (results.fold = runFold(model, s)),
    path: () => (results.path = runPath(model, s, results.fold!, p.tyrePairs)),
    box: () => {
      if (model.fold.length === 0) throw new Refusal('this bicycle does not fold');
      results.box = runBox(model, s, results.fold!, estimateShares(p.candidate, s));
    },
    stow: () => (results.stow = runStow(model, results.box!, p.setting)),
    handling: () => (results.handling = runHandling(model, results.box!, p.setting)),
    cables: () => (results.cables = foldCables(model, s, results.fold!.plan)),
    likeness: () => {
      if (!p.reference) throw new Refusal('the brief names no reference bicycle that could be computed');
      results.likeness = runLikeness(results.steer!, p.reference.profile);
    },
    frame: () => (results.frame = runFrame(p.candidate, s, p.setting)),
    stiffness: () => {
      const { model: frame, solver } = results.frame!;
      results.stiffness = runStiffness(frame, solver);
      const wobble = runWobble(model, s, results.stiffness);
      if (wobble) results.wobble = wobble;
    },
    frame_joints: () => (results.frameJoints = runFrameJoints(p.candidate, s, results.frame!)),
    frame_checks: () => (results.frameChecks = runFrameChecks(p.candidate, s, results.frame!)),
    frame_play: () => (results.framePlay = runFramePlay(results.frame!)),
    frame_buckling: () => (results.frameBuckling = runFrameBuckling(results.frame!)),
    frame_use: () => (results.frameUse = runFrameUse(results.frame!, p.setting)),
    frame_blows: () => (results.frameBlows = runFrameBlows(results.frame!)),
    frame_folded: () => {
      const { rest } = results.handling!.standing;
      const up = rest.converged ? rest.up : results.box!.folded.up;
      results.frameFolded = runFrameFolded(p.candidate, s, p.setting, results.frame!, results.fold!.plan, up);
    },
    fit: () => (results.fit = runFit(p.candidate, s, p.setting, p.reference?.knees())),
    fit_change: () => (results.fitChange = runFitChange(results.fit!)),
    effort: () => (results.effort = runEffort(p.candidate, s, p.setting, results.mass!, results.fold!, results.hands!)),
    burden: () => (results.burden = runBurden(model, p.setting, results.mass!, results.box!, results.handling!)),
    hands: () => (results.hands = runHands(p.candidate, s, p.setting, results.mass!, results.fold!)),
    pinch: () => (results.pinch = runPinch(p.candidate, s, results.fold!, results.hands!)),
    foolproof: () => (results.foolproof = runFoolproof(p.candidate, s, results.fold!)),
    drive: () => (results.drive = runDrive(p.candidate, s, p.setting, results.mass!, results.fold!, results.steer)),
    trip: () =>
      (results.trip = runTrip(
        p.candidate,
        s,
        p.setting,
        results.mass!,
        results.effort!,
        results.burden!,
        results.drive!,
      )),
  };
  for (const d of ORDER) {
    if (!p.disciplines.has(d)) continue;
    const missing = (NEEDS[d] ?? []).find((before) => failures[before] !== undefined);
    if (missing) {
      failures[d] = failures[missing]!;
      continue;
    }
    try {
      runs[d]();
    } catch (error) {
      // kernels refuse impossible bicycles with a RangeError that says why; anything else is our own defect
      if (!(error instanceof RangeError || error instanceof Refusal)) throw error;
      failures[d] = error.message;
    }
  }
  const value = new Float64Array(p.quantities.length);
  const reason = p.quantities.map((q, i) => {
    const got = readQuantity(results, q);
    value[i] = isAbsent(got) ? Number.NaN : got;
    return isAbsent(got) ? got.absent : undefined;
  });
  return { quantities: p.quantities, value, reason, results };
}

class Refusal extends Error {}

/** One quantity from results that hold the disciplines it needs. */
export function readQuantity(results: Results, q: Quantity): number | Absent {
  for (const d of q.family.needs) {
    const why = results.failures[d];
    if (why !== undefined) return absent(why);
  }
  const got = q.family.read(results, q.slot);
  return isAbsent(got) || Number.isFinite(got) ? got : absent('the computation gave no finite number');
}
