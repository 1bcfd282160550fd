/**
 * The rider as a free body: what saddle, bar and pedals feel of a person who is held by them alone.
 *
 * Units: mm, N, kg. Assumptions: the rider is rigid while forces are found; arms are struts from shoulder to grip; both hands
 * share equally unless a case says otherwise; cranks are level and locked by nothing, so that the two feet of a rider
 * who does not pedal balance about the crank axle. Not here: muscles, the swing of the upper body.
 */
import { STANDARD_GRAVITY as g } from '../../math/constants.ts';
import { add, scale, sub, unit, type Vec3 } from '../../math/rigid.ts';
import type { FrameContext, Lump } from '../places.ts';
import type { LoadGroup, NodeLoad } from '../structure.ts';
import { clamp, steeringLock } from './fixtures.ts';
import { force, lacking, type NotApplicable, placeAt } from './frame-case.ts';
import { leaned, onMasses, onWheels } from './statics.ts';

/** What every case on the road needs of the bicycle. */
export const lackingToRide = (context: FrameContext): NotApplicable | undefined =>
  lacking(context, 'rearAxle', 'frontAxle', 'crank', 'saddleClamp', 'gripLeft', 'gripRight', 'headBottom', 'crown');

/**
 * Nothing but the ground and inertia hold a bicycle on the road: its loads balance by themselves. The supports only fix the
 * frame of reference (their reactions are 0, which tests check), and the rider keeps the bar straight.
 */
export const onRoad = (context: FrameContext, loads: LoadGroup['loads']): LoadGroup => ({
  supports: clamp(context.places.rearAxle),
  fixtures: [steeringLock(context)],
  loads,
});

/** The bicycle's lumps and the luggage, where there is a place for it. */
export function carried(context: FrameContext): readonly Lump[] {
  const { places, luggage, lumps } = context;
  return luggage > 0 && places.luggage >= 0
    ? [...lumps, { node: places.luggage, mass: luggage, at: context.luggageAt ?? placeAt(context, 'luggage') }]
    : lumps;
}
export const luggageNote = (context: FrameContext): readonly string[] =>
  context.luggage > 0 && context.places.luggage < 0
    ? [`the bicycle has no place for the luggage: ${context.luggage} kg are left out`]
    : [];

export const weightOf = (masses: readonly Lump[], factor = 1): NodeLoad[] =>
  onMasses(masses, () => [0, 0, -factor * g]);

/** Seated and rolling on the level, or standing still: between two strokes, before braking. In balance. */
export function atRest(context: FrameContext): readonly NodeLoad[] {
  const loads = leaned(context, [...seatedRider(context, 1), ...weightOf(carried(context))]);
  return [...loads, ...onWheels(context, loads, 'rear').loads];
}

export const gripMiddle = (context: FrameContext): Vec3 =>
  scale(add(placeAt(context, 'gripLeft'), placeAt(context, 'gripRight')), 0.5);

/** From the shoulders along the arms to the grips, in the bicycle's plane. */
export function armDirection(context: FrameContext): Vec3 {
  const d = sub(gripMiddle(context), context.shoulder);
  return unit([d[0], 0, d[2]]);
}

/** Steeper than this the arms push down alone: level arms cannot carry weight. Sine of 15°, from memory. */
const LEVEL_ARMS = 0.26;

/** A rider at rest: weight on saddle, grips and pedals by their shares; the arms also push ahead, the saddle back. */
export function seatedRider(context: FrameContext, factor: number): NodeLoad[] {
  const { places, seated } = context;
  const weight = factor * context.rider * g;
  const arm = armDirection(context);
  const onHands = weight * seated[1];
  const ahead = arm[2] < -LEVEL_ARMS ? (onHands * arm[0]) / -arm[2] : 0;
  const hand: Vec3 = [ahead / 2, 0, -onHands / 2];
  return [
    force(places.saddleClamp, [-ahead, 0, -weight * seated[0]], context.saddle),
    force(places.gripLeft, hand),
    force(places.gripRight, hand),
    force(places.crank, [0, 0, -weight * seated[2]]),
  ];
}

/** Both hands along the steering axis, so that they do not turn the bar: `left` and `right` positive up. */
export const handsAlongAxis = (context: FrameContext, left: number, right: number): NodeLoad[] => [
  force(context.places.gripLeft, scale(context.steerAxis, left)),
  force(context.places.gripRight, scale(context.steerAxis, right)),
];

export interface ChainRun {
  /** Tension, N, and drive force at the rear contact, N. */
  readonly tension: number;
  readonly drive: number;
  readonly loads: readonly NodeLoad[];
}

/**
 * The pull of the upper run for a torque about the crank axle (N·mm), on chainring and sprocket. The run is the common tangent of
 * both; the sprocket's torque leaves through the wheel as drive at the ground, which the caller puts there.
 */
export function chainRun(context: FrameContext, torque: number): ChainRun {
  const { places, ringRadius, sprocketRadius, chainline, rearRadius } = context;
  const crank = placeAt(context, 'crank');
  const axle = placeAt(context, 'rearAxle');
  const between: Vec3 = [axle[0] - crank[0], 0, axle[2] - crank[2]];
  const distance = Math.sqrt(between[0] * between[0] + between[2] * between[2]);
  const e = scale(between, 1 / distance);
  // Square to the line of centres, upwards.
  const normal: Vec3 = scale([-e[2], 0, e[0]], e[0] < 0 ? -1 : 1);
  const s = (ringRadius - sprocketRadius) / distance;
  const out = add(scale(e, s), scale(normal, Math.sqrt(1 - s * s)));
  const along = add(scale(e, Math.sqrt(1 - s * s)), scale(normal, -s));
  const tension = torque / ringRadius;
  const pull = scale(along, tension);
  const atRing = add([crank[0], chainline, crank[2]], scale(out, ringRadius));
  const atSprocket = add([axle[0], chainline, axle[2]], scale(out, sprocketRadius));
  return {
    tension,
    drive: (tension * sprocketRadius) / rearRadius,
    loads: [force(places.crank, pull, atRing), force(places.rearAxle, scale(pull, -1), atSprocket)],
  };
}
