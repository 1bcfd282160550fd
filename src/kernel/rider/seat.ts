/**
 * A rider seated on a bicycle: posture, what does not fit, and one rigid mass.
 *
 * Method: hip joints over the saddle's centre; feet on level cranks, right one forward, ball of the foot over the pedal
 * axle, heel raised 15°; knees by two circles, bent forward; hands at the grips; the trunk leans so that the elbows bend
 * by 20°, within 60-85° to the ground, further (to 30°) only to reach the grips at all; elbows by two circles, hanging
 * down and out; neck extended by 30° at most. Segments after de Leva 1996.
 * Sources: fit rules and links in `body-links.ts`, segments in `de-leva.ts`; comfortable ranges: default, from memory.
 * Validity: adults on upright bicycles. Against one measured rider (72 kg, 1.83 m) on a city bicycle this segment model came
 * within 5 cm (CoM) and 10 % (Izz), and 25 % high (Ixx, sensitive to height): state that with every result.
 * Not here: moving riders, recumbents, riders' own preferences.
 */
import { combine, type RigidMass } from '../mass/rigid-mass.ts';
import { add, norm, scale, sub, type Vec3 } from '../math/rigid.ts';
import { bodyLinks, type Links, type Rider } from './body-links.ts';
import { armSpan2, trunkForReach } from './reach.ts';
import { bodySegment, c7, headLength, type Segment } from './segments.ts';
import { flexionAt, twoLink } from './two-link.ts';

/** The bicycle's contact points, m, ISO 8855. The saddle is the centre of its top, already at the rider's height. */
export interface ContactPoints {
  readonly saddle: Vec3;
  readonly gripLeft: Vec3;
  readonly gripRight: Vec3;
  readonly crank: Vec3;
  readonly crankLength: number;
  /** Pedal centre from the mid-plane; 0.133 m (156 mm tread) when missing. */
  readonly pedalOut?: number;
}

/** Comfortable ranges, rad: default, from memory. */
export const COMFORT = {
  trunk: [60, 85],
  elbow: [10, 40],
  kneeBottom: [25, 40],
  kneeTopMost: 115,
  neckExtensionMost: 30,
} as const;
/** 1-sigma to state with a rider built here: CoM in m, inertias relative (see the header). */
export const RIDER_SPREAD = { com: 0.05, Ixx: 0.25, Izz: 0.1, kneeAngle: (10 * Math.PI) / 180 } as const;

export type MisfitCode =
  | 'trunk.upright'
  | 'trunk.low'
  | 'elbow.straight'
  | 'elbow.bent'
  | 'grips.out_of_reach'
  | 'pedal.out_of_reach'
  | 'knee.straight'
  | 'knee.bent'
  | 'knee.top';
/** What does not fit: `value` and the `limit` it misses, rad or (out of reach) m beyond the limb. */
export interface Misfit {
  readonly code: MisfitCode;
  readonly value: number;
  readonly limit: number;
}
/** rad. Trunk to the ground; flexions from straight; `hipForward`, `hipRear`: thigh to trunk, included. */
export interface PostureAngles {
  readonly trunk: number;
  readonly elbowLeft: number;
  readonly elbowRight: number;
  readonly kneeForward: number;
  readonly kneeRear: number;
  /** Knee flexion with the crank in line with hip and crank, at the bottom and at the top: ±10° in absolute terms. */
  readonly kneeBottom: number;
  readonly kneeTop: number;
  readonly hipForward: number;
  readonly hipRear: number;
  readonly neckExtension: number;
}
export interface SeatedRider {
  readonly rigid: RigidMass;
  readonly segments: readonly Segment[];
  readonly angles: PostureAngles;
  readonly misfits: readonly Misfit[];
  readonly hip: Vec3;
  readonly shoulder: Vec3;
}

const DEG = Math.PI / 180;
const ELBOW_TARGET = 20 * DEG;
const TRUNK_LEAST = 30 * DEG;
export const HEEL_UP = 15 * DEG;
/** Sole and the pedal's half thickness. */
export const SOLE = 0.03;
/** Pedal middle from the mid-plane, m: a tread of 156 mm; default, from memory. */
export const PEDAL_OUT = 0.133;

