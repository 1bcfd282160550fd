/**
 * One turn of the cranks: where knee, shank, heel and toe of a rider come nearest to the bicycle.
 *
 * Hip fixed over the saddle, ankle over the pedal with the heel raised 15°, knee by two circles; `TURN` places of the crank, and
 * where a limb is near its limit two more beside the nearest of them: between two places a knee moves some 30 mm on a path
 * of 0.1 m radius, so the least would otherwise be told up to 5 mm too large.
 * Units: m, rad. Hot path: leaf scratch, never re-entered; allocates nothing. Not here: ankling, the other leg (the planes of the
 * fields lie on both sides).
 */
import { LINK } from '../body-links.ts';
import { HEEL_UP, SOLE } from '../seat.ts';
import { type ClearanceField, type NearestShape, readField } from './clearance-field.ts';
import type { FitGeometry } from './fit-geometry.ts';
import type { FitLimits } from './limits.ts';

const TURN = 18;
/** Share of a step that is looked at beside the nearest place. */
const BESIDE = 1 / 3;
/** A least gap is told too large by up to 5 mm: nearer to its limit than this it is looked at again. */
const NEAR = 0.008;
const COS_UP = Math.cos(HEEL_UP);
const SIN_UP = Math.sin(HEEL_UP);
/** Round front end of a shoe, radius of heel and lower shank in a trouser leg, m; from memory. */
const TOE_RADIUS = 0.03;
const HEEL_RADIUS = 0.033;
/** Places along the shank from the knee, and how thick the leg is there beside the calf. */
const CALF_AT = 0.3;
const SHIN_AT = 0.65;
const SHIN_SHARE = 0.82;

const angleOf = (place: number): number => (2 * Math.PI * place) / TURN;
/** cos and sin of the crank's place, from the top, forward. */
const COS = Float64Array.from({ length: TURN }, (_, i) => Math.cos(angleOf(i)));
const SIN = Float64Array.from({ length: TURN }, (_, i) => Math.sin(angleOf(i)));

/**
 * The least of a field along a path: 7 numbers least, last value, last x and z, x and z of the least, place of the crank. A
 * distance changes no faster than the point moves, so a place that cannot be nearer than the least so far is not read.
 */
const newLeast = (): Float64Array => new Float64Array(7);
const atBar = newLeast();
const atFrame = newLeast();
const atToe = newLeast();
const atHeel = newLeast();
const atCalf = newLeast();
const atShin = newLeast();
const ALL = [atBar, atFrame, atToe, atHeel, atCalf, atShin] as const;
function pass(least: Float64Array, field: ClearanceField, x: number, z: number, place: number): void {
  if (least[1]! - Math.abs(x - least[2]!) - Math.abs(z - least[3]!) >= least[0]!) return;
  const value = readField(field, x, z);
  least[1] = value;
  least[2] = x;
  least[3] = z;
  if (value < least[0]!) {
    least[0] = value;
    least[4] = x;
    least[5] = z;
    least[6] = place;
  }
}

/** A point of the flat foot, x ahead of the pedal's axle and z above it, with the heel raised. */
const ahead = (x: number, z: number): number => x * COS_UP + z * SIN_UP;
const above = (x: number, z: number): number => -x * SIN_UP + z * COS_UP;

/** Of the leg at work: hip x z, thigh, shank, then ankle, heel and toe from the pedal's axle. */
const leg = new Float64Array(10);

/** Reads all fields with the crank at the angle whose sine and cosine are given. */
function look(g: FitGeometry, sin: number, cos: number, place: number): void {
  const hx = leg[0]!;
  const hz = leg[1]!;
  const a = leg[2]!;
  const b = leg[3]!;
  const px = g.crank.x + g.crank.length * sin;
  const pz = g.crank.z + g.crank.length * cos;
  const vx = px + leg[4]! - hx;
  const vz = pz + leg[5]! - hz;
  const d = Math.sqrt(vx * vx + vz * vz);
  // out of reach the leg is straight: the knee angle is uncertain by more than that
  const along = Math.min(a, Math.max(-a, (a * a + d * d - b * b) / (2 * d)));
  const across = Math.sqrt(a * a - along * along);
  const kx = hx + (along * vx - across * vz) / d;
  const kz = hz + (along * vz + across * vx) / d;
  pass(atBar, g.bar, kx - g.barShift.x, kz - g.barShift.z, place);
  pass(atFrame, g.frameAtKnee, kx, kz, place);
  const qx = px + leg[4]! - kx;
  const qz = pz + leg[5]! - kz;
  pass(atCalf, g.frameAtLeg, kx + CALF_AT * qx, kz + CALF_AT * qz, place);
  pass(atShin, g.frameAtLeg, kx + SHIN_AT * qx, kz + SHIN_AT * qz, place);
  pass(atHeel, g.frameAtHeel, px + leg[6]!, pz + leg[7]!, place);
  if (sin > 0) pass(atToe, g.wheelAtToe, px + leg[8]!, pz + leg[9]!, place);
}

