/**
 * Torsion of tubes and bars: constant J (twist per length = T/(G J)) and modulus W (largest shear stress = T/W).
 *
 * round, hollow or solid: J = 2I, exact.
 * rectangular tube: closed cell on the mean line (Bredt 1896) plus the wall's own torsion, J = 4A²t/s + s t³/3, A and s area
 *   and length of the mean line; largest shear T (2A/s + t)/J. So EN 10210-2:2006, Annex B, with sharp corners (from memory).
 *   Against a converged solution for sharp corners J is low by 1.7 % (t/b = 1/20) to 5 % (1/5): the mean line misses
 *   the corners' outer metal, which a drawn tube's radii take away anyhow.
 * oval tube: ellipse less ellipse, whose wall is thinner between the axes. With semi-axes a, b of the mean ellipse Bredt's
 *   integral closes, ∮ds/t = (2π/t)(a + b − √(ab)) = s'/t; J = 4A²t/s' + s't³/4, where 1/4 makes the round tube exact at
 *   every wall. Within 0.5 % of converged solutions (axes up to 2 : 1, t/b up to 1/7). Largest shear T (2A/s' + x t)/J with
 *   x = a²/(a² + b²), a ≥ b: 1/2 for the round tube, which is exact, 1 for a flat one.
 * solid ellipse: J = π a³b³/(a² + b²), W = π a b²/2, exact. solid rectangle: Saint-Venant's series, exact
 *   (Timoshenko & Goodier 1970, Theory of Elasticity, art. 109).
 * Units: mm; any consistent set. Not here: warping, corner radii, the peak stress of a sharp inner corner.
 */

import type { SectionShape } from '../../mass/section.ts';
import { power } from '../../math/power.ts';

/** True where nothing hollow is left: the wall is half of the smaller side. */
export const isSolid = (height: number, width: number, wall: number): boolean =>
  2 * wall >= Math.min(height, width) * (1 - SOLID_ROUNDING);
/** A bar given as wall = half its side may miss it by a rounding error of the unit conversion. */
const SOLID_ROUNDING = 1e-9;

/** Torsion constant, mm⁴; `polar` = sum of the second moments about both axes. */
export function torsionConstant(
  shape: SectionShape,
  height: number,
  width: number,
  wall: number,
  polar: number,
): number {
  if (shape === 'round' || Number.isNaN(polar)) return polar;
  if (isSolid(height, width, wall))
    return shape === 'oval' ? ellipseJ(height / 2, width / 2) : rectangleJ(height, width);
  const cell = cellArea(shape, height, width, wall);
  const s = cellLength(shape, height, width, wall);
  return (4 * cell * cell * wall) / s + (shape === 'oval' ? 1 / 4 : 1 / 3) * s * wall * wall * wall;
}

/** Torsion modulus, mm³: torque over the largest shear stress; `j` from `torsionConstant`. */
export function torsionModulus(shape: SectionShape, height: number, width: number, wall: number, j: number): number {
  if (shape === 'round') return (2 * j) / height;
  const long = Math.max(height, width);
  const short = Math.min(height, width);
  if (isSolid(height, width, wall))
    return shape === 'oval'
      ? (j * (long * long + short * short)) / (long * long * short)
      : j / (short * rectanglePeak(long / short));
  const x = shape === 'oval' ? (long * long) / (long * long + short * short) : 1;
  const cell = cellArea(shape, height, width, wall);
  return j / ((2 * cell) / cellLength(shape, height, width, wall) + x * wall);
}

/** Area within the mean line of the wall, mm². */
export const cellArea = (shape: SectionShape, height: number, width: number, wall: number): number =>
  (shape === 'rectangular' ? 1 : Math.PI / 4) * (height - wall) * (width - wall);

/** Bredt's ∮ds/t times `wall`, mm: length of the mean line; of an oval the length that its uneven wall is worth. */
export function cellLength(shape: SectionShape, height: number, width: number, wall: number): number {
  const a = height - wall;
  const b = width - wall;
  return shape === 'rectangular' ? 2 * (a + b) : Math.PI * (a + b - Math.sqrt(a * b));
}

const ellipseJ = (a: number, b: number): number => (Math.PI * a * a * a * b * b * b) / (a * a + b * b);

/** J = a b³ (1/3)(1 − (192/π⁵)(b/a) Σ tanh(nπa/2b)/n⁵), n odd, a ≥ b. */
function rectangleJ(height: number, width: number): number {
  const a = Math.max(height, width);
  const b = Math.min(height, width);
  // tanh is 1 but for a small rest: the sum of 1/n⁵ is known, and four terms of the rest reach 1e-15
  let sum = ODD_FIFTHS;
  for (let n = 1; n <= 7; n += 2) sum -= 2 / (power(n, 5) * (1 + Math.exp((n * Math.PI * a) / b)));
  return ((a * b * b * b) / 3) * (1 - ((192 * b) / (power(Math.PI, 5) * a)) * sum);
}
/** Σ 1/n⁵ over odd n = (31/32) ζ(5). */
const ODD_FIFTHS = 1.004523762795139;

/** Shear stress in the middle of the long side over Gθ'b: 1 − (8/π²) Σ 1/(n² cosh(nπa/2b)), n odd. */
function rectanglePeak(ratio: number): number {
  let sum = 0;
  for (let n = 1; n <= 21; n += 2) {
    const e = Math.exp((-n * Math.PI * ratio) / 2);
    sum += (2 * e) / (n * n * (1 + e * e));
  }
  return 1 - (8 / (Math.PI * Math.PI)) * sum;
}
