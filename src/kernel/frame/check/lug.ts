/**
 * A lug with a pin, pulled along its axis: how much it carries, and what gives first.
 *
 * By hand: net tension F_tu (W − D) t; shear-out on two planes that leave the hole at 40°, 2 t (e − (D/2) cos 40°) F_su; bearing
 * F_bru D t. W width, D hole, t thickness, e hole's centre to edge. Bruhn, Analysis and Design of Flight Vehicle Structures,
 * D1 (from memory). Defaults from memory: F_su = 0.6 F_tu; F_bru = 1.5 F_tu up to e/D = 1.5, rising to 2 F_tu at e/D = 2.
 * By curves (Melcon & Hoblit 1953; AFFDL Stress Analysis Manual, ch. 9; from memory): shear-bearing K_bru (a/D) F_tux D t with
 * a = e − D/2 for e/D < 1.5, K_bru F_tux D t above, neither beyond 1.304 F_bry D t; net tension K_t F_tu (W − D) t. K_bru and K_t
 * are read from charts that are not reproduced here: the caller gives them. The method asks for 5 % elongation.
 * Load at an angle: (R_a^1.6 + R_t^1.6)^0.625 of the utilisations along and across (same manual, from memory).
 * Units: mm, N, MPa. Not here: bushings, fatigue (a lug's hole concentrates stress 2.5–4 times), wear, strength across.
 */
import { power } from '../../math/power.ts';
import { insist, insistPositive } from './refusal.ts';

export interface Lug {
  readonly hole: number;
  readonly width: number;
  readonly thickness: number;
  /** Hole's centre to the edge along the load. */
  readonly edge: number;
  readonly Ftu: number;
  readonly Fsu?: number;
  readonly Fbru?: number;
}
export type LugGives = 'net_tension' | 'shear_out' | 'bearing';
export interface LugStrength {
  readonly netTension: number;
  readonly shearOut: number;
  readonly bearing: number;
  /** The least of them, N, and which it is. */
  readonly ultimate: number;
  readonly governs: LugGives;
  readonly outside: readonly string[];
}

/** Ultimate loads by the hand method, N. @throws CheckRefusal when the hole leaves no metal. */
export function lugByHand(lug: Lug): LugStrength {
  insistLug(lug);
  const { hole: D, width: W, thickness: t, edge: e, Ftu, Fsu = 0.6 * Ftu, Fbru = bearingFactor(e / D) * Ftu } = lug;
  const netTension = Ftu * (W - D) * t;
  const shearOut = Fsu * 2 * t * (e - (D / 2) * COS40);
  const bearing = Fbru * D * t;
  const outside: string[] = [];
  if (e / D < 1) outside.push('e/D below 1: the planes of shear are no longer those of the formula');
  if (W / D < 1.5) outside.push('W/D below 1.5: the net section bends');
  if (t > D) outside.push('thicker than the pin: bearing is not even across the thickness');
  const ultimate = Math.min(netTension, shearOut, bearing);
  const governs = ultimate === netTension ? 'net_tension' : ultimate === shearOut ? 'shear_out' : 'bearing';
  return { netTension, shearOut, bearing, ultimate, governs, outside };
}
const COS40 = Math.cos((40 * Math.PI) / 180);
/** F_bru over F_tu: the handbooks give 1.5 and 2 at e/D = 1.5 and 2 (from memory); straight between. */
const bearingFactor = (ratio: number): number => Math.min(Math.max(ratio, 1.5), 2);

export interface LugCurves {
  /** Shear-bearing efficiency and net-tension efficiency from the charts. */
  readonly Kbru: number;
  readonly Kt: number;
  /** Ultimate tensile strength across the grain (F_tux), and bearing yield, MPa. */
  readonly Ftux: number;
  readonly Fbry?: number;
  /** Elongation at break, %. */
  readonly elongation?: number;
}
export interface LugCurveStrength {
  readonly netTension: number;
  readonly shearBearing: number;
  readonly ultimate: number;
  readonly governs: 'net_tension' | 'shear_bearing';
  readonly outside: readonly string[];
}

/** Ultimate loads with chart values, N. @throws CheckRefusal when the hole leaves no metal. */
export function lugByCurves(lug: Lug, curves: LugCurves): LugCurveStrength {
  insistLug(lug);
  insistPositive(curves, ['Kbru', 'Kt', 'Ftux']);
  const { hole: D, width: W, thickness: t, edge: e, Ftu } = lug;
  const { Kbru, Kt, Ftux, Fbry = Number.POSITIVE_INFINITY, elongation = Number.NaN } = curves;
  const reach = e / D < 1.5 ? (e - D / 2) / D : 1;
  const shearBearing = Math.min(Kbru * reach * Ftux, 1.304 * Fbry) * D * t;
  const netTension = Kt * Ftu * (W - D) * t;
  const outside: string[] = [];
  if (elongation < 5) outside.push('elongation below 5 %: the charts suppose that the metal evens out its peaks');
  return {
    netTension,
    shearBearing,
    ultimate: Math.min(netTension, shearBearing),
    governs: netTension <= shearBearing ? 'net_tension' : 'shear_bearing',
    outside,
  };
}

/** Utilisation under a load at an angle from those along (`axial`) and across the lug (`transverse`). */
export const lugOblique = (axial: number, transverse: number): number =>
  power(power(axial, 1.6) + power(transverse, 1.6), 0.625);

function insistLug(lug: Lug): void {
  insistPositive(lug, ['hole', 'width', 'thickness', 'edge', 'Ftu']);
  if (lug.Fsu !== undefined) insistPositive(lug, ['Fsu']);
  if (lug.Fbru !== undefined) insistPositive(lug, ['Fbru']);
  insist(lug.width > lug.hole, 'width', 'the lug must be wider than its hole');
  insist(lug.edge > lug.hole / 2, 'edge', 'the edge must lie beyond the hole');
}
