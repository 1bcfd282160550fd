/**
 * A pin in double shear: a fork of two outer plates around an inner one.
 *
 * Arm b = t_outer/2 + t_inner/4 + gap, moment M = P b/2 (Bruhn; the loads taken as even over the plates), which is the same as
 * M = P (t_inner + 4 gap + 2 t_outer)/8 of EN 1993-1-8:2005, 3.13. Stress: bending 32M/πd³ at the outer fibre, shear P/2 over the
 * area; von Mises of both, which they never reach at the same fibre, as an upper bound.
 * Resistance after EN 1993-1-8 Table 3.10 (from memory): shear 0.6 A f_up/γ_M2 per plane, bending 1.5 W f_yp/γ_M0, bearing
 * 1.5 t d f_y/γ_M0 with the lower yield of pin and plate; (M/M_R)² + (F/F_R)² ≤ 1.
 * Units: mm, N, MPa. Not here: the plates as lugs (`lug.ts`), wear, repeated folding, gaps that open under load.
 */
import { insist, insistPositive } from './refusal.ts';

export interface DoubleShearPin {
  readonly load: number;
  readonly diameter: number;
  /** Bore of a hollow pin; 0 when absent. */
  readonly bore?: number;
  /** Thickness of one outer plate, of the inner one, and the gap on each side. */
  readonly outer: number;
  readonly inner: number;
  readonly gap: number;
}
export interface PinStress {
  readonly arm: number;
  readonly moment: number;
  readonly bending: number;
  /** Mean shear stress on one plane. */
  readonly shear: number;
  readonly vonMises: number;
  /** Pressure of the pin on the inner plate and on one outer plate. */
  readonly bearingInner: number;
  readonly bearingOuter: number;
}

/** Stresses in the pin, MPa; arm in mm, moment in N·mm. @throws CheckRefusal for sizes that cannot be. */
export function pinStress(pin: DoubleShearPin): PinStress {
  insistPositive(pin, ['load', 'diameter', 'outer', 'inner']);
  const { load: P, diameter: d, bore = 0, outer, inner, gap } = pin;
  insist(gap >= 0, 'gap', 'a gap cannot be negative');
  insist(bore >= 0 && bore < d, 'bore', 'the bore must be smaller than the pin');
  const arm = outer / 2 + inner / 4 + gap;
  const moment = (P * arm) / 2;
  const { area, modulus } = pinSection(d, bore);
  const bending = moment / modulus;
  const shear = P / 2 / area;
  return {
    arm,
    moment,
    bending,
    shear,
    vonMises: Math.sqrt(bending * bending + 3 * shear * shear),
    bearingInner: P / (d * inner),
    bearingOuter: P / (2 * d * outer),
  };
}

export interface PinResistance {
  /** Utilisations, 1 = at the limit. */
  readonly shear: number;
  readonly bending: number;
  readonly bearing: number;
  /** (M/M_R)² + (F/F_R)². */
  readonly combined: number;
  readonly use: number;
}
export interface PinMaterial {
  /** Yield and ultimate strength of the pin, yield of the plates, MPa. */
  readonly Fyp: number;
  readonly Fup: number;
  readonly Fy: number;
  /** Partial factors; 1.0 and 1.25 when absent. */
  readonly gammaM0?: number;
  readonly gammaM2?: number;
}

/** Utilisations after EN 1993-1-8. @throws CheckRefusal as `pinStress`, and for strengths that are not positive. */
export function pinUse(pin: DoubleShearPin, material: PinMaterial): PinResistance {
  insistPositive(material, ['Fyp', 'Fup', 'Fy']);
  const { moment } = pinStress(pin);
  const { Fyp, Fup, Fy, gammaM0 = 1, gammaM2 = 1.25 } = material;
  const { diameter: d, bore = 0, load: P } = pin;
  const { area, modulus } = pinSection(d, bore);
  const shear = P / 2 / ((0.6 * area * Fup) / gammaM2);
  const bending = moment / ((1.5 * modulus * Fyp) / gammaM0);
  const press = (1.5 * d * Math.min(Fyp, Fy)) / gammaM0;
  const bearing = Math.max(P / (press * pin.inner), P / (2 * press * pin.outer));
  const combined = shear * shear + bending * bending;
  return { shear, bending, bearing, combined, use: Math.max(shear, bending, bearing, combined) };
}

function pinSection(d: number, bore: number): { readonly area: number; readonly modulus: number } {
  const q = (bore * bore * bore * bore) / d;
  return { area: (Math.PI / 4) * (d * d - bore * bore), modulus: (Math.PI / 32) * (d * d * d - q) };
}
