/**
 * Trip discipline: the brief's way from door to door with this candidate, leg by leg.
 *
 * The usual rider keeps the brief's speed or what everyday power gives, uphill what can be given for some minutes, and pushes where
 * that is slower than a bicycle is kept upright; stops, folds (trained hands; the range of a first time beside it), rolls, carries,
 * climbs the stairs with the rests of the brief, lifts, stows, and unfolds at the other end.
 * Energy: work at the pedals over an efficiency of 0.24; on foot Pandolf's formula; lifted weight over 0.24; light work for
 * the hands. Mechanical energy: at the pedals, or weight raised.
 */
import {
  climbStairs,
  HUMAN_EFFICIENCY,
  INCH,
  LADEN_SPEED,
  LEAST_RIDING_SPEED,
  LIGHT_WORK,
  motion,
  POUND,
  pushingSpeed,
  REST_SECONDS,
  RIDER_POWER,
  type Ridden,
  ridden,
  STANDARD_GRAVITY,
  type State,
  slopeOf,
  TMU_SECONDS,
  UPKEEP,
  walkingPower,
} from '#kernel';
import type { ResolvedCandidate } from '#project';
import type { Setting } from '../setting.ts';
import type { BurdenResult } from './burden.ts';
import type { DriveResult } from './drive.ts';
import type { EffortResult } from './effort.ts';
import type { MassResult } from './mass.ts';

export type LegKind = 'ride' | 'push' | 'stop' | 'fold' | 'roll' | 'carry' | 'stairs' | 'lift' | 'stow' | 'unfold';
export interface TripLeg {
  readonly kind: LegKind;
  /** For the line of the picture: `ride 2.8 km at 18 km/h`. */
  readonly words: string;
  /** s from the start of the trip. */
  readonly start: number;
  readonly seconds: number;
  /** Spent by the body, J; done on the outside, J. */
  readonly energy: number;
  readonly work: number;
  /** The bicycle's whole weight is in the hands. */
  readonly inHand: boolean;
}
export interface TripResult {
  readonly legs: readonly TripLeg[];
  readonly seconds: number;
  readonly energy: number;
  readonly work: number;
  readonly ridden: { readonly flat: Ridden; readonly climb: Ridden | undefined };
  /** Folding and unfolding by trained hands, and for a first time the range of both together, s. */
  readonly folding: number;
  readonly firstTime: readonly [number, number];
  /** s with the weight in the hands. */
  readonly inHand: number;
  /** s of the stairs in which it stands on a step. */
  readonly resting: number;
  /** How often it is taken up from the floor. */
  readonly lifts: number;
  /** Index of the leg that takes longest, and of the one that asks most of the body per second. */
  readonly longest: number;
  readonly hardest: number;
}

/** Seconds to stop, get off and stand ready; from memory. */
const STOP_SECONDS = 6;
/** A knuckle's height above the floor; what is lifted beyond is raised by the arms. */
const HANDLE = 0.75;

const tmu = (code: string, pounds = 0): number =>
  motion(code, pounds > 0 ? { pounds, hands: 2 } : {}).tmu * TMU_SECONDS;

/** Bend, take hold, arise with it in both hands. */
const takeUp = (mass: number): number => tmu('B') + tmu('G1A') + tmu(`M${inches(HANDLE)}B`, mass / POUND);
const inches = (m: number): string => (m / INCH).toFixed(1);
const raise = (height: number, mass: number): number =>
  takeUp(mass) + tmu(`M${inches(height)}C`, mass / POUND) + tmu('W1PO');
const pushIn = (mass: number): number => tmu('B') + tmu('M30A', mass / POUND) + tmu('AB');

const whole = (x: number): string => (x >= 10 ? x.toFixed(0) : x.toFixed(1));
const kmh = (v: number): string => `${whole(v * 3.6)} km/h`;
const way = (m: number): string => (m >= 1000 ? `${(m / 1000).toFixed(1)} km` : `${m.toFixed(0)} m`);

