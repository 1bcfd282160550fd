/**
 * Hand checks of a candidate's frame, settle tier: walls that buckle, welds at tubes' ends, pins of hinges, clamps of posts.
 *
 * The file does not say how thick a pin or a weld is: the constants here stand in, defaults from memory. Forces are those of the
 * linear cases, joints closed.
 * Units: mm, N, MPa, N·mm.
 */
import {
  aluminiumWeld,
  bandSlip,
  type CaseId,
  type CaseResult,
  endWelds,
  type HingePin,
  KIND,
  pinLoad,
  pinUse,
  type State,
  steelWeld,
  type WeldStrength,
  type WorstPlace,
  wallStrengths,
  worstWall,
  worstWeld,
} from '#kernel';
import { findMaterial, type Material, type ResolvedCandidate } from '#project';
import type { FrameResult } from './frame.ts';
import { RIDING } from './frame-settle.ts';

export interface CheckedPlace extends WorstPlace {
  readonly frameCase: CaseId;
}
export interface CheckedJoint {
  readonly joint: string;
  readonly frameCase: CaseId;
  readonly state: string;
  readonly use: number;
}
export interface CheckedPin extends CheckedJoint {
  /** Force on the pin, and its outside diameter. */
  readonly load: number;
  readonly diameter: number;
}
export interface CheckedClamp extends CheckedJoint {
  /** Along the post and about it. */
  readonly push: number;
  readonly torque: number;
  /** The same under the worst blow of the road. */
  readonly blowUse: number;
}
export interface ChecksResult {
  readonly wall: CheckedPlace | undefined;
  /** Undefined where no tube's end is welded, or nobody knows the weld metal. */
  readonly weld: CheckedPlace | undefined;
  /** The most used first. */
  readonly pins: readonly CheckedPin[];
  readonly clamps: readonly CheckedClamp[];
}

/** Pin of a hinge with a latch: solid. Hollow axle of a plain pivot. mm; defaults, from memory. */
export const PIN = { latch: { diameter: 10, bore: 0 }, plain: { diameter: 15, bore: 10 }, gap: 0.1 } as const;
/** Of pins and axles. */
const PIN_MATERIAL = '42CrMo4+QT';
/** Dry post in its clamp; default, from memory (0.15–0.2, greased 0.1). */
export const POST_FRICTION = 0.15;
/** Principles that hold a post by a slit tube drawn together by their preload. */
const BANDS: ReadonlySet<string> = new Set(['cam_clamp', 'screw_clamp']);
/** Under these tests a post must stay where it is. */
const POST_TESTS: ReadonlySet<CaseId> = new Set(['vertical', 'seat_post']);

/** Characteristic strength of weld metal by alloy, MPa: EN 1999-1-1:2007 Table 8.8, filler 5356; from memory. */
const WELD_METAL: readonly (readonly [alloy: string, MPa: number])[] = [
  ['6061', 190],
  ['6082', 210],
  ['6005', 180],
  ['7005', 260],
  ['7020', 260],
];
/** Of other aluminium alloys: 6063's. */
const OTHER_WELD = 160;

/** β_w of EN 1993-1-8 Table 4.1: 0.8 to S235, 0.9 to S355, 1 above; from memory. */
const betaOf = (yieldAt: number): number => (yieldAt <= 240 ? 0.8 : yieldAt <= 360 ? 0.9 : 1);

export function weldStrength(material: Material): WeldStrength | undefined {
  if (material.fatigueFamily === 'aluminium-weld')
    return aluminiumWeld(WELD_METAL.find(([alloy]) => material.name.startsWith(alloy))?.[1] ?? OTHER_WELD);
  if (material.fatigueFamily !== 'steel-weld') return undefined;
  const { hazUltimate_MPa: beside, ultimate_MPa: plain } = material;
  return steelWeld(Number.isNaN(beside) ? plain : beside, betaOf(material.yield_MPa));
}

/** @param s filled, ride posture. */
export function runFrameChecks(candidate: ResolvedCandidate, s: State, frame: FrameResult): ChecksResult {
  const { built, bearing } = frame.model;
  const { points } = frame;
  const walls = wallStrengths(built, points, frame.strength);
  const ends = endWelds(built, points);
  const metals = bearing.materials.map(weldStrength);
  return {
    wall: worstPlace(frame, (c) => worstWall(c, points, walls)),
    weld: worstPlace(frame, (c) => worstWeld(c, points, ends, metals)),
    pins: pinsOf(candidate, s, frame),
    clamps: clampsOf(candidate, s, frame),
  };
}

const counts = (c: CaseResult): boolean => c.frameCase.kind !== 'screening';

