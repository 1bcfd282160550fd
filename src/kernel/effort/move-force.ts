/**
 * Hand force along every move of the fold, there and back.
 *
 * Virtual work: while the driven joint moves by dq the potential energy of all moving bodies rises by G dq, G = g Σ mᵢ vᵢ,z
 * (centres of mass by the linkage's velocity fields, followers of closed loops included), the joints dissipate T |dq|, and the
 * hand's place moves by |v| dq. The hand pushes along its way, so F = (G + T)/|v| going with q, (−G + T)/|v| coming back.
 * A negative F is a part that runs away: the hand has to hold it back.
 * A wheel of the moving part that keeps its height rolls on the ground, which then carries the part: its joints rub by T₀ alone.
 * Held still meanwhile: body 0, as in the ride posture on level ground, gravity along −z. Where the move takes a wheel from
 * the ground and no stand is down, the other hand holds the rest up: `steady` gives its share at the saddle (or the bar).
 * Work: Simpson over the samples. Runaway: the greatest sum of −(G + T) dq over any stretch, as kinetic energy of the part
 * left alone; speed of the hand's place from the moving bodies' inertia.
 * Source: virtual work, theory (any text on analytical mechanics, e.g. Lanczos 1970, III). Units SI.
 * Not here: springs and detents, slopes, speed of the hand, bending.
 */
import {
  bodyRates,
  type FoldPlan,
  followerRates,
  jointCount,
  type LinkageWorkspace,
  poseAlong,
  poseBodies,
  RATE_SIZE,
} from '../linkage/index.ts';
import { MASS_SIZE, massInto, newMassBuffer } from '../mass/index.ts';
import { STANDARD_GRAVITY } from '../math/constants.ts';
import { at3, movePoint, type Numbers } from '../math/rigid.ts';
import type { Model, State } from '../model/types.ts';
import type { HandPlace } from './hand-place.ts';
import { type JointFriction, weighedFriction } from './joint-friction.ts';

/** One way of a move. */
export interface OneWay {
  /** Hand force along its way at each sample, N; negative: the hand holds back. In the order of the fold's `u` both ways. */
  readonly force: Float64Array;
  /** Greatest push (N, 0 where none is needed) and its sample; greatest holding back (N, positive) and its sample. */
  readonly push: number;
  readonly pushAt: number;
  readonly back: number;
  readonly backAt: number;
  /** Work that the hand puts in where it pushes, and takes out where it holds back, J. */
  readonly work: number;
  readonly returned: number;
  /** Energy of the part where it runs away, left alone, J; speed of the hand's place then, m/s; 0 where it does not. */
  readonly runaway: number;
  readonly runawaySpeed: number;
}
export interface MoveForce {
  /** Index into `Model.fold`; the driven joint. */
  readonly move: number;
  readonly joint: number;
  readonly place: HandPlace;
  /** Fractions of the way; value of the driven joint (rad, m). */
  readonly u: Float64Array;
  readonly q: Float64Array;
  /** Height of the hand's place, m; direction of its way as the fold goes, 3 a sample. */
  readonly height: Float64Array;
  readonly along: Float64Array;
  /** G and T per unit of the driven joint's progress, N·m or N; way of the hand per unit, m. */
  readonly gravity: Float64Array;
  readonly friction: Float64Array;
  readonly speed: Float64Array;
  readonly fold: OneWay;
  readonly unfold: OneWay;
  /** Potential energy gained by the whole move, from the end postures, J; friction's loss, J. */
  readonly rise: number;
  readonly loss: number;
  /** Mass that moves, kg. */
  readonly mass: number;
  /** What the other hand holds up, N, and where (station); 0 where the rest stands by itself. */
  readonly steady: { readonly force: number; readonly station: number };
}

/** Samples are 2 × this + 1: half a turn in 15°, where Simpson errs by 3e-5 on a sine. */
const HALVES = 6;

type ForceModel = Pick<Model, 'top' | 'roles' | 'wheels' | 'standsOn'>;

/**
 * One result per motion of `plan`; undefined where nothing that moves can be held.
 * `s` must be filled; its posture is not touched. `friction`: one per joint.
 */
