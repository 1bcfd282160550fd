/**
 * One rider on one bicycle: where the saddle goes, how the limbs lie, and which limits are missed.
 *
 * Method, in the plane x-z (x forward, z up):
 * - saddle: 0.883 × inseam from the crank's centre, within the post's range; a miss when it stays farther off than tolerated;
 * - legs: one turn of the cranks (`leg-turn.ts`);
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
import type { FitGeometry } from './fit-geometry.ts';
import { placesOfLastTurn, type TightPlace, turnCranks } from './leg-turn.ts';
import { type FitLimits, MISS } from './limits.ts';

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
const UPRIGHT = 85 * DEG;
/** Grips nearer ahead of the hips than this are no handlebar in front of a rider, m; from memory. */
export const LEAST_AHEAD = 0.2;
const links = new Float64Array(Object.keys(LINK).length);

/** Ankle from the pedal's axle, and the four gaps of a turn. */
const turn = new Float64Array(6);

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
  turnCranks(g, limits, l, hx, hz, turn);
  const ax = turn[0]!;
  const az = turn[1]!;
  const kneeGap = turn[2]!;
  const toeGap = turn[3]!;
  const heelGap = turn[4]!;
  const legGap = turn[5]!;
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
  // grips above the shoulders are out of reach, grips beside the hips or behind them too near, whatever the arm could span
  if (!(far >= limits.trunk_least) || gz > trunk) mask |= MISS.reach_far;
  if (elbow > limits.elbow_most || gx < LEAST_AHEAD) mask |= MISS.reach_near;

  // standing over it, a foot on the ground, mass
  const overGap = inseam + limits.shoe_sole - g.over;
  if (overGap < limits.over_gap) mask |= MISS.over;
  const ankle = l[LINK.ankle]!;
  const toBall = l[LINK.ball]! - l[LINK.ankleAhead]!;
  const leg = a + b + Math.sqrt(ankle * ankle + toBall * toBall) + limits.shoe_sole;
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

/** The tightest places of one rider, exact. Arguments as for `fitRider`. */
export function tightPlaces(
  g: FitGeometry,
  limits: FitLimits,
  measure: Float64Array,
  female: boolean,
  rider: number,
): TightPlace[] {
  const own = measure.subarray(rider * RIDER_STRIDE, (rider + 1) * RIDER_STRIDE);
  fitRider(g, limits, own, female, 0, new Float64Array(FIT_STRIDE));
  return placesOfLastTurn(g, limits);
}
