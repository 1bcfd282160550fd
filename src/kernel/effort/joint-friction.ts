/**
 * Friction of a joint that is moved by hand.
 *
 * Coulomb, from what the joint carries. The bodies beyond it weigh F on it and turn it over by M; a pivot takes them in two
 * bearings a span b apart, whose forces add up to at most N = |F_⟂| + 2|M_⟂|/b, and on a face along its axis:
 *   pivot  T = μ r N + μ R |F_∥| + μ R P + T₀        slide  T = μ N + T₀
 * with r the pin's radius, R the face's, P a preload that presses while it moves (joints that no lock releases), T₀ what
 * seals, cables and fit add. The sum of magnitudes is an upper bound of the bearings' true sum (triangle inequality).
 * In a loop every joint is taken to carry all that hangs on it in the tree: on the high side.
 * Source: Coulomb friction, theory; numbers default, from memory. Units SI.
 * Not here: stick and slip, dirt, a post that jams when pushed askew.
 */
import type { Posture } from '../linkage/index.ts';
import { STANDARD_GRAVITY } from '../math/constants.ts';
import { KIND, slides, type Topology } from '../model/types.ts';

/** What a hand meets in one joint. */
export interface JointFriction {
  readonly mu: number;
  /** Pin and face radius, m; of no account where it slides. */
  readonly pin: number;
  readonly face: number;
  /** Distance of the bearings, or length of the guide, m. */
  readonly span: number;
  /** Force that presses the faces while it moves, N. */
  readonly preload: number;
  /** T₀: N·m, or N where it slides. */
  readonly steady: number;
}

/** Greased pin 10 mm thick in bushes 40 mm apart on a washer of 30 mm; steerer in ball bearings with its cables; tube in a sleeve. Defaults, from memory. */
export const FRICTION_DEFAULTS: {
  readonly pivot: JointFriction;
  readonly steerer: JointFriction;
  readonly slide: JointFriction;
} = {
  pivot: { mu: 0.15, pin: 0.005, face: 0.015, span: 0.04, preload: 0, steady: 0.15 },
  steerer: { mu: 0.01, pin: 0.015, face: 0.015, span: 0.1, preload: 0, steady: 0.3 },
  slide: { mu: 0.2, pin: 0, face: 0, span: 0.1, preload: 0, steady: 15 },
};
export const usualFriction = (kind: number): JointFriction =>
  slides(kind) ? FRICTION_DEFAULTS.slide : kind === KIND.steerer ? FRICTION_DEFAULTS.steerer : FRICTION_DEFAULTS.pivot;

/** T of a joint that carries `along` its axis, `across` it (N) and `over` (N·m, about the cross direction). */
export function frictionOf(f: JointFriction, sliding: boolean, along: number, across: number, over: number): number {
  const n = across + (2 * over) / f.span;
  return sliding ? f.mu * n + f.steady : f.mu * (f.pin * n + f.face * (along + f.preload)) + f.steady;
}

/**
 * T of tree joint `j` in the posture of `s`: it carries the weights of all bodies beyond it.
 * `carried`: table of `carriedBodies`; `mass`, `com` (3 a body, ride posture): of the bodies. Allocates nothing.
 */
export function weighedFriction(
  top: Pick<Topology, 'bodyCount' | 'jointA' | 'kind'>,
  s: Posture,
  j: number,
  f: JointFriction,
  carried: Uint8Array,
  mass: Float64Array,
  com: Float64Array,
): number {
  const { joint, bodyT: t } = s;
  const n = top.kind.length;
  // Weight Σ m g and first moment of the masses about the origin; both forces are straight down.
  let m = 0;
  let mx = 0;
  let my = 0;
  for (let b = 0; b < top.bodyCount; b++) {
    const kg = mass[b]!;
    if (carried[b * n + j] === 0 || !(kg > 0)) continue;
    const x = com[3 * b]!;
    const y = com[3 * b + 1]!;
    const z = com[3 * b + 2]!;
    const o = 12 * b;
    m += kg;
    mx += kg * (t[o]! * x + t[o + 1]! * y + t[o + 2]! * z + t[o + 3]!);
    my += kg * (t[o + 4]! * x + t[o + 5]! * y + t[o + 6]! * z + t[o + 7]!);
  }
  const sliding = slides(top.kind[j]!);
  if (m === 0) return frictionOf(f, sliding, 0, 0, 0);
  const o = 12 * top.jointA[j]!;
  const k = 6 * j;
  const px = joint[k]!;
  const py = joint[k + 1]!;
  const pz = joint[k + 2]!;
  const ux = joint[k + 3]!;
  const uy = joint[k + 4]!;
  const uz = joint[k + 5]!;
  const wx = t[o]! * ux + t[o + 1]! * uy + t[o + 2]! * uz;
  const wy = t[o + 4]! * ux + t[o + 5]! * uy + t[o + 6]! * uz;
  const wz = t[o + 8]! * ux + t[o + 9]! * uy + t[o + 10]! * uz;
  const dx = mx - m * (t[o]! * px + t[o + 1]! * py + t[o + 2]! * pz + t[o + 3]!);
  const dy = my - m * (t[o + 4]! * px + t[o + 5]! * py + t[o + 6]! * pz + t[o + 7]!);
  // Moment of the weights about the joint's point: d × (0, 0, −g) = g (−d_y, d_x, 0).
  const g = STANDARD_GRAVITY;
  const about = g * (dx * wy - dy * wx);
  const ox = -g * dy - about * wx;
  const oy = g * dx - about * wy;
  const oz = -about * wz;
  const weight = g * m;
  return frictionOf(
    f,
    sliding,
    weight * Math.abs(wz),
    weight * Math.sqrt(Math.max(0, 1 - wz * wz)),
    Math.sqrt(ox * ox + oy * oy + oz * oz),
  );
}