export function moveForces(
  m: ForceModel,
  s: State,
  plan: FoldPlan,
  places: readonly (HandPlace | undefined)[],
  friction: readonly JointFriction[],
  ws: LinkageWorkspace,
): (MoveForce | undefined)[] {
  const { top } = m;
  const here: State = { ...s, q: new Float64Array(s.q.length), bodyT: new Float64Array(s.bodyT.length) };
  poseBodies(top, here);
  const ride = newMassBuffer(top.bodyCount);
  massInto(top, here, ride);
  const mass = Float64Array.from({ length: top.bodyCount }, (_, b) => ride.body[MASS_SIZE * b]!);
  const com = new Float64Array(3 * top.bodyCount);
  for (let b = 0; b < top.bodyCount; b++) if (mass[b]! > 0) com.set(at3(ride.body, MASS_SIZE * b + 1), 3 * b);
  const bodies: Bodies = { mass, com, inertia: ride.body };
  const field = new Float64Array(RATE_SIZE * top.bodyCount);
  return plan.segments.map((_, i) => {
    const place = places[i];
    return place && along(m, here, plan, i, place, places, friction, bodies, field, ws);
  });
}

interface Bodies {
  readonly mass: Float64Array;
  /** 3 a body, ride posture. */
  readonly com: Float64Array;
  /** `MassBuffer.body` of the ride posture. */
  readonly inertia: Float64Array;
}

function along(
  m: ForceModel,
  here: State,
  plan: FoldPlan,
  i: number,
  place: HandPlace,
  places: readonly (HandPlace | undefined)[],
  frictions: readonly JointFriction[],
  bodies: Bodies,
  field: Float64Array,
  ws: LinkageWorkspace,
): MoveForce {
  const { top } = m;
  const segment = plan.segments[i]!;
  const { from, to, joint, moving } = segment;
  const way = (to - from) * segment.reached;
  const sense = way < 0 ? -1 : 1;
  const count = 2 * HALVES + 1;
  const row = () => new Float64Array(count);
  const [u, q, height, gravity, friction, speed, inertia] = [row(), row(), row(), row(), row(), row(), row()];
  const direction = new Float64Array(3 * count);
  const p = new Float64Array(3);
  const v = new Float64Array(3);
  const energy = (): number => {
    let sum = 0;
    for (let b = 0; b < top.bodyCount; b++)
      if (moving[b] === 1 && bodies.mass[b]! > 0) {
        movedPoint(here.bodyT, b, bodies.com, 3 * b, p);
        sum += bodies.mass[b]! * p[2]!;
      }
    return STANDARD_GRAVITY * sum;
  };
  const rolls = staysOnGround(m, here, plan, i, ws);
  const borne = rolls ? NO_MASS : bodies.mass;
  let rise = 0;
  for (let k = 0; k < count; k++) {
    u[k] = (segment.reached * k) / (count - 1);
    poseAlong(m, plan, i, u[k]!, here, ws);
    q[k] = here.q[joint]!;
    if (k === 0) rise = -energy();
    if (k === count - 1) rise += energy();
    const rates = followerRates(m, plan, i, here, ws);
    bodyRates(top, here, rates, ws.carried, field);
    let climb = 0;
    let kinetic = 0;
    for (let b = 0; b < top.bodyCount; b++) {
      const mass = bodies.mass[b]!;
      if (moving[b] === 0 || !(mass > 0)) continue;
      movedPoint(here.bodyT, b, bodies.com, 3 * b, p);
      velocityAt(field, b, p, v);
      climb += mass * v[2]!;
      kinetic += mass * squared(v) + spin(bodies.inertia, here.bodyT, field, b);
    }
    gravity[k] = sense * STANDARD_GRAVITY * climb;
    inertia[k] = kinetic;
    let rub = 0;
    for (let j = 0; j < jointCount(top); j++) {
      const rate = Math.abs(rates[j]!);
      if (rate > 0) rub += rate * weighedFriction(top, here, j, frictions[j]!, ws.carried, borne, bodies.com);
    }
    friction[k] = rub;
    movedPoint(here.bodyT, place.body, place.point, 0, p);
    velocityAt(field, place.body, p, v);
    const length = Math.sqrt(squared(v));
    height[k] = p[2]!;
    speed[k] = length;
    for (let c = 0; c < 3; c++) direction[3 * k + c] = length > 0 ? (sense * v[c]!) / length : 0;
  }
  const step = Math.abs(way) / (count - 1);
  const curves = { u, q, height, along: direction, gravity, friction, speed };
  let carriedMass = 0;
  for (let b = 0; b < top.bodyCount; b++) if (moving[b] === 1) carriedMass += bodies.mass[b]!;
  return {
    move: segment.move,
    joint,
    place,
    ...curves,
    fold: oneWay(curves, inertia, 1, step),
    unfold: oneWay(curves, inertia, -1, step),
    rise,
    loss: simpson(friction, step),
    mass: carriedMass,
    // a wheel that rolls on is not lifted: nothing to hold up
    steady: rolls ? NOBODY : steadying(m, here, plan, i, places, bodies, ws),
  };
}

