/**
 * One rider on one bicycle: where the saddle goes, how the limbs lie, and which limits are missed.
 *
 * Method, in the plane x-z (x forward, z up):
 * - saddle: 0.883 × inseam from the crank's centre, within the post's range; a miss when it stays farther off than tolerated;
 * - leg: hip over the saddle, ankle over the pedal with the heel raised 15°, both circles through `TURN` places of the crank;
 *   knee, heel, toe and three places of the shank read their clearance fields on the way;
 * - arms: the trunk angle at which shoulder and grips are a nearly straight arm apart (too far when it lies below the least
 *   trunk), and the elbow that is left when the trunk stands at 85° (too near when it must bend too much);
 * - standing over: inseam and sole against the lowest place of the frame that one can stand over;
 * - ground: hip joint to the ball of a pointed foot against the height of the hip with the bicycle leaned.
 * Sources: saddle rule and links in `body-links.ts`; limits in `limits.ts`; the linkage is the planar one of Liu et al. 2011.
 * Absolute knee flexion is uncertain by ±10°: it is reported, never a miss.
 * Units: m, rad. Hot path: allocates nothing. Not here: ankling over the turn, riders who set their saddle otherwise.
 */
import { LINK, linksInto, SADDLE_RULE } from '../body-links.ts';
import { RIDER_STRIDE } from '../population.ts';
import { armSpan2, trunkForReach } from '../reach.ts';
import { raiseFor } from '../saddle.ts';
import { COLUMN } from '../survey.ts';
import { flexionAt } from '../two-link.ts';
import type { ClearanceField, NearestShape } from './clearance-field.ts';
import { type FitLimits, MISS } from './limits.ts';

/** A bicycle as its riders meet it; m. */
export interface FitGeometry {
  readonly crank: { readonly x: number; readonly z: number; readonly length: number };
  /** Saddle top in the file's posture; direction in which it rises (unit); range from there; `marked`: least insertion limits it. */
  readonly saddle: { readonly x: number; readonly z: number; readonly low: number; readonly high: number };
  readonly rise: { readonly x: number; readonly z: number };
  readonly grip: { readonly x: number; readonly z: number; readonly half: number };
  /** Fields round what turns with the bar and round what does not, in the plane of the knees; the bar's may be displaced. */
  readonly bar: ClearanceField;
  readonly barShift: { readonly x: number; readonly z: number };
  readonly frameAtKnee: ClearanceField;
  readonly wheelAtToe: ClearanceField;
  readonly frameAtHeel: ClearanceField;
  readonly frameAtLeg: ClearanceField;
  /** Height of the frame where one stands over it; NaN where there is no such place. */
  readonly over: number;
  /** kg. */
  readonly rating: number;
}

/** What is kept of one rider: indices into a row of `FIT_STRIDE` numbers. */
export const FIT = {
  /** Bits of `MISS`. */
  mask: 0,
  /** Crank to saddle, m: by the rule, and reached. */
  wanted: 1,
  reached: 2,
  raise: 3,
  /** Trunk to the ground with nearly straight arms; elbow flexion with the trunk at 85°; rad. */
  trunk: 4,
  elbow: 5,
  /** Least gap over the turn, skin to metal, m. */
  kneeGap: 6,
  toeGap: 7,
  heelGap: 8,
  legGap: 9,
  /** Crotch to frame; ball of the foot below the ground line (positive: reaches), m. */
  overGap: 10,
  groundGap: 11,
  /** Knee flexion with the crank in line, rad: ±10° in absolute terms. */
  kneeBottom: 12,
  kneeTop: 13,
} as const;
export const FIT_STRIDE = Object.keys(FIT).length;

const DEG = Math.PI / 180;
const TURN = 24;
const HEEL_UP = 15 * DEG;
const COS_UP = Math.cos(HEEL_UP);
const SIN_UP = Math.sin(HEEL_UP);
/** Sole and the pedal's half thickness, as in `seat.ts`. */
const SOLE = 0.03;
/** Round front end of a shoe, radius of heel and lower shank in a trouser leg, m; from memory. */
const TOE_RADIUS = 0.03;
const HEEL_RADIUS = 0.033;
/** Places along the shank from the knee, and how thick the leg is there beside the calf. */
const CALF_AT = 0.3;
const SHIN_AT = 0.65;
const SHIN_SHARE = 0.82;
const UPRIGHT = 85 * DEG;
/** cos and sin of the crank's place, from the top, forward. */
const COS = Float64Array.from({ length: TURN }, (_, i) => Math.cos((2 * Math.PI * i) / TURN));
const SIN = Float64Array.from({ length: TURN }, (_, i) => Math.sin((2 * Math.PI * i) / TURN));

const links = new Float64Array(Object.keys(LINK).length);

