/**
 * A step in the road and a drop from a kerb: the greatest wheel force from speed, height, tyre and the mass behind it, with the inertia
 * that completes it.
 *
 * Step: the rest load plus the wheel's extra force at its greatest (`tyreOnStep`), front wheel, then rear. The mass behind the hub
 * follows from the bicycle's lumps, the luggage and the part of the rider that follows within so short a time; the rest of the
 * rider only weighs. Kerb: both wheels land (`landing`) with a rider who stands on level pedals; the moments of greatest tyre
 * force and of greatest rider force are two states. Both tyres press alike; what moment that leaves turns the bicycle, which
 * nothing but its inertia answers. Every state balances by itself.
 * Check against measurements: De Lorenzo & Hull 1999 report axle loads up to about 3 (front) and 5 (rear) times the rider's weight off road.
 * Units: mm, N, kg. Not here: spokes and rim, both wheels on steps at once, a rider who lifts the wheel.
 */
import { STANDARD_GRAVITY as g } from '../../math/constants.ts';
import type { FrameContext, Lump } from '../places.ts';
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
import { landOnTyres } from './landing.ts';
import { carried, lackingToRide, luggageNote, onRoad, seatedRider, weightOf } from './rider.ts';
import { contactUnder, inertiaRelief, leaned, massOf, mobilityAt, onMasses, onWheels } from './statics.ts';
import { type StepResult, tyreOnStep } from './tyre-on-step.ts';

/** m/s and mm/s of a speed in km/h. */
const mps = (kmh: number): number => kmh / 3.6;

/** The part of the rider that moves with the bicycle, as lumps on saddle, grips and pedals. */
function coupledRider(context: FrameContext, share: number): readonly Lump[] {
  const { places, rider, seated } = context;
  const mass = share * rider;
  const lump = (node: number, part: number, at = context.structure.nodes[node]!.at): Lump => ({
    node,
    mass: mass * part,
    at,
  });
  return [
    lump(places.saddleClamp, seated[0], context.saddle),
    lump(places.gripLeft, seated[1] / 2),
    lump(places.gripRight, seated[1] / 2),
    lump(places.crank, seated[2]),
  ].filter((part) => part.mass > 0);
}

export function stepCase(context: FrameContext, f: FigureValues): CaseLoads | NotApplicable {
  const absent = lackingToRide(context);
  if (absent) return absent;
  const least = Math.min(context.rearRadius, context.frontRadius);
  if (!(f.height! < least / 2))
    return notApplicable(`a step of ${f.height} mm is more than half the wheel’s radius: it is not ridden over`);
  const masses = [...carried(context), ...coupledRider(context, f.coupled!)];
  const resting = leaned(context, [...seatedRider(context, 1), ...weightOf(carried(context))]);
  const ground = onWheels(context, resting, 'rear');
  const rest = [...resting, ...ground.loads];
  const wheel = (
    axle: 'frontAxle' | 'rearAxle',
  ): { readonly loads: readonly NodeLoad[]; readonly result: StepResult } => {
    const isFront = axle === 'frontAxle';
    const load = (isFront ? ground.front : ground.rear)[2];
    const result = tyreOnStep({
      radius: isFront ? context.frontRadius : context.rearRadius,
      height: f.height!,
      speed: mps(f.speed!) * 1000,
      load: Math.max(0, load),
      tyre: {
        stiffness: f.tyre!,
        stroke: f.stroke! * (isFront ? context.frontTyre : context.rearTyre),
        rim: f.rim!,
      },
      mobility: mobilityAt(masses, placeAt(context, axle)),
    });
    // The tyre's force passes through the axle: the wheel turns freely on it.
    const extra = [force(context.places[axle], [result.force[0], 0, result.force[1] - load])];
    return { loads: [...rest, ...extra, ...inertiaRelief(context.structure, extra, masses)], result };
  };
  const front = wheel('frontAxle');
  const rear = wheel('rearAxle');
  const words = (name: string, { result }: typeof front) => [
    { what: `${name} wheel, greatest force`, unit: 'N', value: result.peak },
    { what: `${name} wheel, rearward part`, unit: 'N', value: -result.force[0] },
    { what: `${name} tyre pressed in`, unit: 'mm', value: result.pressed },
  ];
  return caseLoads(onRoad(context, [rest, front.loads, rear.loads]), ['at rest', 'front wheel', 'rear wheel'], {
    ranges: [{ label: 'front wheel, then rear', states: [0, 1, 2], cycles: 1 }],
    findings: [...words('front', front), ...words('rear', rear)],
    notes: [
      ...luggageNote(context),
      ...[front, rear].flatMap(({ result }, i) => {
        const name = i === 0 ? 'front' : 'rear';
        return [
          ...(result.bottomed
            ? [`the ${name} tyre bottoms on its rim: the force depends on the rim, and the tyre is pinched`]
            : []),
          ...(result.climbed ? [] : [`the bicycle stops before its ${name} wheel is on the step`]),
        ];
      }),
    ],
  });
}

export function kerbCase(context: FrameContext, f: FigureValues): CaseLoads | NotApplicable {
  const absent = lackingToRide(context);
  if (absent) return absent;
  const { places } = context;
  const masses = carried(context);
  const mass = massOf(masses);
  const width = Math.min(context.frontTyre, context.rearTyre);
  const result = landOnTyres({
    height: f.height!,
    bicycle: mass,
    rider: context.rider,
    tyre: { stiffness: f.tyre!, stroke: f.stroke! * width, rim: f.rim! },
    legs: f.legs!,
  });
  const { structure } = context;
  const state = (tyres: number, rider: number): readonly NodeLoad[] => {
    const hand: readonly [number, number, number] = [0, 0, (-rider * f.hands!) / 2];
    const tyre = (axle: 'rearAxle' | 'frontAxle'): NodeLoad =>
      force(places[axle], [0, 0, tyres / 2], contactUnder(context, axle));
    const loads = [
      force(places.gripLeft, hand),
      force(places.gripRight, hand),
      force(places.crank, [0, 0, -rider * (1 - f.hands!)]),
      ...onMasses(masses, () => [0, 0, -(tyres - rider) / mass]),
      tyre('rearAxle'),
      tyre('frontAxle'),
    ];
    // within hundredths of a second nobody leans: what is left of pitch and roll turns the bicycle
    return [...loads, ...inertiaRelief(structure, loads, masses)];
  };
  const { tyresMost, riderMost } = result;
  return caseLoads(
    onRoad(context, [state(tyresMost.tyres, tyresMost.rider), state(riderMost.tyres, riderMost.rider)]),
    ['tyres press hardest', 'rider presses hardest'],
    {
      ranges: [{ label: 'in the air to landed', states: [UNLOADED, 0, 1], cycles: 1 }],
      findings: [
        { what: 'both tyres, greatest force', unit: 'N', value: tyresMost.tyres },
        { what: 'rider on pedals and grips, greatest force', unit: 'N', value: riderMost.rider },
        { what: 'the same over the rider’s weight', unit: '1', value: riderMost.rider / (context.rider * g) },
      ],
      notes: [
        ...luggageNote(context),
        ...(result.bottomed ? ['the tyres bottom on their rims: the force depends on the rims'] : []),
      ],
    },
  );
}
