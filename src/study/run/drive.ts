/**
 * Drive discipline: gears, power on the brief's road, what the steepest street asks, chain or belt in both postures, braking
 * bounds, the motor.
 *
 * The rider is the brief's usual one with the luggage. What a candidate cannot have (gears without a chain, a motor it does not carry)
 * is left out with the reason; braking needs the steering discipline's loads and is left out where that refuses.
 */
import {
  at3,
  beltWheel,
  CHAIN_PITCH,
  CHAIN_WEAR,
  type CrankLoad,
  cadenceAt,
  centresFor,
  chainWheel,
  crankLoad,
  driveEfficiency,
  type FoldPlan,
  type Gear,
  type GearSet,
  gearSet,
  LEAST_RIDING_SPEED,
  type Loop,
  type LoopInFold,
  type LoopWheel,
  lineAngle,
  loopAround,
  loopInFold,
  type Model,
  nearestGear,
  pitchesFor,
  RIDER_POWER,
  type Ridden,
  type RoadLoad,
  type RoadPower,
  ridden,
  roadForce,
  roadPower,
  rollingBySize,
  rollOut,
  STANDARD_GRAVITY,
  type State,
  sagOf,
  sharedRolling,
  teethInMesh,
  UPRIGHT_DRAG,
  USUAL_CADENCE,
} from '#kernel';
import type { ResolvedCandidate } from '#project';
import type { Setting } from '../setting.ts';
import { type BrakingResult, runBraking } from './braking.ts';
import type { FoldResult } from './fold.ts';
import type { MassResult } from './mass.ts';
import { type MotorResult, runMotor } from './motor.ts';
import type { SteerResult } from './steer.ts';

/** One gear on the steepest street. */
export interface ClimbGear {
  readonly gear: Gear;
  readonly load: CrankLoad;
  /** Peak pedal force over the rider's weight: above 1 nobody starts by standing on the pedal. */
  readonly weightShare: number;
  /** Turns per second at the speed that the usual rider keeps there. */
  readonly cadence: number;
}
export interface ClimbResult {
  readonly grade: number;
  /** At the wheel, crawling, N. */
  readonly force: number;
  /** Lowest gear first; empty without gears. */
  readonly gears: readonly ClimbGear[];
  readonly ridden: Ridden;
  /** Pushed: slower than a bicycle is kept upright. */
  readonly pushed: boolean;
  /** At `CLIMB_SPEED`, the same for every candidate. */
  readonly power: RoadPower;
}
export interface LoopResult {
  readonly kind: 'chain' | 'belt';
  readonly pitch: number;
  readonly ring: number;
  /** Teeth of the largest sprocket, which sets the length. */
  readonly sprocket: number;
  readonly centres: number;
  readonly loop: Loop;
  /** Pitches that the drawn centres ask for, and those taken: links of a chain, teeth of a belt. */
  readonly exact: number;
  readonly pitches: number;
  /** The file says how many. */
  readonly given: boolean;
  readonly length: number;
  /** Length to spare; negative: it cannot be mounted. */
  readonly slack: number;
  /** Hub to the rear of where it is drawn at which the loop is taut, m; undefined where it never is. */
  readonly move: number | undefined;
  /** Lower run's sag with all the slack in it, m. */
  readonly sag: number;
  /** Length that wear adds until the chain is changed; 0 for a belt. */
  readonly wear: number;
  /** Length that gears of different size set free. */
  readonly span: number;
  readonly mesh: readonly [ring: number, sprocket: number];
  /** Worst angle of the run to the wheels' plane, rad; undefined where the file does not say where the sprocket is. */
  readonly line: number | undefined;
  readonly fold: LoopInFold | undefined;
  readonly tensioner: number;
  readonly adjust: number;
  readonly releasable: boolean;
}
export interface DriveResult {
  readonly rollOut: number;
  readonly diameter: number;
  readonly rolling: { readonly value: number; readonly low: number; readonly high: number };
  readonly efficiency: number;
  /** Usual rider, bicycle and luggage on the level. */
  readonly load: RoadLoad;
  readonly rider: number;
  /** At the brief's speed. */
  readonly speed: number;
  readonly flat: RoadPower;
  readonly gears: GearSet | undefined;
  /** In the gear whose cadence is nearest to the usual. */
  readonly cruise: { readonly gear: Gear; readonly cadence: number } | undefined;
  /** Undefined where the brief has no climb. */
  readonly climb: ClimbResult | undefined;
  readonly loop: LoopResult | undefined;
  readonly braking: BrakingResult | undefined;
  readonly motor: MotorResult | undefined;
  /** Pedals reach a wheel, or a motor with a battery does. */
  readonly driven: boolean;
  /** Why what is missing is missing. */
  readonly why: Readonly<Partial<Record<'gears' | 'loop' | 'braking', string>>>;
}

