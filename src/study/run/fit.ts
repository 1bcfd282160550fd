/**
 * Fit discipline: a public on this bicycle.
 *
 * The bicycle as riders meet it is read once from the ride posture: contact points, fields of clearance round what knees, toes,
 * heels and legs pass (`kernel/rider/fit`), the lowest place to stand over. Saddle, post, cranks and pedals are not in the
 * way of the legs that use them. Riders are drawn once per brief and lent to every candidate.
 */
import {
  at3,
  type ClearanceField,
  clearanceField,
  drawPopulation,
  FAR,
  FIT,
  FIT_STRIDE,
  type FitGain,
  type FitGeometry,
  type FitLimits,
  type FitOfPublic,
  fitChanges,
  fitLimits,
  fitPublic,
  highestRaise,
  type KneeMeans,
  type Model,
  makeField,
  newPosedShapes,
  type Obstacles,
  PEDAL_OUT,
  type PedalRoom,
  type Population,
  pedalLean,
  pedalToWheel,
  poseBodies,
  poseShapes,
  postureLike,
  type State,
  sideOf,
  type TightPlace,
  tightPlaces,
} from '#kernel';
import type { ResolvedCandidate } from '#project';
import type { PeopleSetting, Setting } from '../setting.ts';
import { seatPost, stationAt } from './steer.ts';

export interface FitResult extends FitOfPublic {
  readonly people: Population;
  readonly geometry: FitGeometry;
  readonly limits: FitLimits;
  /** Least insertion, not the end of the travel, limits the post. */
  readonly marked: boolean;
  /** Pedal centre to tyre or guard straight ahead over the steering, m; undefined without pedals. */
  readonly toe: PedalRoom | undefined;
  /** Lean at which a pedal touches the ground, rad; undefined without pedals. */
  readonly lean: number | undefined;
  readonly pedalOut: number;
  /** The pedal that touches first, m; undefined without pedals. */
  readonly pedal: PedalPlace | undefined;
  /** Of every place, the rider of the public who has least room there. */
  readonly tightest: readonly TightPlace[];
  /** The same riders' knees on the brief's reference bicycle. */
  readonly reference: KneeMeans | undefined;
}
export interface FitChangeResult {
  /** The largest net gain first. */
  readonly gains: readonly FitGain[];
  /** Riders that were fitted again. */
  readonly sample: number;
}

/** The public of a setting, drawn once. */
const drawn = new WeakMap<PeopleSetting, Population>();
export function peopleOf(setting: Setting): Population {
  const { people } = setting;
  const known = drawn.get(people);
  if (known) return known;
  const fresh = drawPopulation(people, people.sample, people.seed);
  drawn.set(people, fresh);
  return fresh;
}

/** Length of a mean foot from ball to heel with its shoe, over which it turns inward, m. */
const BALL_TO_HEEL = 0.2;
/** Inner and outer edge of a shoe's toe beside the pedal's middle. */
const TOE_HALF = 0.03;
const STEERS = { knee: 13, toe: 17 } as const;
/** Front end of a saddle ahead of its middle; half the length that standing legs take; how near one stands to the bar, m. */
const NOSE = 0.14;
const STANDING_HALF = 0.06;
const BAR_ROOM = 0.08;
/** Half the width between standing legs at the crotch: frame farther out is beside them. */
const BETWEEN_LEGS = 0.09;
/** A mudguard reaches so far beyond the tyre; from memory. */
const GUARD = 0.012;

/** Shapes of the bodies that `wanted` names, in shape order. */
const shapesOf = (m: Model, wanted: (body: number, shape: number) => boolean): Int32Array =>
  Int32Array.from([...m.top.shapeBody.keys()].filter((i) => wanted(m.top.shapeBody[i]!, i)));

/** The candidate's shapes with the bar turned to `n` angles up to ±`range`. */
function turnedShapes(m: Model, s: State, range: number, n: number, shapes: Int32Array): Obstacles[] {
  const j = m.roles.steerer;
  const low = Math.max(-range, s.range[2 * j]!);
  const high = Math.min(range, s.range[2 * j + 1]!);
  return Array.from({ length: n }, (_, k): Obstacles => {
    const angle = low + ((high - low) * k) / (n - 1);
    const here = { ...s, ...postureLike(s) };
    here.q[j] = angle;
    poseBodies(m.top, here);
    const posed = newPosedShapes(m.top);
    poseShapes(m.top, here, posed);
    return { posed, shapes, angle };
  });
}

