/**
 * Steering discipline: from a candidate's own masses, a rider seated on it and the brief's loads to handling figures.
 *
 * The steered side is everything beyond the steerer joint while riding. Its wheel and the rear wheel leave the bodies'
 * masses and enter the model as wheels. The rider sits at the saddle height that the 0.883 rule asks for within the post's
 * range; the small shift of the post's own mass is left out.
 */
import {
  type AssembledBicycle,
  add,
  type Characteristic,
  capsizeSpeed,
  characteristic,
  combine,
  dot,
  eigenvalues,
  type GripLever,
  gripLever,
  type HandForce,
  handForce,
  type LoadCase,
  luggageMass,
  MASS_SIZE,
  type Model,
  PROFILE_OPTIONS,
  type Rider,
  type RigidMass,
  rigidAt,
  type SaddleSetting,
  type SeatedRider,
  STANDARD_GRAVITY,
  type State,
  type SteadyTurn,
  type SteerRule,
  type SteerStatics,
  saddleForRider,
  scale,
  seatRider,
  sideOf,
  steadyTurn,
  steerRules,
  steerStatics,
  sub,
  type Vec3,
  type Wheel,
  type WheelInertia,
  type WhippleSystem,
  type WorstPitchOver,
  weaveSpeed,
  wheelLoads,
  whipple,
  whippleFromBicycle,
  worstPitchOver,
} from '#kernel';
import type { Setting } from '../setting.ts';
import { luggagePoint } from './luggage.ts';

/** Lateral acceleration of the steady turns that hand force is stated for, m/s²: an everyday bend (our definition). */
export const TURN_ACCELERATION = PROFILE_OPTIONS.lateralAcceleration;

export interface Seated {
  readonly rider: Rider;
  readonly saddle: SaddleSetting;
  readonly seat: SeatedRider;
}
export interface TurnAt {
  readonly speed: number;
  readonly turn: SteadyTurn;
  readonly force: HandForce;
}
export interface EigenAt {
  readonly speed_mps: number;
  readonly re: readonly number[];
  readonly im: readonly number[];
}

export interface SteerResult {
  readonly assembled: AssembledBicycle;
  readonly system: WhippleSystem;
  readonly characteristic: Characteristic;
  readonly usual: Seated;
  readonly weave: number | null;
  readonly capsize: number | null;
  readonly lever: GripLever;
  readonly turns: readonly TurnAt[];
  readonly statics: SteerStatics;
  /** Front share with each loading, the least first to be judged. */
  readonly frontShare: number;
  readonly frontShareRider: Rider;
  readonly rules: readonly SteerRule[];
  readonly pitchOver: WorstPitchOver;
  readonly pitchOverRider: Rider;
  /** The loading behind `pitchOver`. */
  readonly pitchLoad: LoadCase;
}

const wheelInertia = (s: State, w: Wheel): WheelInertia => ({
  radius: s.value[w.loadedRadius]!,
  mass: s.value[w.mass]!,
  Ixx: s.value[w.diametral]!,
  Iyy: s.value[w.polar]!,
});

export const stationAt = (s: State, i: number): Vec3 => [
  s.station[3 * i]!,
  s.station[3 * i + 1]!,
  s.station[3 * i + 2]!,
];

/** The direction in which the saddle rises, and how far it may move from the file's posture. */
export function seatPost(m: Model, s: State) {
  const j = m.roles.seatPost;
  const saddle = stationAt(s, m.roles.saddle);
  const crank = stationAt(s, m.roles.crank);
  if (j < 0) return { saddle, crank, up: [0, 0, 1] as Vec3, range: [0, 0] as const };
  const axis: Vec3 = [s.joint[6 * j + 3]!, s.joint[6 * j + 4]!, s.joint[6 * j + 5]!];
  const sign = (axis[2] < 0 ? -1 : 1) * (m.top.jointB[j] === m.roles.saddleBody ? 1 : -1);
  const [low, high] = [s.range[2 * j]!, s.range[2 * j + 1]!];
  const up = scale(axis, axis[2] < 0 ? -1 : 1);
  const insertion = postInsertion(m, s, [s.joint[6 * j]!, s.joint[6 * j + 1]!, s.joint[6 * j + 2]!], up);
  return {
    saddle,
    crank,
    up,
    ...(insertion ? { insertion } : {}),
    range: sign > 0 ? ([low, high] as const) : ([-high, -low] as const),
  };
}

/** Least length of post below its clamp, in post diameters: 16 CFR 1512.15 asks that the mark stand at two. */
const LEAST_INSERTION = 2;

/** How deep the post sits below its clamp now, and how deep it must; undefined for a saddle that sits on no tube. */
function postInsertion(m: Model, s: State, clamp: Vec3, up: Vec3): { now: number; least: number } | undefined {
  const post = m.members.filter((x) => x.body === m.roles.saddleBody);
  if (post.length === 0) return undefined;
  const depths = post.flatMap((x) => x.path.map((i) => dot(sub(clamp, stationAt(s, i)), up)));
  const diameter = Math.max(...post.map((x) => s.value[x.section.height]!));
  return { now: Math.max(...depths), least: LEAST_INSERTION * diameter };
}

