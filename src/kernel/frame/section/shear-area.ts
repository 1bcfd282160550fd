/**
 * Shear areas of tubes and bars for Timoshenko beams: κ A for a force along the section's height.
 *
 * round: Cowper 1966, J. Appl. Mech. 33:335–340, hollow circle, exact within that theory for every wall. His formula is
 *   1/κ = (1 − w)/κ_solid + w/κ_thin with w = 4m²/(1 + m²)², m = inner/outer diameter.
 * rectangular: Cowper's rectangle and thin-walled box. oval: his ellipse, and for the thin wall the energy of the shear flow
 *   of elementary theory on the mean line, scaled so that an oval as wide as high is the round tube. (Ellipse and box:
 *   formulas from memory; they pass the limits of circle and square tube.)
 * Thick rectangular and oval walls lie between thin and solid by the same law w, with m² the ratio of the products of inner
 *   and outer sides: an approximation of ours, exact at both ends and for the round tube.
 * Units: mm; any consistent set. Not here: sections without two axes of symmetry.
 */
import type { SectionShape } from '../../mass/section.ts';

/** Shear coefficient κ for a force along `height`; NaN in, NaN out. `nu` is Poisson's ratio. */
export function shearCoefficient(shape: SectionShape, height: number, width: number, wall: number, nu: number): number {
  const mh = Math.max(height - 2 * wall, 0) / height;
  const mw = Math.max(width - 2 * wall, 0) / width;
  const m2 = mh * mw;
  const w = (4 * m2) / ((1 + m2) * (1 + m2));
  if (shape === 'round') {
    const solid = (7 + 6 * nu) / (6 * (1 + nu));
    return 1 / (solid + w * (1 / ringKappa(nu) - solid));
  }
  const solid = shape === 'oval' ? 1 / ellipseKappa(height, width, nu) : (12 + 11 * nu) / (10 * (1 + nu));
  if (w === 0) return 1 / solid;
  const thin =
    shape === 'oval'
      ? ovalRingKappa(height - wall, width - wall) * 2 * ringKappa(nu)
      : boxKappa((width - wall) / (height - wall), nu);
  return 1 / (solid + w * (1 / thin - solid));
}

/** Thin round tube: 2(1 + ν)/(4 + 3ν); 1/2 for ν = 0. */
const ringKappa = (nu: number): number => (2 * (1 + nu)) / (4 + 3 * nu);

/** Cowper's solid ellipse; the force acts along `height`. */
function ellipseKappa(height: number, width: number, nu: number): number {
  const a2 = height * height;
  const b2 = width * width;
  return (12 * (1 + nu) * a2 * (3 * a2 + b2)) / ((40 + 37 * nu) * a2 * a2 + (16 + 10 * nu) * a2 * b2 + nu * b2 * b2);
}

/** Cowper's thin-walled box of one wall thickness; `n` = width over height, both on the mean line. */
function boxKappa(n: number, nu: number): number {
  const n2 = n * n;
  const n3 = n2 * n;
  return (
    (10 * (1 + nu) * (1 + 3 * n) * (1 + 3 * n)) /
    (12 + 72 * n + 150 * n2 + 90 * n3 + nu * (11 + 66 * n + 135 * n2 + 90 * n3) + 10 * n2 * ((3 + nu) * n + 3 * n2))
  );
}

/**
 * Thin ring along an ellipse, elementary theory: κ = I²/(A ∮Q² ds) with Q the first moment from the top, wall 1. One quadrant,
 * trapezoidal steps corrected to Simpson's rule for Q; relative error below 1e-5 for axes up to 4 : 1.
 */
function ovalRingKappa(a: number, b: number): number {
  let length = 0;
  let inertia = 0;
  let square = 0;
  let q = 0;
  let yBefore = a;
  let rBefore = b;
  for (let k = 1; k <= STEPS; k++) {
    const cm = COSINE[2 * k - 1]!;
    const sm = COSINE[2 * (STEPS - k) + 1]!;
    const ym = a * cm;
    const rm = Math.sqrt(a * a * sm * sm + b * b * cm * cm);
    const c = COSINE[2 * k]!;
    const s = COSINE[2 * (STEPS - k)]!;
    const y = a * c;
    const r = Math.sqrt(a * a * s * s + b * b * c * c);
    // Q to the middle of the step by the quadratic through its three points, to its end by Simpson's rule
    const g0 = yBefore * rBefore;
    const gm = ym * rm;
    const g1 = y * r;
    const qm = q + (STEP / 24) * (5 * g0 + 8 * gm - g1);
    const q1 = q + (STEP / 6) * (g0 + 4 * gm + g1);
    length += (STEP / 6) * (rBefore + 4 * rm + r);
    inertia += (STEP / 6) * (yBefore * g0 + 4 * ym * gm + y * g1);
    square += (STEP / 6) * (q * q * rBefore + 4 * qm * qm * rm + q1 * q1 * r);
    q = q1;
    yBefore = y;
    rBefore = r;
  }
  return (inertia * inertia) / (length * square);
}
const STEPS = 12;
const STEP = Math.PI / (2 * STEPS);
/** Cosines of the quadrant's half steps; read from the end they are sines. */
const COSINE = Float64Array.from({ length: 2 * STEPS + 1 }, (_, i) => Math.cos((i * STEP) / 2));
