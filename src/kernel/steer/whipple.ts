/**
 * The Carvallo–Whipple bicycle, linearised about upright straight running at constant speed v:
 *
 *   M q̈ + v C1 q̇ + (g K0 + v² K2) q = f,   q = [φ lean, δ steer], f = [T_φ, T_δ], all positive to the right.
 *
 * Method and symbols: Meijaard, Papadopoulos, Ruina & Schwab 2007, "Linearized dynamics equations for the balance and
 * steer of a bicycle: a benchmark and review", Proc. R. Soc. A 463:1955–1982, doi 10.1098/rspa.2007.1857, Appendix A.
 * Assumptions: four rigid bodies (rear wheel R, rear frame with rider B, handlebar and fork H, front wheel F), symmetric
 * about the mid-plane; knife-edge wheels that neither slip nor sink; flat level ground; rigid hands-off rider.
 *
 *   paper          here                               paper          here
 *   w, c           wheelbase, trail (m)               B              rearBody, rider included
 *   λ              π/2 − headAngle (rad)              H              frontBody, wheel excluded
 *   rR, mR, IRxx.. rearWheel.radius, .mass, .Ixx ..   rF, mF, IFxx.. frontWheel.radius, ..
 *
 * In: ISO 8855 axes (z up), origin at the rear contact point. Out: the paper's signs.
 * Not here: tyres, frame flexibility, a rider that moves, drag, braking, hills.
 */
import type { RigidMass } from '../mass/rigid-mass.ts';
import { betweenIsoAndPaper } from './axes.ts';
import { insist } from './refusal.ts';

/** Rolling radius (m), mass (kg), inertia about a diameter and about the axle (kg·m²). */
export interface WheelInertia {
  readonly radius: number;
  readonly mass: number;
  readonly Ixx: number;
  readonly Iyy: number;
}

/**
 * A bicycle as the model sees it; SI, ISO 8855 axes, origin at the rear contact point. Of the bodies' masses only what
 * lies in the mid-plane is read: com x and z, Ixx, Ixz (tensor element −∫xz dm) and Izz; the rest may be NaN.
 */
export interface WhippleBicycle {
  readonly wheelbase: number;
  /** Positive when the front contact lies behind the point where the steer axis meets the ground. */
  readonly trail: number;
  /** Between the steer axis and the ground, rad; less than π/2 when the axis leans back. */
  readonly headAngle: number;
  readonly gravity: number;
  readonly rearWheel: WheelInertia;
  readonly rearBody: RigidMass;
  readonly frontBody: RigidMass;
  readonly frontWheel: WheelInertia;
}

/** 2×2, row-major: [11, 12, 21, 22]. */
export type Matrix2 = readonly [number, number, number, number];

/** Intermediate results under the paper's names, for workings; u is the paper's u_A (m), μ its mechanical trail ratio. */
export interface WhippleTerms {
  readonly mT: number;
  readonly xT: number;
  readonly zT: number;
  readonly Txx: number;
  readonly Txz: number;
  readonly Tzz: number;
  readonly mA: number;
  readonly xA: number;
  readonly zA: number;
  readonly u: number;
  readonly All: number;
  readonly Alx: number;
  readonly Alz: number;
  readonly mu: number;
  readonly SR: number;
  readonly SF: number;
  readonly SA: number;
}

export interface WhippleSystem {
  readonly g: number;
  readonly w: number;
  readonly c: number;
  readonly lambda: number;
  readonly M: Matrix2;
  readonly C1: Matrix2;
  readonly K0: Matrix2;
  readonly K2: Matrix2;
  readonly terms: WhippleTerms;
}

/** Measured tables round their inertias: a body may miss an inequality by this much before it counts. */
const ROUNDED_INERTIA = 0.01;

function checkWheel(wheel: WheelInertia, path: string): void {
  const { radius, mass, Ixx, Iyy } = wheel;
  insist(radius > 0 && radius < Infinity, `${path}.radius`, `${path}: radius must be above 0 m, got ${radius} m`);
  insist(mass >= 0 && mass < Infinity, `${path}.mass`, `${path}: mass must not be negative, got ${mass} kg`);
  insist(Ixx >= 0 && Ixx < Infinity, `${path}.Ixx`, `${path}: Ixx must not be negative, got ${Ixx} kg·m²`);
  insist(Iyy >= 0 && Iyy < Infinity, `${path}.Iyy`, `${path}: Iyy must not be negative, got ${Iyy} kg·m²`);
}

