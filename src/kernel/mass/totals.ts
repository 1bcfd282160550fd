/**
 * A bicycle's mass, centre of mass and inertia, by element, body and group, in whatever posture the state is in.
 *
 * Method: Σm, Σm r / Σm and Steiner's theorem, in two passes (CoM first, then inertias about it), which keeps the digits
 * that one pass about the origin loses. Bodies are summed in the ride posture and then carried by their rigid motion
 * `State.bodyT`; so masses and principal inertias do not depend on the posture.
 * Uncertainty: u = √Σ u_i² over the elements, taken as independent (GUM 5.1.2). Elements that share a scale or a density
 * are not: their common error is not in this figure.
 * Source: theory; JCGM 100:2008 for the sum. Units SI.
 * Not here: the rider (`rider`), spinning wheels (`steer`).
 */
import type { Model, State, Topology } from '../model/types.ts';
import type { RigidMass } from './rigid-mass.ts';

/** Numbers per mass: mass, CoM (3), Ixx Iyy Izz Ixy Ixz Iyz about the CoM. The layout of `State.mass`. */
export const MASS_SIZE = 10;

/** Results of the drag tier, owned by the caller: 10 numbers per body and 10 for the whole, posed world axes. */
export interface MassBuffer {
  readonly body: Float64Array;
  readonly whole: Float64Array;
}
export const newMassBuffer = (bodyCount: number): MassBuffer => ({
  body: new Float64Array(MASS_SIZE * bodyCount),
  whole: new Float64Array(MASS_SIZE),
});

/** Every body and the whole in the current posture, without allocation. A body without mass has its CoM at NaN. */
export function massInto(top: Topology, s: State, out: MassBuffer): void {
  const { massBody } = top;
  const body = out.body;
  body.fill(0);
  const n = massBody.length;
  for (let e = 0; e < n; e++) firstMoment(s.mass, MASS_SIZE * e, body, MASS_SIZE * massBody[e]!);
  for (let b = 0; b < top.bodyCount; b++) divideByMass(body, MASS_SIZE * b);
  for (let e = 0; e < n; e++) addSteiner(s.mass, MASS_SIZE * e, body, MASS_SIZE * massBody[e]!);
  for (let b = 0; b < top.bodyCount; b++) pose(body, MASS_SIZE * b, s.bodyT, 12 * b);
  const whole = out.whole;
  whole.fill(0);
  for (let b = 0; b < top.bodyCount; b++) if (body[MASS_SIZE * b]! !== 0) firstMoment(body, MASS_SIZE * b, whole, 0);
  divideByMass(whole, 0);
  for (let b = 0; b < top.bodyCount; b++) if (body[MASS_SIZE * b]! !== 0) addSteiner(body, MASS_SIZE * b, whole, 0);
}

/** One of the 10-number blocks as a record. */
export const rigidAt = (a: Float64Array, o = 0): RigidMass => ({
  mass: a[o]!,
  com: [a[o + 1]!, a[o + 2]!, a[o + 3]!],
  inertia: [a[o + 4]!, a[o + 5]!, a[o + 6]!, a[o + 7]!, a[o + 8]!, a[o + 9]!],
});

/** A mass with its 1-sigma uncertainty, both kg. */
export interface MassShare {
  readonly name: string;
  readonly mass: number;
  readonly sigma: number;
}
export interface ElementMass extends MassShare {
  readonly body: number;
  readonly group: string;
  readonly rigid: RigidMass;
}
export interface BodyMass extends MassShare {
  readonly rigid: RigidMass;
}
export interface MassTotals {
  /** The whole bicycle in the current posture. */
  readonly whole: RigidMass;
  readonly sigma: number;
  readonly bodies: readonly BodyMass[];
  /** Largest first. */
  readonly groups: readonly MassShare[];
  /** In the ride posture: as resolved, before the fold. */
  readonly elements: readonly ElementMass[];
}