/** Lowest place of the frame over which one can stand: the least over x of the highest metal within a leg's length of it. */
function standOver(fixed: Obstacles, from: number, to: number): number {
  const { posed, shapes } = fixed;
  const { nCapsule, bounds, capsule } = posed;
  const tops: (readonly [number, number])[] = [];
  for (const i of shapes) {
    if (bounds[6 * i + 1]! > BETWEEN_LEGS || bounds[6 * i + 4]! < -BETWEEN_LEGS) continue;
    if (i < nCapsule) {
      const o = 7 * i;
      for (let k = 0; k <= 20; k++) {
        const at = (c: number): number => capsule[o + c]! + ((capsule[o + 3 + c]! - capsule[o + c]!) * k) / 20;
        tops.push([at(0), at(2) + capsule[o + 6]!]);
      }
    } else
      for (let k = 0; k <= 20; k++)
        tops.push([bounds[6 * i]! + ((bounds[6 * i + 3]! - bounds[6 * i]!) * k) / 20, bounds[6 * i + 5]!]);
  }
  let least = Number.POSITIVE_INFINITY;
  for (let x = from + STANDING_HALF; x <= to - STANDING_HALF; x += 0.01) {
    let high = 0;
    for (const [px, pz] of tops) if (Math.abs(px - x) <= STANDING_HALF && pz > high) high = pz;
    if (high < least) least = high;
  }
  return Number.isFinite(least) ? least : Number.NaN;
}

interface Ridden {
  readonly geometry: FitGeometry;
  readonly marked: boolean;
  readonly pedalOut: number;
}

function geometryOf(
  candidate: ResolvedCandidate,
  s: State,
  limits: FitLimits,
  rating: number,
  field: (obstacles: readonly Obstacles[], outs: readonly number[]) => ClearanceField = clearanceField,
): Ridden {
  const { model: m } = candidate;
  const { roles, top } = m;
  if (roles.steerer < 0) throw new RangeError('this candidate has no steerer: nobody can ride it');
  for (const [what, station] of [
    ['crank', roles.crank],
    ['saddle', roles.saddle],
    ['grip', roles.gripLeft],
  ] as const)
    if (station < 0) throw new RangeError(`this candidate has no ${what}: nobody can sit on it`);
  // without a crank length every comparison with a gap would be false, and everybody would fit
  if (m.crankLength < 0) throw new RangeError('this candidate has no crankset: nobody can pedal it');
  const steered = sideOf(top, roles.steerer);
  const riders = new Set(
    candidate.parts.filter((p) => p.kind === 'pedal' || p.kind === 'crankset').flatMap((p) => p.shapes),
  );
  const own = (body: number, shape: number): boolean =>
    body === roles.saddleBody || body === roles.cranksBody || riders.has(shape);
  const front = shapesOf(m, (body, shape) => steered[body] === 1 && !own(body, shape));
  const rest = shapesOf(m, (body, shape) => steered[body] === 0 && !own(body, shape));
  const straight = turnedShapes(m, s, 0, 2, rest).slice(0, 1);
  const post = seatPost(m, s);
  const { highest, marked } = highestRaise(post);
  const crank = stationAt(s, roles.crank);
  const [left, right] = [stationAt(s, roles.gripLeft), stationAt(s, roles.gripRight)];
  const pedalOut = pedalsOf(candidate, s)[0]?.out ?? PEDAL_OUT;
  const grip = { x: (left[0] + right[0]) / 2, z: (left[2] + right[2]) / 2, half: Math.abs(left[1] - right[1]) / 2 };
  const geometry: FitGeometry = {
    crank: { x: crank[0], z: crank[2], length: s.value[m.crankLength]! },
    saddle: { x: post.saddle[0], z: post.saddle[2], low: Math.min(post.range[0], highest), high: highest },
    rise: { x: post.up[0], z: post.up[2] },
    grip,
    bar: field(turnedShapes(m, s, limits.steer_knee, STEERS.knee, front), [limits.knee_out]),
    barShift: { x: 0, z: 0 },
    frameAtKnee: field(straight, [limits.knee_out]),
    wheelAtToe: field(turnedShapes(m, s, limits.steer_toe, STEERS.toe, front), [
      pedalOut - TOE_HALF,
      pedalOut + TOE_HALF,
    ]),
    frameAtHeel: field(straight, [pedalOut - BALL_TO_HEEL * Math.sin(limits.heel_in)]),
    frameAtLeg: field(straight, [(limits.knee_out + pedalOut) / 2]),
    over: standOver(straight[0]!, post.saddle[0] + NOSE, grip.x - BAR_ROOM),
    rating,
  };
  return { geometry, marked: marked < post.range[1], pedalOut };
}

