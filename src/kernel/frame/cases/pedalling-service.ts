/**
 * Pedalling on the road: a seated stroke and a standing start, each as a bicycle that keeps its balance.
 *
 * One pedal, crank level, carries F. The bicycle stays upright if the moment of F about its mid-plane is answered:
 * standing, only by the hands: on the pedal's side one pulls up P, on the other one pushes down Q, with
 *   P − Q = F − W along the vertical (the rider is held down by what F exceeds the weight) and (P + Q) y_grip = F y_pedal;
 * seated, first by the weight moved sideways on the saddle, then by the hands. The chain takes the torque, the rear tyre drives,
 * and the inertia of bicycle, luggage and rider answers: the rider's through hands and foot. The hands act along the steering axis.
 * Source: equilibrium, theory; size of F: Soden & Adeyefa 1979, J. Biomech. 12:527–541 (up to 3 W when racing riders start),
 * Maestrelli & Falsini 2008 (2 W), Stone & Hull 1995, J. Biomech. 28:365–375 (orders, from memory). Units: mm, N, kg.
 * Not here: leaning the bicycle under the rider, the other foot pulling up, spin-up of the wheels.
 */
import { STANDARD_GRAVITY as g } from '../../math/constants.ts';
import { add, type Vec3 } from '../../math/rigid.ts';
import type { FrameContext } from '../places.ts';
import type { NodeLoad } from '../structure.ts';
import type { FigureValues } from './figures.ts';
import {
  type CaseLoads,
  caseLoads,
  force,
  type NotApplicable,
  notApplicable,
  placeAt,
  UNLOADED,
} from './frame-case.ts';
import {
  atRest,
  carried,
  chainRun,
  handsAlongAxis,
  lackingToRide,
  luggageNote,
  onRoad,
  seatedRider,
  weightOf,
} from './rider.ts';
import { leaned, massOf, onMasses, onWheels } from './statics.ts';

const hasChain = (context: FrameContext): boolean => context.ringRadius > 0 && context.sprocketRadius > 0;

interface Hands {
  /** Along the steering axis, positive up: on the pushing foot's side, on the other. */
  readonly near: number;
  readonly far: number;
}
interface Stroke {
  readonly loads: readonly NodeLoad[];
  readonly hands: Hands;
  readonly tension: number;
  readonly acceleration: number;
  readonly front: number;
}

/** side −1: right pedal, +1: left. `rest` are the rider's other forces, with what they leave of the roll moment to the hands. */
function stroke(context: FrameContext, side: 1 | -1, push: number, rest: readonly NodeLoad[], hands: Hands): Stroke {
  const { places } = context;
  const masses = carried(context);
  const crank = placeAt(context, 'crank');
  const pedal: Vec3 = add(crank, [context.crankLength, side * context.pedalOut, 0]);
  const chain = chainRun(context, push * context.crankLength);
  const acceleration = chain.drive / (massOf(masses) + context.rider);
  const grips = handsAlongAxis(context, side > 0 ? hands.near : hands.far, side > 0 ? hands.far : hands.near);
  // The rider is pushed ahead by the bicycle: what the hands (and the saddle) do not give comes from the foot.
  const given = [...grips, ...rest].reduce((sum, load) => sum + load.force[0], 0);
  const foot = force(places.crank, [-context.rider * acceleration - given, 0, -push], pedal);
  const own = [foot, ...grips, ...rest, ...weightOf(masses), ...onMasses(masses, () => [-acceleration, 0, 0])];
  const loads = [...leaned(context, own, chain.loads), ...chain.loads];
  const ground = onWheels(context, loads, 'rear');
  return { loads: [...loads, ...ground.loads], hands, tension: chain.tension, acceleration, front: ground.front[2] };
}