/** Looks beside the nearest place of a limb whose middle comes within `limit` of metal, or nearly. */
function lookAgain(g: FitGeometry, least: Float64Array, limit: number): void {
  if (!(least[0]! < limit + NEAR)) return;
  const place = least[6]!;
  for (let k = -1; k <= 1; k += 2) {
    const angle = angleOf(place + k * BESIDE);
    look(g, Math.sin(angle), Math.cos(angle), place);
  }
}

/**
 * Turns the cranks under a rider with the hip at (hx, hz) and the links `l` (`LINK` order); writes the ankle from the pedal's axle,
 * then the least gaps of knee, toe, heel and leg, skin to metal, to out[0…5]; m. Places that no field limits: at least `FAR`.
 */
export function turnCranks(
  g: FitGeometry,
  limits: FitLimits,
  l: Float64Array,
  hx: number,
  hz: number,
  out: Float64Array,
): void {
  const ball = l[LINK.ball]!;
  leg[0] = hx;
  leg[1] = hz;
  leg[2] = l[LINK.thigh]!;
  leg[3] = l[LINK.shank]!;
  leg[4] = ahead(l[LINK.ankleAhead]! - ball, l[LINK.ankle]! + SOLE);
  leg[5] = above(l[LINK.ankleAhead]! - ball, l[LINK.ankle]! + SOLE);
  const back = -ball - limits.shoe + HEEL_RADIUS;
  leg[6] = ahead(back, SOLE + HEEL_RADIUS);
  leg[7] = above(back, SOLE + HEEL_RADIUS);
  const front = l[LINK.foot]! - ball + limits.shoe - TOE_RADIUS;
  leg[8] = ahead(front, SOLE);
  leg[9] = above(front, SOLE);
  for (const least of ALL) {
    least[0] = Number.POSITIVE_INFINITY;
    least[1] = Number.NEGATIVE_INFINITY;
  }
  for (let i = 0; i < TURN; i++) look(g, SIN[i]!, COS[i]!, i);
  const knee = limits.knee_radius + limits.knee_gap;
  const shin = SHIN_SHARE * limits.calf_radius;
  lookAgain(g, atBar, knee);
  lookAgain(g, atFrame, knee);
  lookAgain(g, atToe, TOE_RADIUS + limits.toe_gap);
  lookAgain(g, atHeel, HEEL_RADIUS + limits.heel_gap);
  lookAgain(g, atCalf, limits.calf_radius + limits.leg_gap);
  lookAgain(g, atShin, shin + limits.leg_gap);
  out[0] = leg[4]!;
  out[1] = leg[5]!;
  out[2] = Math.min(atBar[0]!, atFrame[0]!) - limits.knee_radius;
  out[3] = atToe[0]! - TOE_RADIUS;
  out[4] = atHeel[0]! - HEEL_RADIUS;
  out[5] = Math.min(atCalf[0]! - limits.calf_radius, atShin[0]! - shin);
}

/** Where a rider comes nearest to the bicycle, and to what. */
export interface TightPlace {
  readonly key: 'knee' | 'toe' | 'heel' | 'leg';
  /** The limb's middle there, m. */
  readonly x: number;
  readonly z: number;
  readonly nearest: NearestShape;
}

/** The tightest places of the turn that `turnCranks` did last, exact. */
export function placesOfLastTurn(g: FitGeometry, limits: FitLimits): TightPlace[] {
  const place = (key: TightPlace['key'], least: Float64Array, field: ClearanceField, dx = 0, dz = 0): TightPlace => {
    const [x, z] = [least[4]!, least[5]!];
    return { key, x: x + dx, z: z + dz, nearest: field.exact(x, z) };
  };
  const knee =
    atBar[0]! <= atFrame[0]!
      ? place('knee', atBar, g.bar, g.barShift.x, g.barShift.z)
      : place('knee', atFrame, g.frameAtKnee);
  const calf = atCalf[0]! - limits.calf_radius <= atShin[0]! - SHIN_SHARE * limits.calf_radius ? atCalf : atShin;
  return [
    knee,
    place('toe', atToe, g.wheelAtToe),
    place('heel', atHeel, g.frameAtHeel),
    place('leg', calf, g.frameAtLeg),
  ];
}