function checkBody(body: RigidMass, path: string): void {
  const [Ixx, , Izz, , Ixz] = body.inertia;
  insist(
    body.mass >= 0 && body.mass < Infinity,
    `${path}.mass`,
    `${path}: mass must not be negative, got ${body.mass} kg`,
  );
  insist(Number.isFinite(body.com[0]), `${path}.x`, `${path}: x of the centre of mass must be a number`);
  insist(Number.isFinite(body.com[2]), `${path}.z`, `${path}: z of the centre of mass must be a number`);
  insist(Ixx >= 0 && Ixx < Infinity, `${path}.Ixx`, `${path}: Ixx must not be negative, got ${Ixx} kg·m²`);
  insist(Izz >= 0 && Izz < Infinity, `${path}.Izz`, `${path}: Izz must not be negative, got ${Izz} kg·m²`);
  insist(
    Ixz * Ixz <= Ixx * Izz * (1 + ROUNDED_INERTIA),
    `${path}.Ixz`,
    `Ixz of ${Ixz} kg·m² is larger than √(Ixx·Izz) = ${Number(Math.sqrt(Ixx * Izz).toPrecision(4))}, which no body can have`,
  );
}

/**
 * What is odd about a bicycle that the model nevertheless answers, in words: parameter studies move one number beyond
 * what a real wheel can have (Iyy above 2·Ixx), which changes a trend line but describes no bicycle.
 */
export function whippleCautions(bicycle: WhippleBicycle): string[] {
  return (['rearWheel', 'frontWheel'] as const).flatMap((path) => {
    const { Ixx, Iyy } = bicycle[path];
    return Iyy <= 2 * Ixx * (1 + ROUNDED_INERTIA)
      ? []
      : [`${path}: Iyy ${Iyy} exceeds Ixx + Izz = ${2 * Ixx} kg·m²: no real wheel has that`];
  });
}

/**
 * Matrices and intermediate results of one bicycle.
 * @throws SteerRefusal for a bicycle that cannot exist; `path` names the field.
 */