/** `s` must be filled and in the ride posture; it is left there. */
export function runTrip(
  _candidate: ResolvedCandidate,
  _s: State,
  setting: Setting,
  mass: MassResult,
  effort: EffortResult,
  burden: BurdenResult,
  drive: DriveResult,
): TripResult {
  if (!drive.driven) throw new RangeError('nothing drives this bicycle: nobody rides it anywhere');
  const { journey, usual } = setting;
  const body = usual.mass;
  const bag = setting.luggage?.mass ?? 0;
  const bicycle = mass.whole.mass;
  const inHands = bicycle + bag;
  const legs: TripLeg[] = [];
  let start = 0;
  const add = (kind: LegKind, words: string, seconds: number, energy: number, work = 0, inHand = false): void => {
    if (!(seconds > 0)) return;
    legs.push({ kind, words, start, seconds, energy, work, inHand });
    start += seconds;
  };
  const climbWay = setting.climb > 0 ? journey.climbLength : 0;
  const flat = ridden(drive.load, RIDER_POWER.everyday * body, setting.speed, drive.motor?.helped);
  const ride = (r: Ridden, distance: number, words: string): void => {
    const seconds = distance / r.speed;
    add('ride', words, seconds, (r.rider * seconds) / HUMAN_EFFICIENCY, r.rider * seconds);
  };
  ride(flat, journey.distance - climbWay, `ride ${way(journey.distance - climbWay)} at ${kmh(flat.speed)}`);
  const up = drive.climb?.ridden;
  if (up && climbWay > 0) {
    if (up.speed >= LEAST_RIDING_SPEED) ride(up, climbWay, `ride up ${way(climbWay)} at ${kmh(up.speed)}`);
    else {
      const v = pushingSpeed(setting.climb);
      const seconds = climbWay / v;
      const raised = inHands * STANDARD_GRAVITY * slopeOf(setting.climb)[1] * climbWay;
      const work = raised + body * STANDARD_GRAVITY * slopeOf(setting.climb)[1] * climbWay;
      const energy = walkingPower(body, 0, v, 100 * setting.climb) * seconds + raised / HUMAN_EFFICIENCY;
      add('push', `push up ${way(climbWay)} at ${kmh(v)}`, seconds, energy, work);
    }
  }
  const hands = (seconds: number): number => LIGHT_WORK * body * seconds;
  add('stop', 'stop and get off', STOP_SECONDS, hands(STOP_SECONDS));
  add('fold', 'fold', effort.fold.seconds, hands(effort.fold.seconds));
  const walk = (load: number, distance: number): [number, number] => {
    const seconds = distance / LADEN_SPEED;
    return [seconds, walkingPower(body, load, LADEN_SPEED) * seconds];
  };
  // what does not roll is carried all the way
  const { rolls } = burden;
  const carried = journey.carry + (rolls ? 0 : journey.roll);
  if (rolls) add('roll', `roll ${way(journey.roll)}`, ...walk(bag, journey.roll));
  add('carry', `carry ${whole(inHands)} kg for ${way(carried)}`, ...walk(inHands, carried), 0, true);
  let restTakes = 0;
  if (journey.stairs > 0) {
    const stairs = climbStairs(journey.stairs, journey.step, body, inHands, journey.rest);
    restTakes = stairs.rests;
    const rests = stairs.rests > 0 ? `, ${stairs.rests} rest${stairs.rests > 1 ? 's' : ''}` : '';
    add('stairs', `${journey.stairs} steps up${rests}`, stairs.seconds, stairs.energy, stairs.work, true);
  }
  const lifted = (kind: LegKind, words: string, seconds: number, height: number): void => {
    const work = bicycle * STANDARD_GRAVITY * height;
    add(kind, words, seconds, work / HUMAN_EFFICIENCY + UPKEEP * body * seconds, work, height > 0);
  };
  for (const lift of journey.lifts)
    lifted(
      'lift',
      `lift ${lift.height.toFixed(2)} m: ${lift.name.replaceAll('_', ' ')}`,
      raise(lift.height, bicycle),
      lift.height,
    );
  const space = setting.spaces[0];
  if (space) lifted('stow', `stow: ${space.name.replaceAll('_', ' ')}`, pushIn(bicycle), 0);
  add('unfold', 'unfold', effort.unfold.seconds, hands(effort.unfold.seconds));

  const sum = (pick: (l: TripLeg) => number): number => legs.reduce((total, l) => total + pick(l), 0);
  const most = (pick: (l: TripLeg) => number): number =>
    legs.reduce((best, l, i) => (pick(l) > pick(legs[best]!) ? i : best), 0);
  // Rolled, it is taken up once more for the stairs or the carrying; each rest sets it down.
  const taken = (carried > 0 || journey.stairs > 0 ? 1 : 0) + journey.lifts.length;
  return {
    legs,
    seconds: start,
    energy: sum((l) => l.energy),
    work: sum((l) => l.work),
    ridden: { flat, climb: up },
    folding: effort.fold.seconds + effort.unfold.seconds,
    firstTime: [0, 1].map((k) => effort.fold.firstTime[k]! + effort.unfold.firstTime[k]!) as [number, number],
    resting: restTakes * REST_SECONDS,
    inHand: sum((l) => (l.inHand ? l.seconds : 0)) - restTakes * REST_SECONDS,
    lifts: taken + restTakes,
    longest: most((l) => l.seconds),
    hardest: most((l) => l.energy / l.seconds),
  };
}