function worstPlace(frame: FrameResult, check: (c: CaseResult) => WorstPlace): CheckedPlace | undefined {
  let worst: CheckedPlace | undefined;
  for (const [frameCase, c] of frame.cases) {
    if (!counts(c)) continue;
    const found = check(c);
    if (found.point >= 0 && (!worst || found.use > worst.use)) worst = { ...found, frameCase };
  }
  return worst;
}

/** Forces of every hinge that is one joint of the structure, under every case and state that may not bend it. */
function eachState(frame: FrameResult, hinge: number, visit: (id: CaseId, state: string, f: Float64Array) => void) {
  const [joint, ...more] = frame.model.built.hingeJoints[hinge]!;
  if (joint === undefined || more.length > 0) return;
  for (const [id, c] of frame.cases) {
    if (!counts(c)) continue;
    c.solutions.forEach((solution, v) => {
      if (!c.loads.fracture?.includes(v))
        visit(id, c.loads.labels[v]!, solution.joint.subarray(6 * joint, 6 * joint + 6));
    });
  }
}

function pinsOf(candidate: ResolvedCandidate, s: State, frame: FrameResult): CheckedPin[] {
  const { hinges, hingeJoint } = frame.model.bearing;
  const steel = findMaterial(PIN_MATERIAL)!;
  return hinges
    .flatMap((hinge, i): CheckedPin[] => {
      const h = candidate.hardware[hingeJoint[i]!]!;
      const length = h.face[1] < 0 ? Number.NaN : 1e3 * s.value[h.face[1]]!;
      if ((hinge.kind !== 'pivot' && hinge.kind !== 'pin') || h.principle === '' || !(length > 0)) return [];
      const preload = h.preload < 0 ? 0 : s.value[h.preload]!;
      const latched = preload > 0;
      const fold = h.opens.find((o) => o.component === 'bendAcross' && o.arm >= 0);
      const pin: HingePin = {
        latched,
        arm: fold ? 1e3 * s.value[fold.arm]! : Number.POSITIVE_INFINITY,
        length,
        preload,
        share: latched && h.openShare >= 0 ? s.value[h.openShare]! : 1,
      };
      const size = latched ? PIN.latch : PIN.plain;
      const plates = weakest(frame, hinge.bodies);
      let worst: CheckedPin | undefined;
      eachState(frame, i, (frameCase, state, f) => {
        const { load } = pinLoad(pin, f);
        if (!(load > 0) || (worst && load <= worst.load)) return;
        const { use } = pinUse(
          { load, ...size, outer: length / 4, inner: length / 2, gap: PIN.gap },
          { Fyp: steel.yield_MPa, Fup: steel.ultimate_MPa, Fy: plates },
        );
        worst = { joint: hinge.name, frameCase, state, use, load, diameter: size.diameter };
      });
      return worst ? [worst] : [];
    })
    .sort((a, b) => b.use - a.use);
}

/** Lowest yield strength among the tubes of two bodies: lugs are taken to be of the tubes' metal. */
function weakest(frame: FrameResult, bodies: readonly number[]): number {
  const { tubes } = frame.model.bearing;
  return Math.min(...frame.strength.filter((_, t) => bodies.includes(tubes[t]!.body)).map((k) => k.yield));
}

function clampsOf(candidate: ResolvedCandidate, s: State, frame: FrameResult): CheckedClamp[] {
  const { tubes, hinges, hingeJoint } = frame.model.bearing;
  const { top } = candidate.model;
  return hinges
    .flatMap((hinge, i): CheckedClamp[] => {
      const j = hingeJoint[i]!;
      const h = candidate.hardware[j]!;
      if (top.kind[j] !== KIND.post || !BANDS.has(h.principle) || h.preload < 0) return [];
      const post = tubes.find((t) => t.body === hinge.bodies[1] && t.shape === 'round');
      if (!post || h.size === undefined) return [];
      const clamp = {
        pull: s.value[h.preload]!,
        diameter: post.ends[0].height,
        // the clamp's band along the post
        length: 1e3 * s.value[h.size[2]]!,
        friction: POST_FRICTION,
      };
      if (!(clamp.pull > 0)) return [];
      let worst: CheckedClamp | undefined;
      let blowUse = 0;
      eachState(frame, i, (frameCase, state, f) => {
        const [push, torque] = [f[2]!, f[5]!];
        const use = bandSlip(clamp, push, torque);
        const counted = RIDING.has(frameCase) || POST_TESTS.has(frameCase);
        if (!counted) blowUse = Math.max(blowUse, frameCase === 'step' || frameCase === 'kerb' ? use : 0);
        else if (!worst || use > worst.use)
          worst = { joint: hinge.name, frameCase, state, use, push, torque, blowUse: 0 };
      });
      return worst ? [{ ...worst, blowUse }] : [];
    })
    .sort((a, b) => b.use - a.use);
}