/**
 * The least of a field along a path: 6 numbers least, last value, last x and z, x and z of the least. A distance changes no faster than the point
 * moves, so a place that cannot be nearer than the least so far is not read.
 */
const newLeast = (): Float64Array => Float64Array.of(Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY, 0, 0, 0, 0);
const atBar = newLeast();
const atFrame = newLeast();
const atToe = newLeast();
const atHeel = newLeast();
const atCalf = newLeast();
const atShin = newLeast();
function restart(least: Float64Array): void {
  least[0] = Number.POSITIVE_INFINITY;
  least[1] = Number.NEGATIVE_INFINITY;
}
function pass(least: Float64Array, field: ClearanceField, x: number, z: number): void {
  if (least[1]! - Math.abs(x - least[2]!) - Math.abs(z - least[3]!) >= least[0]!) return;
  const value = field.read(x, z);
  least[1] = value;
  least[2] = x;
  least[3] = z;
  if (value < least[0]!) {
    least[0] = value;
    least[4] = x;
    least[5] = z;
  }
}

/** A point of the flat foot, x ahead of the pedal's axle and z above it, with the heel raised. */
const ahead = (x: number, z: number): number => x * COS_UP + z * SIN_UP;
const above = (x: number, z: number): number => -x * SIN_UP + z * COS_UP;
/** Knee flexion with the ankle at (vx, vz) from the hip. */
const flexion = (thigh: number, shank: number, vx: number, vz: number): number =>
  flexionAt(thigh, shank, Math.sqrt(vx * vx + vz * vz));

/**
 * Fits the rider whose measures stand at `measure[rider · RIDER_STRIDE…]`; writes `FIT_STRIDE` numbers at `out[rider · …]`
 * and returns the mask of misses (0: fits). `limits`: SI, see `fitLimits`.
 */