/** Ankle, heel and toe from the pedal axle, heel raised by `pitch`: R(−ψ) of the flat foot. x forward, z up. */
function footOn(links: Links, pedal: Vec3, pitch = HEEL_UP): { ankle: Vec3; heel: Vec3; toe: Vec3 } {
  const c = Math.cos(pitch);
  const s = Math.sin(pitch);
  const place = (x: number, z: number): Vec3 => [pedal[0] + x * c + z * s, pedal[1], pedal[2] - x * s + z * c];
  return {
    ankle: place(links.ankleAhead - links.ball, links.ankle + SOLE),
    heel: place(-links.ball, SOLE),
    toe: place(links.foot - links.ball, SOLE),
  };
}

/** Knee flexion (rad) with the pedal at `pedal`, hip and foot in one plane. */
export function kneeFlexion(links: Links, hip: Vec3, pedal: Vec3, pitch = HEEL_UP): number {
  return flexionAt(links.thigh, links.shank, norm(sub(footOn(links, pedal, pitch).ankle, hip)));
}

/** Seats the rider. @throws RangeError for a mass that is not positive or a stature outside 1.0-2.3 m. */
export function seatRider(rider: Rider, points: ContactPoints): SeatedRider {
  if (!(rider.mass > 0 && Number.isFinite(rider.mass)))
    throw new RangeError(`rider mass must be positive, got ${rider.mass}`);
  const links = bodyLinks(rider);
  const misfits: Misfit[] = [];
  const segments: Segment[] = [];
  const hip = add(points.saddle, [0, 0, links.hipAboveSaddle]);

  const trunk = leanToReach(links, hip, points);
  const shoulder = add(hip, [links.trunk * Math.cos(trunk), 0, links.trunk * Math.sin(trunk)]);
  note(misfits, trunk, COMFORT.trunk, 'trunk.low', 'trunk.upright');

  const arms = [1, -1].map((side) => {
    const grip = side > 0 ? points.gripLeft : points.gripRight;
    const joint = add(shoulder, [0, side * links.shoulderHalf, 0]);
    const arm = twoLink(joint, grip, links.upperArm, links.forearm, [0, side * 0.5, -1]);
    if (arm.miss > 0) misfits.push({ code: 'grips.out_of_reach', value: arm.miss, limit: 0 });
    else note(misfits, arm.flexion, COMFORT.elbow, 'elbow.straight', 'elbow.bent');
    const end = side > 0 ? 'left' : 'right';
    const hand = bodySegment(rider, 'hand', `hand_${end}`, arm.middle, grip);
    // The forearm link ends in the grip, half a palm beyond the wrist; the hand is centred on the grip.
    const reach = norm(sub(grip, arm.middle));
    const wrist = add(arm.middle, scale(sub(grip, arm.middle), 1 - handBeyondWrist(links) / reach));
    segments.push(
      bodySegment(rider, 'upper_arm', `upper_arm_${end}`, joint, arm.middle),
      bodySegment(rider, 'forearm', `forearm_${end}`, arm.middle, wrist),
      { ...hand, from: wrist, rigid: { ...hand.rigid, com: grip } },
    );
    return arm;
  });

  const pedalOut = points.pedalOut ?? PEDAL_OUT;
  const legs = [1, -1].map((side) => {
    const end = side > 0 ? 'left' : 'right';
    const pedal = add(points.crank, [-side * points.crankLength, side * pedalOut, 0]);
    const joint = add(hip, [0, side * links.hipHalf, 0]);
    const foot = footOn(links, pedal);
    const leg = twoLink(joint, foot.ankle, links.thigh, links.shank, [1, 0, 0]);
    if (leg.miss > 0) misfits.push({ code: 'pedal.out_of_reach', value: leg.miss, limit: 0 });
    segments.push(
      bodySegment(rider, 'thigh', `thigh_${end}`, joint, leg.middle),
      bodySegment(rider, 'shank', `shank_${end}`, leg.middle, foot.ankle),
      bodySegment(rider, 'foot', `foot_${end}`, foot.heel, foot.toe),
    );
    return { ...leg, joint };
  });

  // Bottom and top of the stroke: crank in line with crank centre and hip.
  const line = sub(hip, points.crank);
  const crankLine = scale([line[0], 0, line[2]], points.crankLength / Math.sqrt(line[0] * line[0] + line[2] * line[2]));
  const kneeBottom = kneeFlexion(links, hip, sub(points.crank, crankLine));
  const kneeTop = kneeFlexion(links, hip, add(points.crank, crankLine));
  note(misfits, kneeBottom, COMFORT.kneeBottom, 'knee.straight', 'knee.bent');
  if (kneeTop > COMFORT.kneeTopMost * DEG)
    misfits.push({ code: 'knee.top', value: kneeTop, limit: COMFORT.kneeTopMost * DEG });

  // Head: upright as far as the neck extends.
  const neckExtension = Math.min(Math.max(0, Math.PI / 2 - trunk), COMFORT.neckExtensionMost * DEG);
  const headTilt = trunk + neckExtension;
  const neck = c7(rider, hip, shoulder, links.shoulder);
  const vertex = add(neck, scale([Math.cos(headTilt), 0, Math.sin(headTilt)], headLength(rider)));
  segments.push(bodySegment(rider, 'trunk', 'trunk', shoulder, hip), bodySegment(rider, 'head', 'head', vertex, neck));

  const included = (k: Vec3, j: Vec3): number => {
    const t = sub(k, j);
    const u = sub(shoulder, hip);
    return Math.acos(Math.max(-1, Math.min(1, (t[0] * u[0] + t[1] * u[1] + t[2] * u[2]) / (norm(t) * norm(u)))));
  };
  return {
    rigid: combine(segments.map((s) => s.rigid)),
    segments,
    angles: {
      trunk,
      elbowLeft: arms[0]!.flexion,
      elbowRight: arms[1]!.flexion,
      kneeForward: legs[1]!.flexion,
      kneeRear: legs[0]!.flexion,
      kneeBottom,
      kneeTop,
      hipForward: included(legs[1]!.middle, legs[1]!.joint),
      hipRear: included(legs[0]!.middle, legs[0]!.joint),
      neckExtension,
    },
    misfits,
    hip,
    shoulder,
  };
}

