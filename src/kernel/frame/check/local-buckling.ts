/**
 * Local buckling of thin tubes: the wall buckles before the tube does.
 *
 * Round, R mean radius: σ_cl = E t/(R √(3(1 − ν²))) (theory), knocked down by γ = 1 − 0.901(1 − e^−φ) under axial compression
 * and 1 − 0.731(1 − e^−φ) in bending, φ = √(R/t)/16 (NASA SP-8007, 1968 and later; from memory). Between elastic and plastic:
 * capacity curve of EN 1993-1-6:2007, 8.5 (λ₀ = 0.2, β = 0.6, η = 1; from memory) with γ for its α. Bending and compression add
 * up linearly (SP-8007). A long tube also flattens: Brazier 1927, M = (2√2/9) π E R t²/√(1 − ν²).
 * Oval: the round tube that has the radius of the flattest place, D = (larger side)²/(smaller side) (after Gardner & Chan 2007
 * on elliptical hollow sections; from memory). Rectangular: the widest wall as a long plate on four sides, k = 4, with the
 * reduction (λ − 0.22)/λ² of EN 1993-1-5:2006, 4.4 (from memory).
 * Section classes: EN 1993-1-1:2005 Table 5.2, D/t ≤ 50, 70, 90 ε², ε² = 235/f_y; flat walls c/t ≤ 33, 38, 42 ε. EN 1999-1-1:2007
 * 6.1.4: β = 3√(D/t) for round tubes, b/t for flat walls, limits by temper and welding, ε = √(250/f_o). All from memory.
 * Units: mm, N, MPa, N·mm. Not here: column buckling of the member, holes, dents, torsional buckling, wrinkling of bends.
 */
import type { TubeSize } from '../section/tube-section.ts';
import { insistPositive } from './refusal.ts';

/** Young's modulus and proof stress in MPa. */
export interface WallMaterial {
  readonly E: number;
  readonly nu: number;
  readonly yield: number;
}
export interface LocalBuckling {
  /** Outside diameter over wall (flat walls: clear width over wall). */
  readonly slenderness: number;
  /** Elastic buckling stress of the perfect wall, MPa. */
  readonly classical: number;
  /** With imperfections, elastic, MPa: under compression, in bending. */
  readonly axialElastic: number;
  readonly bendingElastic: number;
  /** With yield as well: the stresses to compare with, MPa. */
  readonly axialStrength: number;
  readonly bendingStrength: number;
  /** Moment at which a long tube flattens, N·mm; NaN for shapes other than round. */
  readonly brazierMoment: number;
  readonly outside: readonly string[];
}

/** Local buckling stresses of a tube. @throws CheckRefusal for sizes or moduli that are not positive. */
export function localBuckling(size: TubeSize, material: WallMaterial): LocalBuckling {
  insistPositive(size, ['height', 'width', 'wall']);
  insistPositive(material, ['E', 'yield']);
  return size.shape === 'rectangular' ? plateBuckling(size, material) : shellBuckling(size, material);
}

function shellBuckling({ shape, height, width, wall }: TubeSize, { E, nu, yield: fy }: WallMaterial): LocalBuckling {
  const long = Math.max(height, width);
  const diameter = (long * long) / Math.min(height, width);
  const R = (diameter - wall) / 2;
  const classical = (E * wall) / (R * Math.sqrt(3 * (1 - nu * nu)));
  const k = 1 - Math.exp(-Math.sqrt(R / wall) / 16);
  const axial = 1 - 0.901 * k;
  const bending = 1 - 0.731 * k;
  const outside: string[] = [];
  if (R / wall > 1500) outside.push('R/t above 1500');
  if (R / wall < 10) outside.push('a thick wall (R/t below 10): yield decides, the shell figures mean little');
  if (shape === 'oval') outside.push('oval: taken as the round tube of the flattest place');
  return {
    slenderness: diameter / wall,
    classical,
    axialElastic: axial * classical,
    bendingElastic: bending * classical,
    axialStrength: fy * shellReduction(Math.sqrt(fy / classical), axial),
    bendingStrength: fy * shellReduction(Math.sqrt(fy / classical), bending),
    brazierMoment: shape === 'round' ? brazierMoment(R, wall, E, nu) : Number.NaN,
    outside,
  };
}