/** The same with names, groups and uncertainties, for a sheet. */
export function massTotals(m: Model, s: State): MassTotals {
  const { top } = m;
  const buffer = newMassBuffer(top.bodyCount);
  massInto(top, s, buffer);
  const bodyVariance = new Float64Array(top.bodyCount);
  const groups = new Map<string, { mass: number; variance: number }>();
  const elements: ElementMass[] = [];
  let variance = 0;
  for (let e = 0; e < top.massBody.length; e++) {
    const rigid = rigidAt(s.mass, MASS_SIZE * e);
    const sigma = rigid.mass * m.massSpread[e]!;
    const body = top.massBody[e]!;
    const group = top.massGroup[e]!;
    const sum = groups.get(group) ?? { mass: 0, variance: 0 };
    groups.set(group, { mass: sum.mass + rigid.mass, variance: sum.variance + sigma * sigma });
    bodyVariance[body]! += sigma * sigma;
    variance += sigma * sigma;
    elements.push({ name: top.names.masses[e]!, mass: rigid.mass, sigma, body, group, rigid });
  }
  return {
    whole: rigidAt(buffer.whole),
    sigma: Math.sqrt(variance),
    bodies: top.names.bodies.map((name, b) => {
      const rigid = rigidAt(buffer.body, MASS_SIZE * b);
      return { name, mass: rigid.mass, sigma: Math.sqrt(bodyVariance[b]!), rigid };
    }),
    groups: [...groups]
      .map(([name, g]) => ({ name, mass: g.mass, sigma: Math.sqrt(g.variance) }))
      .sort((a, b) => b.mass - a.mass),
    elements,
  };
}

function firstMoment(from: Float64Array, i: number, to: Float64Array, o: number): void {
  const m = from[i]!;
  to[o]! += m;
  to[o + 1]! += m * from[i + 1]!;
  to[o + 2]! += m * from[i + 2]!;
  to[o + 3]! += m * from[i + 3]!;
}

function divideByMass(a: Float64Array, o: number): void {
  const m = a[o]!;
  a[o + 1]! /= m;
  a[o + 2]! /= m;
  a[o + 3]! /= m;
}

function addSteiner(from: Float64Array, i: number, to: Float64Array, o: number): void {
  const m = from[i]!;
  const x = from[i + 1]! - to[o + 1]!;
  const y = from[i + 2]! - to[o + 2]!;
  const z = from[i + 3]! - to[o + 3]!;
  to[o + 4]! += from[i + 4]! + m * (y * y + z * z);
  to[o + 5]! += from[i + 5]! + m * (x * x + z * z);
  to[o + 6]! += from[i + 6]! + m * (x * x + y * y);
  to[o + 7]! += from[i + 7]! - m * x * y;
  to[o + 8]! += from[i + 8]! - m * x * z;
  to[o + 9]! += from[i + 9]! - m * y * z;
}

/** In place: CoM by [R | t], tensor by R I Rᵀ. Written out: this runs for every body in every frame. */
function pose(a: Float64Array, o: number, t: Float64Array, i: number): void {
  const r00 = t[i]!,
    r01 = t[i + 1]!,
    r02 = t[i + 2]!,
    r10 = t[i + 4]!,
    r11 = t[i + 5]!,
    r12 = t[i + 6]!,
    r20 = t[i + 8]!,
    r21 = t[i + 9]!,
    r22 = t[i + 10]!;
  const x = a[o + 1]!,
    y = a[o + 2]!,
    z = a[o + 3]!;
  a[o + 1] = r00 * x + r01 * y + r02 * z + t[i + 3]!;
  a[o + 2] = r10 * x + r11 * y + r12 * z + t[i + 7]!;
  a[o + 3] = r20 * x + r21 * y + r22 * z + t[i + 11]!;
  const xx = a[o + 4]!,
    yy = a[o + 5]!,
    zz = a[o + 6]!,
    xy = a[o + 7]!,
    xz = a[o + 8]!,
    yz = a[o + 9]!;
  // Rows of R I.
  const p0 = r00 * xx + r01 * xy + r02 * xz,
    p1 = r00 * xy + r01 * yy + r02 * yz,
    p2 = r00 * xz + r01 * yz + r02 * zz;
  const q0 = r10 * xx + r11 * xy + r12 * xz,
    q1 = r10 * xy + r11 * yy + r12 * yz,
    q2 = r10 * xz + r11 * yz + r12 * zz;
  const s0 = r20 * xx + r21 * xy + r22 * xz,
    s1 = r20 * xy + r21 * yy + r22 * yz,
    s2 = r20 * xz + r21 * yz + r22 * zz;
  a[o + 4] = p0 * r00 + p1 * r01 + p2 * r02;
  a[o + 5] = q0 * r10 + q1 * r11 + q2 * r12;
  a[o + 6] = s0 * r20 + s1 * r21 + s2 * r22;
  a[o + 7] = p0 * r10 + p1 * r11 + p2 * r12;
  a[o + 8] = p0 * r20 + p1 * r21 + p2 * r22;
  a[o + 9] = q0 * r20 + q1 * r21 + q2 * r22;
}