export function whipple(bicycle: WhippleBicycle): WhippleSystem {
  const { wheelbase: w, trail: c, headAngle, gravity: g, rearWheel, frontWheel } = bicycle;
  insist(w > 0 && w < Infinity, 'wheelbase', `wheelbase must be above 0 m, got ${w} m`);
  insist(Number.isFinite(c), 'trail', 'trail must be a number');
  insist(
    headAngle > 0 && headAngle < Math.PI,
    'headAngle',
    `head angle must lie between 0 and 180°, got ${headAngle} rad`,
  );
  insist(g > 0 && g < Infinity, 'gravity', `gravity must be above 0, got ${g} m/s²`);
  checkWheel(rearWheel, 'rearWheel');
  checkBody(bicycle.rearBody, 'rearBody');
  checkBody(bicycle.frontBody, 'frontBody');
  checkWheel(frontWheel, 'frontWheel');

  const B = betweenIsoAndPaper(bicycle.rearBody);
  const H = betweenIsoAndPaper(bicycle.frontBody);
  const lambda = Math.PI / 2 - headAngle;
  const sin = Math.cos(headAngle); // sin λ and cos λ from the head angle itself: no rounding of π/2 − γ
  const cos = Math.sin(headAngle);
  const { radius: rR, mass: mR, Ixx: IRxx, Iyy: IRyy } = rearWheel;
  const { radius: rF, mass: mF, Ixx: IFxx, Iyy: IFyy } = frontWheel;
  const mB = B.mass;
  const xB = B.com[0];
  const zB = B.com[2];
  const [IBxx, , IBzz, , IBxz] = B.inertia;
  const mH = H.mass;
  const xH = H.com[0];
  const zH = H.com[2];
  const [IHxx, , IHzz, , IHxz] = H.inertia;

  const mT = mR + mB + mH + mF;
  insist(mT > 0, 'rearBody.mass', 'the bicycle has no mass');
  const xT = (mB * xB + mH * xH + mF * w) / mT;
  const zT = (-rR * mR + mB * zB + mH * zH - rF * mF) / mT;
  const Txx = IRxx + IBxx + IHxx + IFxx + mR * rR * rR + mB * zB * zB + mH * zH * zH + mF * rF * rF;
  const Txz = IBxz + IHxz - mB * xB * zB - mH * xH * zH + mF * w * rF;
  const Tzz = IRxx + IBzz + IHzz + IFxx + mB * xB * xB + mH * xH * xH + mF * w * w;

  const mA = mH + mF;
  // A massless front end has no centre of mass of its own; any point serves, since only mA·u is used.
  const xA = mA > 0 ? (mH * xH + mF * w) / mA : w;
  const zA = mA > 0 ? (mH * zH - rF * mF) / mA : -rF;
  const Axx = IHxx + IFxx + mH * (zH - zA) * (zH - zA) + mF * (rF + zA) * (rF + zA);
  const Axz = IHxz - mH * (xH - xA) * (zH - zA) + mF * (w - xA) * (rF + zA);
  const Azz = IHzz + IFxx + mH * (xH - xA) * (xH - xA) + mF * (w - xA) * (w - xA);
  const u = (xA - w - c) * cos - zA * sin;
  const All = mA * u * u + Axx * sin * sin + 2 * Axz * sin * cos + Azz * cos * cos;
  const Alx = -mA * u * zA + Axx * sin + Axz * cos;
  const Alz = mA * u * xA + Axz * sin + Azz * cos;

  const mu = (c / w) * cos;
  const SR = IRyy / rR;
  const SF = IFyy / rF;
  const ST = SR + SF;
  const SA = mA * u + mu * mT * xT;

  const M12 = Alx + mu * Txz;
  const M: Matrix2 = [Txx, M12, M12, All + 2 * mu * Alz + mu * mu * Tzz];
  insist(
    M[0] > 0 && M[0] * M[3] - M12 * M12 > 0,
    'frontBody',
    'the mass matrix is not positive definite: the front end has no inertia about the steer axis, or one that no body can have',
  );
  const K0: Matrix2 = [mT * zT, -SA, -SA, -SA * sin];
  const K2: Matrix2 = [0, ((ST - mT * zT) * cos) / w, 0, ((SA + SF * sin) * cos) / w];
  const C1: Matrix2 = [
    0,
    mu * ST + SF * cos + (Txz * cos) / w - mu * mT * zT,
    -(mu * ST + SF * cos),
    (Alz * cos) / w + mu * (SA + (Tzz * cos) / w),
  ];
  return {
    g,
    w,
    c,
    lambda,
    M,
    C1,
    K0,
    K2,
    terms: { mT, xT, zT, Txx, Txz, Tzz, mA, xA, zA, u, All, Alx, Alz, mu, SR, SF, SA },
  };
}

/** M⁻¹, row-major. Entries 12 and 22 are the roll and steer acceleration per unit steer torque at high frequency. */
export function inverseMass(system: WhippleSystem): Matrix2 {
  const [a, b, c, d] = system.M;
  const det = a * d - b * c;
  return [d / det, -b / det, -c / det, a / det];
}

/** Rows φ̈ and δ̈ of ẋ = A x + B T_δ with x = [φ, δ, φ̇, δ̇]: 8 numbers, row-major 2×4. */
export function accelerationRows(system: WhippleSystem, speed: number): Float64Array {
  const [n11, n12, n21, n22] = inverseMass(system);
  const { K0, K2, C1, g } = system;
  const v2 = speed * speed;
  const out = new Float64Array(8);
  for (let j = 0; j < 2; j++) {
    const k1 = g * K0[j]! + v2 * K2[j]!;
    const k2 = g * K0[2 + j]! + v2 * K2[2 + j]!;
    out[j] = -(n11 * k1 + n12 * k2);
    out[4 + j] = -(n21 * k1 + n22 * k2);
    out[2 + j] = -speed * (n11 * C1[j]! + n12 * C1[2 + j]!);
    out[6 + j] = -speed * (n21 * C1[j]! + n22 * C1[2 + j]!);
  }
  return out;
}