export interface PedalPlace {
  /** Middle from the mid-plane, edge from it, half thickness, m. */
  readonly out: number;
  readonly edge: number;
  readonly below: number;
}
function pedalsOf(candidate: ResolvedCandidate, s: State): PedalPlace[] {
  const { top } = candidate.model;
  return candidate.parts
    .filter((p) => p.kind === 'pedal')
    .flatMap((p) => p.shapes)
    .flatMap((shape) => {
      const o = 15 * (shape - top.nCapsule - top.nDisc);
      if (o < 0) return [];
      const out = Math.abs(s.box[o + 1]!);
      return [{ out, edge: out + s.box[o + 13]!, below: s.box[o + 14]! }];
    });
}

/** `s` must be filled and in the ride posture; it is left there. @throws RangeError for a bicycle that nobody can sit on. */
export function runFit(candidate: ResolvedCandidate, s: State, setting: Setting, reference?: KneeMeans): FitResult {
  const { model: m } = candidate;
  const people = peopleOf(setting);
  const limits = fitLimits(setting.people.limits);
  const { geometry, marked, pedalOut } = geometryOf(candidate, s, limits, setting.people.rating);
  const pedals = pedalsOf(candidate, s);
  const { crank } = geometry;
  const { front } = m.wheels;
  const guard = candidate.parts.some((p) => p.kind === 'mudguard' && p.body === front.body) ? GUARD : 0;
  const j = 6 * m.roles.steerer;
  const wheel = {
    centre: stationAt(s, front.station),
    radius: s.value[front.radius]! + guard,
    halfWidth: s.value[front.width]! / 2,
    point: at3(s.joint, j),
    axis: at3(s.joint, j + 3),
  };
  const rooms = pedals.map((p) => pedalToWheel([crank.x + crank.length, p.out, crank.z], wheel, limits.steer_toe));
  const leans = pedals.map((p) => pedalLean(crank.z, crank.length, p.below, p.edge));
  const fitted = fitPublic(geometry, limits, people);
  const first = leans.indexOf(Math.min(...leans));
  return {
    ...fitted,
    people,
    geometry,
    limits,
    marked,
    pedalOut,
    pedal: pedals[first],
    tightest: tightestOf(fitted, geometry, limits, people),
    reference,
    toe: rooms.length ? rooms.reduce((a, b) => (b.gap < a.gap ? b : a)) : undefined,
    lean: leans[first],
  };
}

function tightestOf(fitted: FitOfPublic, g: FitGeometry, limits: FitLimits, people: Population): TightPlace[] {
  const columns = { knee: FIT.kneeGap, toe: FIT.toeGap, heel: FIT.heelGap, leg: FIT.legGap } as const;
  return (Object.keys(columns) as (keyof typeof columns)[]).map((key) => {
    const gap = (i: number): number => fitted.riders[i * FIT_STRIDE + columns[key]]!;
    let worst = 0;
    for (let i = 1; i < people.n; i++) if (gap(i) < gap(worst)) worst = i;
    return tightPlaces(g, limits, people.value, people.female[worst] === 1, worst).find((t) => t.key === key)!;
  });
}

/** The public's knees on a bicycle that is only compared with: nothing of it is in their way. Undefined when nobody can sit on it. */
export function kneesOn(candidate: ResolvedCandidate, setting: Setting): KneeMeans | undefined {
  const s = candidate.model.newState();
  candidate.model.fill(candidate.model.x, s);
  try {
    const limits = fitLimits(setting.people.limits);
    const { geometry } = geometryOf(candidate, s, limits, setting.people.rating, () => NOTHING_THERE);
    const { kneeBottom, kneeTop } = fitPublic(geometry, limits, peopleOf(setting));
    return { kneeBottom, kneeTop };
  } catch (error) {
    if (error instanceof RangeError) return undefined;
    throw error;
  }
}
const NOTHING_THERE = makeField(() => ({ distance: FAR, shape: -1, angle: 0, side: 1 }));

/** Riders that are fitted again for every change: enough to rank changes by a percent. */
const CHANGE_SAMPLE = 1000;

export function runFitChange(fit: FitResult): FitChangeResult {
  const n = Math.min(CHANGE_SAMPLE, fit.people.n);
  const few = { ...fit.people, n };
  return { gains: fitChanges(fit.geometry, fit.limits, few, fit.riders.subarray(0, n * FIT_STRIDE)), sample: n };
}