/** How far a wheel may rise or sink and still roll on the ground, m. */
const ON_GROUND = 0.005;
const NOBODY: MoveForce['steady'] = { force: 0, station: -1 };
/** No body has mass: joints that carry nothing. */
const NO_MASS = new Float64Array(0);

/** Whether a wheel of the part that moves keeps the height that it has while riding: the ground then carries the part. */
function staysOnGround(m: ForceModel, here: State, plan: FoldPlan, i: number, ws: LinkageWorkspace): boolean {
  const segment = plan.segments[i]!;
  return [m.wheels.front, m.wheels.rear].some((wheel) => {
    if (segment.moving[wheel.body] !== 1) return false;
    const hub = at3(here.station, 3 * wheel.station);
    return [0, 0.25, 0.5, 0.75, 1].every((share) => {
      poseAlong(m, plan, i, share * segment.reached, here, ws);
      return Math.abs(movePoint(here.bodyT, 12 * wheel.body, hub)[2] - hub[2]) <= ON_GROUND;
    });
  });
}

/** The body's point (ride posture, at `i` of `from`) where it is now, to `out`. */
function movedPoint(t: Float64Array, body: number, from: Numbers, i: number, out: Float64Array): void {
  const o = 12 * body;
  const x = from[i]!;
  const y = from[i + 1]!;
  const z = from[i + 2]!;
  out[0] = t[o]! * x + t[o + 1]! * y + t[o + 2]! * z + t[o + 3]!;
  out[1] = t[o + 4]! * x + t[o + 5]! * y + t[o + 6]! * z + t[o + 7]!;
  out[2] = t[o + 8]! * x + t[o + 9]! * y + t[o + 10]! * z + t[o + 11]!;
}
/** v + ω × p of a body's field. */
function velocityAt(field: Float64Array, body: number, p: Float64Array, out: Float64Array): void {
  const o = RATE_SIZE * body;
  out[0] = field[o + 3]! + field[o + 1]! * p[2]! - field[o + 2]! * p[1]!;
  out[1] = field[o + 4]! + field[o + 2]! * p[0]! - field[o]! * p[2]!;
  out[2] = field[o + 5]! + field[o]! * p[1]! - field[o + 1]! * p[0]!;
}
const squared = (v: Float64Array): number => v[0]! * v[0]! + v[1]! * v[1]! + v[2]! * v[2]!;

/** ω·I ω of a body whose inertia `blocks` gives in the ride posture: the turn is carried back there. */
function spin(blocks: Float64Array, t: Float64Array, field: Float64Array, body: number): number {
  const o = 12 * body;
  const f = RATE_SIZE * body;
  const i = MASS_SIZE * body + 4;
  const wx = field[f]!;
  const wy = field[f + 1]!;
  const wz = field[f + 2]!;
  const x = t[o]! * wx + t[o + 4]! * wy + t[o + 8]! * wz;
  const y = t[o + 1]! * wx + t[o + 5]! * wy + t[o + 9]! * wz;
  const z = t[o + 2]! * wx + t[o + 6]! * wy + t[o + 10]! * wz;
  return (
    x * x * blocks[i]! +
    y * y * blocks[i + 1]! +
    z * z * blocks[i + 2]! +
    2 * (x * y * blocks[i + 3]! + x * z * blocks[i + 4]! + y * z * blocks[i + 5]!)
  );
}