/** @param between how the bicycle is loaded between two strokes; the same rider stands over it in a start, on both pedals in turn. */
function strokeCase(
  context: FrameContext,
  right: Stroke,
  left: Stroke,
  cycles: string,
  between?: readonly NodeLoad[],
): CaseLoads {
  const lifted = Math.min(right.front, left.front) < 0;
  const states = [right.loads, left.loads, ...(between ? [between] : [])];
  const labels = ['right pedal', 'left pedal', ...(between ? ['between the strokes'] : [])];
  return caseLoads(onRoad(context, states), labels, {
    ranges: [{ label: cycles, states: states.map((_, i) => i), cycles: 1 }],
    findings: [
      { what: 'pull of the chain', unit: 'N', value: right.tension },
      { what: 'hand on the pushing foot’s side, up', unit: 'N', value: right.hands.near },
      { what: 'other hand, up', unit: 'N', value: right.hands.far },
      { what: 'acceleration', unit: 'm/s²', value: right.acceleration },
      { what: 'load left on the front wheel', unit: 'N', value: right.front },
    ],
    notes: [
      ...luggageNote(context),
      ...(lifted
        ? ['the front wheel would lift before this pedal force is reached: the case is harsher than the road allows']
        : []),
    ],
  });
}

export function standingStart(context: FrameContext, f: FigureValues): CaseLoads | NotApplicable {
  const absent = lackingToRide(context);
  if (absent) return absent;
  if (!hasChain(context)) return notApplicable('no chain or belt goes from the cranks to the rear hub');
  const weight = context.rider * g;
  const push = f.factor! * weight;
  const up = context.steerAxis[2];
  const excess = push - weight;
  const couple = (grip: number): number => (push * context.pedalOut) / grip;
  const side = (s: 1 | -1): Stroke => {
    const grip = Math.abs(placeAt(context, s > 0 ? 'gripLeft' : 'gripRight')[1]);
    const sum = couple(grip);
    return stroke(context, s, push, [], { near: (sum + excess) / 2 / up, far: (excess - sum) / 2 / up });
  };
  return strokeCase(context, side(-1), side(1), 'right and left stroke');
}

export function seatedStroke(context: FrameContext, f: FigureValues): CaseLoads | NotApplicable {
  const absent = lackingToRide(context);
  if (absent) return absent;
  if (!hasChain(context)) return notApplicable('no chain or belt goes from the cranks to the rear hub');
  const weight = context.rider * g;
  const push = f.factor! * weight;
  const [saddleAtRest, onGrips] = seatedRider(context, 1);
  const onHands = weight * context.seated[1];
  const onSaddle = weight - onHands - push;
  if (!(onSaddle >= 0))
    return notApplicable(`a stroke of ${f.factor} W lifts the rider off the saddle: see the standing start`);
  const side = (s: 1 | -1): Stroke => {
    const moment = push * context.pedalOut;
    const shift = Math.min(f.saddle_shift!, onSaddle > 0 ? moment / onSaddle : 0);
    const grip = Math.abs(placeAt(context, s > 0 ? 'gripLeft' : 'gripRight')[1]);
    const pull = (moment - onSaddle * shift) / (2 * grip) / context.steerAxis[2];
    const rest = [
      force(
        context.places.saddleClamp,
        [saddleAtRest!.force[0], 0, -onSaddle],
        add(context.saddle, [0, -s * shift, 0]),
      ),
      force(context.places.gripLeft, onGrips!.force),
      force(context.places.gripRight, onGrips!.force),
    ];
    return stroke(context, s, push, rest, { near: pull, far: -pull });
  };
  return strokeCase(context, side(-1), side(1), 'one turn of the cranks', atRest(context));
}

/** Weight at rest. */
export function seatedAtRest(context: FrameContext, f: FigureValues): CaseLoads | NotApplicable {
  const absent = lackingToRide(context);
  if (absent) return absent;
  const loads = leaned(context, [...seatedRider(context, f.factor!), ...weightOf(carried(context), f.factor!)]);
  const ground = onWheels(context, loads, 'rear');
  return caseLoads(onRoad(context, [[...loads, ...ground.loads]]), ['seated'], {
    ranges: [{ label: 'nobody to seated', states: [UNLOADED, 0], cycles: 1 }],
    findings: [
      { what: 'load on the front wheel', unit: 'N', value: ground.front[2] },
      { what: 'load on the rear wheel', unit: 'N', value: ground.rear[2] },
    ],
    notes: luggageNote(context),
  });
}