/** A rider on this bicycle, saddle at the height that suits as far as the post allows. */
export function seatOn(m: Model, s: State, rider: Rider): Seated {
  const post = seatPost(m, s);
  const saddle = saddleForRider(rider, post);
  const seat = seatRider(rider, {
    saddle: saddle.saddle,
    crank: post.crank,
    gripLeft: stationAt(s, m.roles.gripLeft),
    gripRight: stationAt(s, m.roles.gripRight),
    crankLength: s.value[m.crankLength]!,
  });
  return { rider, saddle, seat };
}

/** Masses of the two halves without wheels. */
function halves(m: Model, s: State): { rear: RigidMass; front: RigidMass } {
  const steered = sideOf(m.top, m.roles.steerer);
  const parts: { rear: RigidMass[]; front: RigidMass[] } = { rear: [], front: [] };
  for (let e = 0; e < m.top.massBody.length; e++) {
    if (e === m.wheels.front.massElement || e === m.wheels.rear.massElement) continue;
    parts[steered[m.top.massBody[e]!] ? 'front' : 'rear'].push(rigidAt(s.mass, MASS_SIZE * e));
  }
  return { rear: combine(parts.rear), front: combine(parts.front) };
}

/** `s` must be filled and in the ride posture. @throws SteerRefusal, RangeError for a bicycle that cannot be steered or sat on. */
export function runSteer(m: Model, s: State, setting: Setting): SteerResult {
  const { rear, front } = halves(m, s);
  const [rearHub, frontHub] = [stationAt(s, m.wheels.rear.station), stationAt(s, m.wheels.front.station)];
  const j = m.roles.steerer;
  const steerer = {
    point: [s.joint[6 * j]!, s.joint[6 * j + 1]!, s.joint[6 * j + 2]!] as Vec3,
    axis: [s.joint[6 * j + 3]!, s.joint[6 * j + 4]!, s.joint[6 * j + 5]!] as Vec3,
  };
  const masses = {
    rear,
    front,
    rearWheel: wheelInertia(s, m.wheels.rear),
    frontWheel: wheelInertia(s, m.wheels.front),
    rearHub,
    frontHub,
    steerer,
    gravity: STANDARD_GRAVITY,
  };
  const riders = [setting.usual, setting.heaviest, setting.shortest].map((rider) => seatOn(m, s, rider));
  const usual = riders[0]!;
  const assembled = whippleFromBicycle(masses, usual.seat.rigid);
  const system = whipple(assembled.bicycle);
  const polynomial = characteristic(system);
  const lever = gripLever(steerer, stationAt(s, m.roles.gripLeft));
  const turns = PROFILE_OPTIONS.speeds.map((speed) => {
    const turn = steadyTurn(system, speed, (speed * speed) / TURN_ACCELERATION);
    return { speed, turn, force: handForce(turn.torque, lever) };
  });

  const bicycle = whippleFromBicycle(masses);
  const place = { rearX: bicycle.rearX, frontX: bicycle.frontX, gravity: STANDARD_GRAVITY };
  const shares = riders.map((r) => wheelLoads({ total: combine([bicycle.total, r.seat.rigid]), ...place }).frontShare);
  const least = shares.indexOf(Math.min(...shares));
  const bag = setting.luggage && luggageAt(m, s, setting.luggage);
  const worst = worstPitchOver(
    bicycle.total,
    riders.map((r) => r.seat.rigid),
    bag,
    place,
    -setting.descent,
  );
  return {
    assembled,
    system,
    characteristic: polynomial,
    usual,
    weave: weaveSpeed(polynomial),
    capsize: capsizeSpeed(polynomial),
    lever,
    turns,
    statics: steerStatics(system),
    frontShare: shares[least]!,
    frontShareRider: riders[least]!.rider,
    rules: steerRules(assembled.geometry, shares[least]!),
    pitchOver: worst,
    pitchOverRider: riders[worst.loading]!.rider,
    pitchLoad: {
      total: combine([bicycle.total, riders[worst.loading]!.seat.rigid, ...(worst.luggage && bag ? [bag] : [])]),
      ...place,
    },
  };
}

/** The brief's bag: at the station of that name, else over the rear hub at saddle height less a hand, as a rear rack would carry it. */
function luggageAt(m: Model, s: State, luggage: { mass: number; at: string }): RigidMass {
  const found = luggagePoint(m, s, luggage.at);
  if (found) return luggageMass(luggage.mass, found);
  const hub = stationAt(s, m.wheels.rear.station);
  return luggageMass(luggage.mass, add(hub, [0, 0, s.value[m.wheels.rear.radius]! + 0.2]));
}

/** Eigenvalues over a range of speeds, for the plot and for `--json`: by real part, largest first, conjugates +im first. */
export function eigenRows(r: SteerResult, speeds: readonly number[]): EigenAt[] {
  const out = new Float64Array(8);
  return speeds.map((speed_mps) => {
    eigenvalues(r.characteristic, speed_mps, out);
    const part = (o: number): number[] => [0, 1, 2, 3].map((k) => out[2 * k + o]!);
    return { speed_mps, re: part(0), im: part(1) };
  });
}