/** Speed at which climbing powers are stated, m/s: 8 km/h (our definition). */
export const CLIMB_SPEED = 8 / 3.6;
/** Weight on the front wheel of a seated rider; matters only where the wheels differ; default, from memory. */
const FRONT_SHARE = 0.4;
/** Middle to middle of neighbouring sprockets by their number, m; from memory. */
const SPROCKET_STEP: readonly (readonly [most: number, step: number])[] = [
  [6, 0.0055],
  [7, 0.005],
  [8, 0.0048],
  [9, 0.00435],
  [10, 0.00395],
  [11, 0.00374],
  [99, 0.0036],
];

const slot = (s: State, i: number): number => (i < 0 ? Number.NaN : s.value[i]!);

/** `s` must be filled and in the ride posture; it is left there. */
export function runDrive(
  candidate: ResolvedCandidate,
  s: State,
  setting: Setting,
  mass: MassResult,
  fold: FoldResult,
  steer?: SteerResult,
): DriveResult {
  const { model: m } = candidate;
  const why: Partial<Record<'gears' | 'loop' | 'braking', string>> = {};
  const { drive, wheels } = m;
  const radius = { front: s.value[wheels.front.radius]!, rear: s.value[wheels.rear.radius]! };
  const perTurn = rollOut(radius.rear, s.value[wheels.rear.loadedRadius]!);
  const sized = [rollingBySize(2 * radius.front), rollingBySize(2 * radius.rear)] as const;
  const both = (pick: (r: (typeof sized)[number]) => number): number =>
    sharedRolling(pick(sized[0]), pick(sized[1]), FRONT_SHARE);
  const rolling = { value: both((r) => r.value), low: both((r) => r.low), high: both((r) => r.high) };
  const gearing = drive.gearing;
  const efficiency = gearing ? driveEfficiency(drive.kind === 'belt' ? 'belt' : 'chain', gearing.hubGears) : 1;
  const load: RoadLoad = {
    mass: mass.whole.mass + setting.usual.mass + (setting.luggage?.mass ?? 0),
    rolling: rolling.value,
    dragArea: UPRIGHT_DRAG.area,
    efficiency,
  };
  const gears = gearsOf(m, s, perTurn, why);
  const cruise = gears && nearestGear(gears, setting.speed, USUAL_CADENCE);
  const motor = drive.motor && runMotor(drive.motor, m, s, setting, load, steer);
  const pedalled = gearing !== undefined && m.roles.cranks >= 0;
  const driven = pedalled || (motor !== undefined && motor.battery > 0);
  return {
    rollOut: perTurn,
    diameter: 2 * radius.rear,
    rolling,
    efficiency,
    load,
    rider: setting.usual.mass,
    speed: setting.speed,
    flat: roadPower(load, setting.speed),
    gears,
    cruise: cruise && { gear: cruise, cadence: cadenceAt(cruise.development, setting.speed) },
    climb: setting.climb > 0 && driven ? climbOf(m, s, setting, load, gears, motor) : undefined,
    driven,
    loop: loopOf(m, s, fold.plan, why),
    braking: steer && brakesOf(candidate, why) ? runBraking(steer, setting) : undefined,
    motor,
    why,
  };
}

/** Two brakes among the parts; levers alone stop nothing. */
function brakesOf(candidate: ResolvedCandidate, why: { braking?: string }): boolean {
  const brakes = candidate.parts.filter((p) => p.kind === 'brake' && p.id !== 'brake lever').length;
  if (brakes < 2)
    why.braking = brakes === 0 ? 'there is no brake among the parts' : 'there is only one brake among the parts';
  return brakes >= 2;
}

function teethOf(m: Model, s: State): { ring: number; sprockets: readonly number[] } {
  const given = m.drive.gearing?.sprockets ?? [];
  return {
    ring: Math.round(slot(s, m.drive.ring)),
    sprockets: given.length > 0 ? given : [Math.round(slot(s, m.drive.sprocket))],
  };
}

function gearsOf(m: Model, s: State, perTurn: number, why: { gears?: string }): GearSet | undefined {
  const { gearing } = m.drive;
  if (!gearing) {
    why.gears = 'no chain or belt drives this bicycle';
    return undefined;
  }
  if (gearing.ratios.length === 0) {
    why.gears = `the ratios of a hub gear of ${gearing.hubGears} are not known: write them as drive.ratios`;
    return undefined;
  }
  const { ring, sprockets } = teethOf(m, s);
  return gearSet({ rollOut: perTurn, rings: [ring], sprockets, ratios: gearing.ratios });
}