function plateBuckling({ height, width, wall }: TubeSize, { E, nu, yield: fy }: WallMaterial): LocalBuckling {
  const slenderness = Math.max(Math.max(height, width) / wall - 2, 0);
  const classical = (4 * Math.PI * Math.PI * E) / (12 * (1 - nu * nu) * slenderness * slenderness);
  const lambda = Math.sqrt(fy / classical);
  const strength = fy * (lambda <= 0.673 ? 1 : (lambda - 0.22) / (lambda * lambda));
  return {
    slenderness,
    classical,
    axialElastic: classical,
    bendingElastic: classical,
    axialStrength: strength,
    bendingStrength: strength,
    brazierMoment: Number.NaN,
    outside: [],
  };
}

/** EN 1993-1-6 capacity curve: share of yield at the slenderness λ = √(f_y/σ_cl), α = elastic imperfection factor. */
function shellReduction(lambda: number, alpha: number): number {
  const plastic = Math.sqrt(alpha / 0.4);
  if (lambda <= 0.2) return 1;
  if (lambda >= plastic) return alpha / (lambda * lambda);
  return 1 - (0.6 * (lambda - 0.2)) / (plastic - 0.2);
}

/** Greatest moment that a long thin round tube carries before it flattens, N·mm; R mean radius, t wall, mm. */
export const brazierMoment = (R: number, t: number, E: number, nu: number): number =>
  ((2 * Math.SQRT2) / 9) * ((Math.PI * E * R * t * t) / Math.sqrt(1 - nu * nu));

/**
 * Utilisation against local buckling, 1 = at the limit: compression and bending add up; a pulling force relieves.
 * `axial` = N/A with sign (tension positive), `bending` = the largest bending stress, both MPa.
 */
export function localBucklingUse(b: LocalBuckling, axial: number, bending: number): number {
  return axial < 0
    ? -axial / b.axialStrength + bending / b.bendingStrength
    : Math.max(bending - axial, 0) / b.bendingStrength;
}

/** Section class 1–4 of EN 1993-1-1 for a steel tube in bending or compression. */
export function steelTubeClass(size: TubeSize, fy: number): 1 | 2 | 3 | 4 {
  const e2 = 235 / fy;
  const { slenderness } = slendernessOf(size);
  return size.shape === 'rectangular'
    ? classOf(slenderness / Math.sqrt(e2), 33, 38, 42)
    : classOf(slenderness / e2, 50, 70, 90);
}

/** EN 1999-1-1's β and section class of an aluminium tube; class A: heat-treated alloys. */
export function aluminiumTubeClass(
  size: TubeSize,
  fo: number,
  how: { readonly heatTreated: boolean; readonly welded: boolean },
): { readonly beta: number; readonly class: 1 | 2 | 3 | 4 } {
  const { slenderness } = slendernessOf(size);
  const beta = size.shape === 'rectangular' ? slenderness : 3 * Math.sqrt(slenderness);
  const [b1, b2, b3] = how.heatTreated
    ? how.welded
      ? [9, 13, 18]
      : [11, 16, 22]
    : how.welded
      ? [10, 13.5, 15]
      : [13, 16.5, 18];
  return { beta, class: classOf(beta / Math.sqrt(250 / fo), b1!, b2!, b3!) };
}

function slendernessOf({ shape, height, width, wall }: TubeSize): { readonly slenderness: number } {
  const long = Math.max(height, width);
  return { slenderness: shape === 'rectangular' ? long / wall - 2 : (long * long) / Math.min(height, width) / wall };
}
const classOf = (x: number, one: number, two: number, three: number): 1 | 2 | 3 | 4 =>
  x <= one ? 1 : x <= two ? 2 : x <= three ? 3 : 4;