export function fitRider(
  g: FitGeometry,
  limits: FitLimits,
  measure: Float64Array,
  female: boolean,
  rider: number,
  out: Float64Array,
): number {
  const o = rider * RIDER_STRIDE;
  const w = rider * FIT_STRIDE;
  const l = links;
  linksInto(measure, o, female, l);
  const inseam = measure[o + COLUMN.inseam]!;
  let mask = 0;

  // saddle
  const wanted = SADDLE_RULE * inseam;
  const rx = g.saddle.x - g.crank.x;
  const rz = g.saddle.z - g.crank.z;
  const ideal = raiseFor(wanted, rx * g.rise.x + rz * g.rise.z, rx * rx + rz * rz);
  const raise = ideal < g.saddle.low ? g.saddle.low : ideal > g.saddle.high ? g.saddle.high : ideal;
  const sx = g.saddle.x + raise * g.rise.x;
  const sz = g.saddle.z + raise * g.rise.z;
  const cx = sx - g.crank.x;
  const cz = sz - g.crank.z;
  const reached = Math.sqrt(cx * cx + cz * cz);
  const slack = limits.saddle_tolerance * wanted;
  if (reached < wanted - slack) mask |= MISS.post_short;
  if (reached > wanted + slack) mask |= MISS.post_long;

  // legs
  const hx = sx;
  const hz = sz + l[LINK.hipAboveSaddle]!;
  const a = l[LINK.thigh]!;
  const b = l[LINK.shank]!;
  const ball = l[LINK.ball]!;
  const ax = ahead(l[LINK.ankleAhead]! - ball, l[LINK.ankle]! + SOLE);
  const az = above(l[LINK.ankleAhead]! - ball, l[LINK.ankle]! + SOLE);
  const back = -ball - limits.shoe + HEEL_RADIUS;
  const ex = ahead(back, SOLE + HEEL_RADIUS);
  const ez = above(back, SOLE + HEEL_RADIUS);
  const front = l[LINK.foot]! - ball + limits.shoe - TOE_RADIUS;
  const tx = ahead(front, SOLE);
  const tz = above(front, SOLE);
  for (const least of [atBar, atFrame, atToe, atHeel, atCalf, atShin]) restart(least);
  for (let i = 0; i < TURN; i++) {
    const px = g.crank.x + g.crank.length * SIN[i]!;
    const pz = g.crank.z + g.crank.length * COS[i]!;
    const vx = px + ax - hx;
    const vz = pz + az - hz;
    const d = Math.sqrt(vx * vx + vz * vz);
    // out of reach the leg is straight: the knee angle is uncertain by more than that
    const along = Math.min(a, Math.max(-a, (a * a + d * d - b * b) / (2 * d)));
    const across = Math.sqrt(a * a - along * along);
    const ux = vx / d;
    const uz = vz / d;
    const kx = hx + along * ux - across * uz;
    const kz = hz + along * uz + across * ux;
    pass(atBar, g.bar, kx - g.barShift.x, kz - g.barShift.z);
    pass(atFrame, g.frameAtKnee, kx, kz);
    const qx = px + ax - kx;
    const qz = pz + az - kz;
    pass(atCalf, g.frameAtLeg, kx + CALF_AT * qx, kz + CALF_AT * qz);
    pass(atShin, g.frameAtLeg, kx + SHIN_AT * qx, kz + SHIN_AT * qz);
    pass(atHeel, g.frameAtHeel, px + ex, pz + ez);
    if (SIN[i]! > 0) pass(atToe, g.wheelAtToe, px + tx, pz + tz);
  }
  const kneeGap = Math.min(atBar[0]!, atFrame[0]!) - limits.knee_radius;
  const toeGap = atToe[0]! - TOE_RADIUS;
  const heelGap = atHeel[0]! - HEEL_RADIUS;
  const legGap = Math.min(atCalf[0]! - limits.calf_radius, atShin[0]! - SHIN_SHARE * limits.calf_radius);
  if (kneeGap < limits.knee_gap) mask |= MISS.knee;
  if (toeGap < limits.toe_gap) mask |= MISS.toe;
  if (heelGap < limits.heel_gap) mask |= MISS.heel;
  if (legGap < limits.leg_gap) mask |= MISS.leg;
  const lineX = hx - g.crank.x;
  const lineZ = hz - g.crank.z;
  const lineL = Math.sqrt(lineX * lineX + lineZ * lineZ);
  const kx = (g.crank.length * lineX) / lineL;
  const kz = (g.crank.length * lineZ) / lineL;

  // arms
  const upper = l[LINK.upperArm]!;
  const fore = l[LINK.forearm]!;
  const trunk = l[LINK.trunk]!;
  const out2 = (g.grip.half - l[LINK.shoulderHalf]!) * (g.grip.half - l[LINK.shoulderHalf]!);
  const gx = g.grip.x - hx;
  const gz = g.grip.z - hz;
  const far = trunkForReach(trunk, gx, gz, armSpan2(upper, fore, limits.elbow_reach) - out2);
  const dx = gx - trunk * Math.cos(UPRIGHT);
  const dz = gz - trunk * Math.sin(UPRIGHT);
  const elbow = flexionAt(upper, fore, Math.sqrt(dx * dx + dz * dz + out2));
  if (!(far >= limits.trunk_least)) mask |= MISS.reach_far;
  if (elbow > limits.elbow_most) mask |= MISS.reach_near;

  // standing over it, a foot on the ground, mass
  const overGap = inseam + limits.shoe_sole - g.over;
  if (overGap < limits.over_gap) mask |= MISS.over;
  const ankle = l[LINK.ankle]!;
  const toBall = ball - l[LINK.ankleAhead]!;
  const leg = a + b + Math.sqrt(ankle * ankle + toBall * toBall) + SOLE;
  const hipHeight =
    hz * Math.cos(limits.ground_lean) - l[LINK.hipHalf]! * Math.sin(limits.ground_lean) - limits.ground_drop;
  const groundGap = Math.sqrt(Math.max(0, leg * leg - limits.ground_out * limits.ground_out)) - hipHeight;
  if (groundGap < 0) mask |= MISS.ground;
  if (measure[o + COLUMN.mass]! > g.rating) mask |= MISS.mass;

  out[w + FIT.mask] = mask;
  out[w + FIT.wanted] = wanted;
  out[w + FIT.reached] = reached;
  out[w + FIT.raise] = raise;
  out[w + FIT.trunk] = far;
  out[w + FIT.elbow] = elbow;
  out[w + FIT.kneeGap] = kneeGap;
  out[w + FIT.toeGap] = toeGap;
  out[w + FIT.heelGap] = heelGap;
  out[w + FIT.legGap] = legGap;
  out[w + FIT.overGap] = overGap;
  out[w + FIT.groundGap] = groundGap;
  out[w + FIT.kneeBottom] = flexion(a, b, ax - lineX - kx, az - lineZ - kz);
  out[w + FIT.kneeTop] = flexion(a, b, ax - lineX + kx, az - lineZ + kz);
  return mask;
}

/** Where a rider comes nearest to the bicycle, and to what. */
export interface TightPlace {
  readonly key: 'knee' | 'toe' | 'heel' | 'leg';
  /** The limb's middle there, m. */
  readonly x: number;
  readonly z: number;
  readonly nearest: NearestShape;
}

/** The tightest places of one rider, exact. Arguments as for `fitRider`. */
export function tightPlaces(
  g: FitGeometry,
  limits: FitLimits,
  measure: Float64Array,
  female: boolean,
  rider: number,
): TightPlace[] {
  fitRider(g, limits, measure, female, rider, new Float64Array((rider + 1) * FIT_STRIDE));
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