function climbOf(
  m: Model,
  s: State,
  setting: Setting,
  flat: RoadLoad,
  gears: GearSet | undefined,
  motor: MotorResult | undefined,
): ClimbResult {
  const load = { ...flat, grade: setting.climb };
  const force = roadForce(load, 0);
  const going = ridden(load, RIDER_POWER.minutes * setting.usual.mass, setting.speed, motor?.helped);
  const weight = setting.usual.mass * STANDARD_GRAVITY;
  const crank = slot(s, m.crankLength);
  return {
    grade: setting.climb,
    force,
    gears:
      gears?.gears.map((gear) => {
        const asked = crankLoad(force, gear.development, crank, flat.efficiency ?? 1);
        return {
          gear,
          load: asked,
          weightShare: asked.pedalForce / weight,
          cadence: cadenceAt(gear.development, going.speed),
        };
      }) ?? [],
    ridden: going,
    pushed: going.speed < LEAST_RIDING_SPEED,
    power: roadPower(load, CLIMB_SPEED),
  };
}

function loopOf(m: Model, s: State, plan: FoldPlan, why: { loop?: string }): LoopResult | undefined {
  const { drive } = m;
  const { gearing } = drive;
  if (!gearing || drive.fromStation < 0 || drive.toStation < 0) {
    why.loop = 'no chain or belt drives this bicycle';
    return undefined;
  }
  const belt = drive.kind === 'belt';
  const pitch = belt ? s.value[gearing.beltPitch]! : CHAIN_PITCH;
  const wheel = (teeth: number): LoopWheel => (belt ? beltWheel(teeth, pitch) : chainWheel(teeth));
  const { ring, sprockets } = teethOf(m, s);
  const largest = Math.max(...sprockets);
  const from = at3(s.station, 3 * drive.fromStation);
  const to = at3(s.station, 3 * drive.toStation);
  const dx = to[0] - from[0];
  const dz = to[2] - from[2];
  const centres = Math.sqrt(dx * dx + dz * dz);
  // The wheels' planes may lie apart; over a run of a foot that lengthens it by less than 0.1 mm and is left out of the length.
  const apart = wheel(ring).radius + wheel(largest).radius;
  if (!(centres >= apart)) {
    // a refusal would take gears, road and braking with it
    why.loop = `chainring and sprocket overlap: their centres are ${(1000 * centres).toFixed(0)} mm apart and need ${(1000 * apart).toFixed(0)} mm`;
    return undefined;
  }
  const loop = loopAround(wheel(ring), wheel(largest), centres);
  const smallest = loopAround(wheel(ring), wheel(Math.min(...sprockets)), centres);
  const given = gearing.pitches > 0;
  const fold = m.fold.length > 0 ? loopInFold(m, s, plan, wheel(ring), wheel(largest)) : undefined;
  const tensioner = gearing.tensioner < 0 ? 0 : s.value[gearing.tensioner]!;
  // With a tensioner the loop is as long as the fold needs at its worst, and it takes up the rest while riding.
  const asked = tensioner > 0 && fold && fold.longest.need > loop.length ? fold.longest.need : loop.length;
  const pitches = given ? gearing.pitches : pitchesFor(asked, pitch, !belt);
  const length = pitches * pitch;
  const slack = length - loop.length;
  let move: number | undefined;
  try {
    move = centresFor(wheel(ring), wheel(largest), length).centres - centres;
  } catch (error) {
    if (!(error instanceof RangeError)) throw error;
  }
  const step = SPROCKET_STEP.find(([most]) => sprockets.length <= most)![1];
  const reach = ((sprockets.length - 1) / 2) * step;
  const off = gearing.hubLine < 0 ? undefined : Math.abs(s.value[gearing.hubLine]! - slot(s, gearing.chainline));
  return {
    kind: belt ? 'belt' : 'chain',
    pitch,
    ring,
    sprocket: largest,
    centres,
    loop,
    exact: loop.length / pitch,
    pitches,
    given,
    length,
    slack,
    move,
    sag: sagOf(loop.run, slack),
    wear: belt ? 0 : CHAIN_WEAR * length,
    span: loop.length - smallest.length,
    mesh: [teethInMesh(ring, loop.wrap[0]), teethInMesh(largest, loop.wrap[1])],
    line: off === undefined ? undefined : lineAngle(off + reach, loop.run),
    fold,
    tensioner,
    adjust: gearing.adjust < 0 ? 0 : s.value[gearing.adjust]!,
    releasable: drive.releasable,
  };
}
