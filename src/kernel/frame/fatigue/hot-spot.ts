/**
 * Hot-spot factors of a round tube welded to the side of another one (T and Y joints).
 *
 * Efthymiou 1988, Development of SCF formulae and generalised influence functions for use in fatigue analysis (Recent
 * Developments in Tubular Joints Technology), Table 1, equations T1–T4 and T8–T11 in a public transcription; combination
 * at eight points round the weld after DNV-RP-C203, 3.3.2, with its floor of 1.5 (both from memory).
 *
 *   β = d/D, γ = D/2T, τ = t/T, θ = angle between the tubes     (d, t the tube that ends; D, T the tube that it meets)
 *
 * Factors multiply the nominal stresses of the tube that ends: axial, bending in the plane of the two tubes, bending out of
 * it. The formulas include how a chord of length αD/2 bends as a beam; here the beam model does that, so α = 12 and pinned
 * ends are put in, where that part vanishes, and the walls' own share is left.
 * Range: 0.2 ≤ β ≤ 1, 0.2 ≤ τ ≤ 1, 8 ≤ γ ≤ 32, 20° ≤ θ ≤ 90°. Bicycle tubes lie inside in shape, not in wall (mm, not cm).
 * Not here: K joints and gussets, oval and rectangular tubes, short chords (they are stiffer), stresses of the chord itself.
 */
import { power } from '../../math/power.ts';
import { insist } from './refusal.ts';

export interface TeeJoint {
  /** Tube that goes through, mm. */
  readonly chordOd: number;
  readonly chordWall: number;
  /** Tube that ends on it, mm. */
  readonly braceOd: number;
  readonly braceWall: number;
  /** Angle between the two, rad, 0…π/2. */
  readonly angle: number;
}
/** Crown: on the plane of the two tubes; saddle: square to it. */
export interface SideFactors {
  readonly axialCrown: number;
  readonly axialSaddle: number;
  readonly inPlaneCrown: number;
  readonly outOfPlaneSaddle: number;
}
export interface HotSpotFactors {
  readonly chord: SideFactors;
  readonly brace: SideFactors;
  /** What lies outside the range of the formulas; empty when nothing does. */
  readonly outside: readonly string[];
}
/** Nominal stresses at the end of the tube that ends, MPa, signed; extreme fibre for the bendings. */
export interface NominalStress {
  readonly axial: number;
  readonly inPlane: number;
  readonly outOfPlane: number;
}

const ALPHA = 12;
const FLOOR = 1.5;
const floored = (x: number): number => Math.max(FLOOR, x);

/** @throws FatigueRefusal for sizes that no tube has. */
export function teeHotSpotFactors(joint: TeeJoint): HotSpotFactors {
  const { chordOd: D, chordWall: T, braceOd: d, braceWall: t, angle } = joint;
  insist(D > 0 && T > 0 && T < D / 2, 'chordWall', 'the wall of the tube that goes through must fit into it');
  insist(d > 0 && t > 0 && t < d / 2, 'braceWall', 'the wall of the tube that ends must fit into it');
  insist(
    angle > 0 && angle <= Math.PI / 2 + 1e-9,
    'angle',
    'the angle between the tubes lies between 0 and a right angle',
  );
  const beta = d / D;
  const gamma = D / (2 * T);
  const tau = t / T;
  const s = Math.sin(angle);
  const outOfPlane = gamma * tau * beta * (1.7 - 1.05 * beta * beta * beta) * power(s, 1.6);
  const b4 = beta * beta * beta * beta;
  const off = (b: number): number => (beta - b) * (beta - b);
  const chord = {
    axialSaddle: gamma * power(tau, 1.1) * (1.11 - 3 * off(0.52)) * power(s, 1.6),
    axialCrown: power(gamma, 0.2) * tau * (2.65 + 5 * off(0.65)),
    inPlaneCrown: 1.45 * beta * power(tau, 0.85) * power(gamma, 1 - 0.68 * beta) * power(s, 0.7),
    outOfPlaneSaddle: outOfPlane,
  };
  const brace = {
    axialSaddle:
      1.3 +
      gamma *
        power(tau, 0.52) *
        power(ALPHA, 0.1) *
        (0.187 - 1.25 * power(beta, 1.1) * (beta - 0.96)) *
        power(s, 2.7 - 0.01 * ALPHA),
    axialCrown: 3 + power(gamma, 1.2) * (0.12 * Math.exp(-4 * beta) + 0.011 * beta * beta - 0.045),
    inPlaneCrown: 1 + 0.65 * beta * power(tau, 0.4) * power(gamma, 1.09 - 0.77 * beta) * power(s, 0.06 * gamma - 1.16),
    outOfPlaneSaddle: power(tau, -0.54) * power(gamma, -0.05) * (0.99 - 0.47 * beta + 0.08 * b4) * outOfPlane,
  };
  const degrees = (angle * 180) / Math.PI;
  const check = (name: string, value: number, least: number, most: number): string[] =>
    value < least - 1e-9 || value > most + 1e-9 ? [`${name} ${value.toFixed(2)} outside ${least} to ${most}`] : [];
  return {
    chord: floorAll(chord),
    brace: floorAll(brace),
    outside: [
      ...check('diameter ratio', beta, 0.2, 1),
      ...check('wall ratio', tau, 0.2, 1),
      ...check('radius over wall', gamma, 8, 32),
      ...check('angle in degrees', degrees, 20, 90),
    ],
  };
}
const floorAll = (f: SideFactors): SideFactors => ({
  axialCrown: floored(f.axialCrown),
  axialSaddle: floored(f.axialSaddle),
  inPlaneCrown: floored(f.inPlaneCrown),
  outOfPlaneSaddle: floored(f.outOfPlaneSaddle),
});

/** Points round the weld, from one crown on, every 45°. */
const POINTS = 8;

/** Hot-spot stress (MPa) on one side at the k-th of eight points, 45° apart, from the crown on. */
export function hotSpotStress(f: SideFactors, n: NominalStress, k: number): number {
  const phi = (k * 2 * Math.PI) / POINTS;
  const [c, s] = [Math.cos(phi), Math.sin(phi)];
  return (
    (f.axialCrown * c * c + f.axialSaddle * s * s) * n.axial +
    f.inPlaneCrown * c * n.inPlane +
    f.outOfPlaneSaddle * s * n.outOfPlane
  );
}

export interface HotSpotRange {
  /** MPa. */
  readonly range: number;
  readonly side: 'chord' | 'brace';
  /** Degrees round the weld from the crown at which in-plane bending is positive. */
  readonly at: number;
}

/**
 * Largest range of the hot-spot stress over the load states of one cycle (the unloaded state is one of them if the load
 * goes back to nothing), at eight points on both sides of the weld.
 */
export function hotSpotRange(factors: HotSpotFactors, states: readonly NominalStress[]): HotSpotRange {
  let worst: HotSpotRange = { range: 0, side: 'chord', at: 0 };
  for (const side of ['chord', 'brace'] as const)
    for (let k = 0; k < POINTS; k++) {
      let least = Number.POSITIVE_INFINITY;
      let most = Number.NEGATIVE_INFINITY;
      for (const state of states) {
        const stress = hotSpotStress(factors[side], state, k);
        least = Math.min(least, stress);
        most = Math.max(most, stress);
      }
      if (most - least > worst.range) worst = { range: most - least, side, at: (360 / POINTS) * k };
    }
  return worst;
}
