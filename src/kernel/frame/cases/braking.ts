/**
 * Braking with the front wheel up to the point where the rear wheel lifts; the rider is held by arms, feet and saddle.
 *
 * Deceleration a: the share asked for of g (w − x)/h for bicycle, luggage and rider together (`pitchOver`), or what the grip allows.
 * Rider: arms are struts that carry a share of the inertia m a into the bar along their own line; the feet carry the rest on level
 * pedals; saddle and pedals share what vertical force is left so that the rider does not pitch. Where the saddle would have to
 * pull, it carries nothing, and the arms are found from the moment instead; likewise where the feet would have to pull up.
 * Brake: a disc or hub brake hands its torque to the fork at the axle; a rim brake drags the crown ahead and presses the axle back.
 * Both are run. Source: moments, theory; C. Riel 2005 for the limit. Units: mm, N, kg, m/s².
 * Not here: slopes, the rear brake, sliding forward on the saddle, dive of suspensions.
 */
import { STANDARD_GRAVITY as g } from '../../math/constants.ts';
import { add, cross, scale, sub, unit, type Vec3 } from '../../math/rigid.ts';
import { pitchOver } from '../../steer/load.ts';
import type { FrameContext, Lump } from '../places.ts';
import type { NodeLoad } from '../structure.ts';
import type { FigureValues } from './figures.ts';
import { type CaseLoads, caseLoads, force, type NotApplicable, notApplicable, placeAt } from './frame-case.ts';
import { armDirection, atRest, carried, gripMiddle, lackingToRide, luggageNote, onRoad } from './rider.ts';
import { centreOf, contactUnder, leaned, massOf, onMasses, onWheels } from './statics.ts';

/** Deceleration, m/s², at which the rear wheel of bicycle, luggage and rider lifts on the level. */
export function liftingDeceleration(context: FrameContext): number {
  const all: readonly Lump[] = [...carried(context), { node: -1, mass: context.rider, at: context.riderCom }];
  const rear = contactUnder(context, 'rearAxle');
  const com = scale(sub(centreOf(all), [0, 0, rear[2]]), 1e-3);
  const total = { mass: massOf(all), com, inertia: [0, 0, 0, 0, 0, 0] as const };
  const frontX = contactUnder(context, 'frontAxle')[0];
  return pitchOver({ total, rearX: rear[0] / 1000, frontX: frontX / 1000, gravity: g });
}

export interface BracedRider {
  readonly loads: readonly NodeLoad[];
  /** Along the arms, both together, N. */
  readonly arms: number;
  /** Down on saddle and pedals, N. */
  readonly saddle: number;
  readonly pedals: number;
}

/** Arms steeper than this (x part of their direction) push level instead: straight arms hardly hold a rider back. */
const STEEP_ARMS = 0.25;

/** Forces of a rider who is decelerated at `a` (m/s²). */
export function bracedRider(context: FrameContext, a: number, armShare: number): BracedRider {
  const { places, rider } = context;
  const crank = placeAt(context, 'crank');
  const line = armDirection(context);
  const arm: Vec3 = line[0] > STEEP_ARMS ? line : [1, 0, 0];
  const grip = sub(gripMiddle(context), crank);
  const com = sub(context.riderCom, crank);
  const seat = sub(context.saddle, crank);
  const inertia = rider * a;
  const weight = rider * g;
  // Moments about the crank axle, positive nose down.
  const turning = com[2] * inertia + com[0] * weight;
  const perArm = grip[2] * arm[0] - grip[0] * arm[2];
  let arms = (armShare * inertia) / arm[0];
  let saddle = (arms * perArm - turning) / -seat[0];
  if (saddle < 0) {
    saddle = 0;
    arms = turning / perArm;
  }
  let pedals = weight + arms * arm[2] - saddle;
  if (pedals < 0) {
    pedals = 0;
    arms = (turning - seat[0] * weight) / (perArm + seat[0] * arm[2]);
    saddle = weight + arms * arm[2];
  }
  const hand = scale(arm, arms / 2);
  return {
    loads: [
      force(places.gripLeft, hand),
      force(places.gripRight, hand),
      force(places.saddleClamp, [0, 0, -saddle], context.saddle),
      force(places.crank, [inertia - arms * arm[0], 0, -pedals]),
    ],
    arms,
    saddle,
    pedals,
  };
}

/** The front wheel's force as the fork feels it from a rim brake: brake blocks at the crown, the rest at the axle. */
function throughRim(context: FrameContext, front: Vec3, depth: number): readonly NodeLoad[] {
  const { places, frontRadius, frontTyre } = context;
  const axle = placeAt(context, 'frontAxle');
  const crown = placeAt(context, 'crown');
  const up = unit([crown[0] - axle[0], 0, crown[2] - axle[2]]);
  const blocks = frontRadius - frontTyre - depth;
  const drag = scale(cross([0, 1, 0], up), (-front[0] * frontRadius) / blocks);
  // What the ground gives sideways goes through the contact with either brake.
  const sideways: Vec3 = [0, front[1], 0];
  return [
    force(places.crown, drag, add(axle, scale(up, blocks))),
    force(places.frontAxle, sub(sub(front, sideways), drag)),
    force(places.frontAxle, sideways, contactUnder(context, 'frontAxle')),
  ];
}

export function brakingCase(context: FrameContext, f: FigureValues): CaseLoads | NotApplicable {
  const absent = lackingToRide(context);
  if (absent) return absent;
  if (!(placeAt(context, 'crank')[0] - context.saddle[0] > 20))
    return notApplicable('the saddle is not behind the bottom bracket: how such a rider braces is not modelled');
  if (!(context.frontRadius - context.frontTyre - f.rim_depth! > 50))
    return notApplicable('the front wheel is too small for its tyre to tell where a rim brake acts');
  const lifting = liftingDeceleration(context);
  const a = Math.min(f.share! * lifting, f.grip! * g);
  const rider = bracedRider(context, a, f.arms!);
  const loads = leaned(context, [...rider.loads, ...onMasses(carried(context), () => [a, 0, -g])]);
  const ground = onWheels(context, loads, 'front');
  const [rear, front] = ground.loads;
  const rim = throughRim(context, ground.front, f.rim_depth!);
  return caseLoads(
    onRoad(context, [[...loads, rear!, front!], [...loads, rear!, ...rim], atRest(context)]),
    ['disc or hub brake', 'rim brake', 'rolling'],
    {
      ranges: [
        { label: 'rolling to braking, disc or hub brake', states: [2, 0], cycles: 1 },
        { label: 'rolling to braking, rim brake', states: [2, 1], cycles: 1 },
      ],
      findings: [
        { what: 'deceleration at which the rear wheel lifts', unit: 'm/s²', value: lifting },
        { what: 'deceleration', unit: 'm/s²', value: a },
        { what: 'braking force', unit: 'N', value: -ground.front[0] },
        { what: 'load on the front wheel', unit: 'N', value: ground.front[2] },
        { what: 'load left on the rear wheel', unit: 'N', value: ground.rear[2] },
        { what: 'push of both arms', unit: 'N', value: rider.arms },
        { what: 'load on the saddle', unit: 'N', value: rider.saddle },
        { what: 'load on the pedals', unit: 'N', value: rider.pedals },
      ],
      notes: [
        ...luggageNote(context),
        ...(rider.saddle < 0
          ? ['neither saddle nor feet can hold a rider who braces like this: take it as a bound']
          : []),
      ],
    },
  );
}