type Curves = Pick<MoveForce, 'gravity' | 'friction' | 'speed'>;

function oneWay(c: Curves, inertia: Float64Array, sense: 1 | -1, step: number): OneWay {
  const n = c.gravity.length;
  /** What the hand must give per unit of progress. */
  const asked = Float64Array.from(c.gravity, (g, k) => sense * g + c.friction[k]!);
  const force = Float64Array.from(asked, (a, k) => (c.speed[k]! > 0 ? a / c.speed[k]! : 0));
  let [pushAt, backAt] = [0, 0];
  for (let k = 1; k < n; k++) {
    if (force[k]! > force[pushAt]!) pushAt = k;
    if (force[k]! < force[backAt]!) backAt = k;
  }
  // Left alone: the stretch over which most energy is set free, by trapezoids in the sense of the motion.
  let [kept, most, at] = [0, 0, 0];
  for (let i = 1; i < n; i++) {
    const [k, before] = sense > 0 ? [i, i - 1] : [n - 1 - i, n - i];
    kept = Math.max(0, kept - (step * (asked[k]! + asked[before]!)) / 2);
    if (kept > most) [most, at] = [kept, k];
  }
  return {
    force,
    push: Math.max(0, force[pushAt]!),
    pushAt,
    back: Math.max(0, -force[backAt]!),
    backAt,
    work: simpson(
      asked.map((a) => Math.max(a, 0)),
      step,
    ),
    returned: simpson(
      asked.map((a) => Math.max(-a, 0)),
      step,
    ),
    runaway: most,
    runawaySpeed: most > 0 && inertia[at]! > 0 ? c.speed[at]! * Math.sqrt((2 * most) / inertia[at]!) : 0,
  };
}

/** Simpson's rule on an odd number of samples `step` apart. */
function simpson(y: Float64Array, step: number): number {
  let sum = 0;
  const last = y.length - 1;
  for (let k = 0; k <= last; k++) sum += (k === 0 || k === last ? 1 : k % 2 ? 4 : 2) * y[k]!;
  return (sum * step) / 3;
}

/**
 * The other hand's share while one wheel leaves the ground: balance of moments about the other wheel's axle in side view, at
 * the start of the move. A stand that an earlier move let down carries it.
 */
function steadying(
  m: ForceModel,
  here: State,
  plan: FoldPlan,
  i: number,
  places: readonly (HandPlace | undefined)[],
  bodies: Bodies,
  ws: LinkageWorkspace,
): MoveForce['steady'] {
  const { moving } = plan.segments[i]!;
  const lifted = [m.wheels.front, m.wheels.rear].filter((w) => moving[w.body] === 1);
  if (lifted.length !== 1) return NOBODY;
  const standing = places.slice(0, i).some((place) => place?.foot);
  if (standing) return NOBODY;
  const wheel = lifted[0] === m.wheels.front ? m.wheels.rear : m.wheels.front;
  poseAlong(m, plan, i, 0, here, ws);
  let [weight, moment] = [0, 0];
  const pivot = movePoint(here.bodyT, 12 * wheel.body, at3(here.station, 3 * wheel.station))[0];
  for (let b = 0; b < m.top.bodyCount; b++) {
    if (!(bodies.mass[b]! > 0)) continue;
    weight += STANDARD_GRAVITY * bodies.mass[b]!;
    moment += STANDARD_GRAVITY * bodies.mass[b]! * (movePoint(here.bodyT, 12 * b, at3(bodies.com, 3 * b))[0] - pivot);
  }
  const { saddle, saddleBody, gripLeft, gripBody } = m.roles;
  let best = NOBODY;
  for (const [station, body] of [
    [saddle, saddleBody],
    [gripLeft, gripBody],
  ] as const) {
    if (station < 0 || body < 0 || moving[body] === 1) continue;
    const arm = movePoint(here.bodyT, 12 * body, at3(here.station, 3 * station))[0] - pivot;
    const force = moment / arm;
    // a hand beyond the wheel would have to press down
    if (force > 0 && force < weight && (best.station < 0 || force < best.force)) best = { force, station };
  }
  return best;
}