/**
 * Trunk angle to the ground at which the arms reach the grips with the elbows bent by 20°. The shoulder turns about the
 * hip on a circle, so its distance to the grip gives the angle in closed form. Kept in 60-85°; leaned further, down
 * to 30°, only as far as straight arms need.
 */
function leanToReach(links: Links, hip: Vec3, points: ContactPoints): number {
  const [least, most] = [COMFORT.trunk[0] * DEG, COMFORT.trunk[1] * DEG];
  const wanted = angleForReach(links, hip, points, armSpan(links, ELBOW_TARGET));
  if (wanted > most) return most;
  if (wanted >= least) return wanted;
  const straight = angleForReach(links, hip, points, armSpan(links, 0));
  return Math.max(TRUNK_LEAST, Math.min(least, straight));
}

const armSpan = (l: Links, elbow: number): number => armSpan2(l.upperArm, l.forearm, elbow);

/** The larger trunk angle at which shoulder and grip are √span2 apart; towards the grips when they are too far, π when too near. */
function angleForReach(links: Links, hip: Vec3, points: ContactPoints, span2: number): number {
  const x = (points.gripLeft[0] + points.gripRight[0]) / 2 - hip[0];
  const z = (points.gripLeft[2] + points.gripRight[2]) / 2 - hip[2];
  const out = (points.gripLeft[1] - points.gripRight[1]) / 2 - links.shoulderHalf;
  const angle = trunkForReach(links.trunk, x, z, span2 - out * out);
  return Number.isNaN(angle) ? Math.atan2(z, x) : angle;
}

/** The forearm link ends half a palm beyond the wrist: 58.23 of 326.11 mm (men), 54.35 of 295.68 mm (women), ANSUR II. */
const handBeyondWrist = (l: Links): number => 0.18 * l.forearm;

function note(
  out: Misfit[],
  value: number,
  [low, high]: readonly [number, number],
  under: MisfitCode,
  over: MisfitCode,
): void {
  // Angles that the solver itself set to a limit are at the limit, not beyond it.
  const slack = 1e-9;
  if (value < low * DEG - slack) out.push({ code: under, value, limit: low * DEG });
  if (value > high * DEG + slack) out.push({ code: over, value, limit: high * DEG });
}
