/**
 * Stress around a section from the six internal forces.
 *
 * Forces [N, Vy, Vz, T, My, Mz] act on the face whose outward normal is +x (tension positive), in the axes of
 * `tube-section.ts`. Normal stress N/A + z My/Iy − y Mz/Iz. Shear stress along the wall: torsion T/W_t (closed cell: constant
 * around the wall) and transverse shear, largest at the neutral axis: sine law of the eccentric angle for round and oval
 * (exact for thin round), parabola on the sides and straight line on the caps of a rectangle (mean line). Von Mises √(σ² + 3τ²).
 *
 * On an ellipse the normal stress is n + b cos(φ − α) of the eccentric angle φ: its extremes are closed forms. On a rectangle
 * they lie at corners. The difference of two load vectors is a load vector, so the range at one point is a closed form too.
 * Sources: theory (Bernoulli, Bredt, Jourawski, von Mises); Young & Budynas, Roark's Formulas for Stress and Strain, ch. 8–10.
 * Units: mm, N, MPa. Not here: stress concentrations, residual stress, warping stress, local wall bending at joints.
 */
import type { Numbers } from '../../math/rigid.ts';
import type { TubeProperties } from './tube-section.ts';

/** The worst point of one section under one load vector; y along the height, z along the width, mm; MPa. */
export interface SectionStress {
  readonly vonMises: number;
  readonly y: number;
  readonly z: number;
  /** Of that point, from +y towards +z, rad. */
  readonly angle: number;
  /** Normal and shear stress there; shear is positive in the sense of a positive torque. */
  readonly normal: number;
  readonly shear: number;
  /** Largest and smallest normal stress anywhere on the section, with sign. */
  readonly mostTension: number;
  readonly mostCompression: number;
}

/** Largest bending stress on the outline, MPa, from both bending moments. Exact for every shape. */
export function bendingStress(p: TubeProperties, my: number, mz: number): number {
  const a = my / p.wy;
  const b = mz / p.wz;
  return p.shape === 'rectangular' ? Math.abs(a) + Math.abs(b) : Math.sqrt(a * a + b * b);
}

/** Normal stress at a point (y, z) of the section, MPa. */
export const normalStressAt = (p: TubeProperties, f: Numbers, y: number, z: number, o = 0): number =>
  f[o]! / p.area + (z * f[o + 4]!) / p.iy - (y * f[o + 5]!) / p.iz;

/**
 * Largest difference of normal stress between two load vectors at any one point of the outline, MPa: the stress range of
 * fatigue between two states. Exact.
 */
export function worstRange(p: TubeProperties, a: Numbers, b: Numbers, oa = 0, ob = 0): number {
  return Math.abs(a[oa]! - b[ob]!) / p.area + bendingStress(p, a[oa + 4]! - b[ob + 4]!, a[oa + 5]! - b[ob + 5]!);
}

/**
 * Upper bound of the von Mises stress, closed form, for the drag tier: largest normal and largest shear stress as if they met
 * in one point. Without transverse shear it is exact for round and oval tubes, and for rectangular ones too.
 */
export function stressBound(p: TubeProperties, f: Numbers, o = 0): number {
  const sigma = Math.abs(f[o]!) / p.area + bendingStress(p, f[o + 4]!, f[o + 5]!);
  const vy = f[o + 1]! * p.peakY;
  const vz = f[o + 2]! * p.peakZ;
  const v = p.shape === 'rectangular' ? Math.abs(vy) + Math.abs(vz) : Math.sqrt(vy * vy + vz * vz);
  const tau = Math.abs(f[o + 3]!) / p.wt + v;
  return Math.sqrt(sigma * sigma + 3 * tau * tau);
}

/** The worst point: exact for round and oval, the worst of 64 points and the corners for rectangular. */
export function worstStress(p: TubeProperties, f: Numbers, o = 0): SectionStress {
  return p.shape === 'rectangular' ? worstOnRectangle(p, f, o) : worstOnEllipse(p, f, o);
}

function worstOnEllipse(p: TubeProperties, f: Numbers, o: number): SectionStress {
  // σ = n + a cos φ + b sin φ, τ = s + c cos φ + d sin φ with y = (h/2) cos φ, z = (w/2) sin φ
  const n = f[o]! / p.area;
  const a = -f[o + 5]! / p.wz;
  const b = f[o + 4]! / p.wy;
  const s = f[o + 3]! / p.wt;
  const c = f[o + 2]! * p.peakZ;
  const d = -f[o + 1]! * p.peakY;
  let phi = 0;
  let most = -1;
  // A trigonometric polynomial of degree 2 has two maxima at most: climb from every peak of the samples
  let before = square(n, a, b, s, c, d, COSINE[SAMPLES - 1]!, SINE[SAMPLES - 1]!);
  let here = square(n, a, b, s, c, d, 1, 0);
  for (let k = 0; k < SAMPLES; k++) {
    const next = (k + 1) % SAMPLES;
    const after = square(n, a, b, s, c, d, COSINE[next]!, SINE[next]!);
    if (here >= before && here >= after) {
      const peak = climb(k * STEP, n, a, b, s, c, d);
      const value = square(n, a, b, s, c, d, Math.cos(peak), Math.sin(peak));
      if (value > most) {
        most = value;
        phi = peak;
      }
    }
    before = here;
    here = after;
  }
  const co = Math.cos(phi);
  const si = Math.sin(phi);
  return told(p, f, o, (p.height / 2) * co, (p.width / 2) * si, n + a * co + b * si, s + c * co + d * si);
}
const SAMPLES = 24;
const STEP = (2 * Math.PI) / SAMPLES;
const COSINE = Float64Array.from({ length: SAMPLES }, (_, k) => Math.cos(k * STEP));
const SINE = Float64Array.from({ length: SAMPLES }, (_, k) => Math.sin(k * STEP));

/** σ² + 3τ² at the eccentric angle with the cosine `co` and the sine `si`. */
function square(n: number, a: number, b: number, s: number, c: number, d: number, co: number, si: number): number {
  const sigma = n + a * co + b * si;
  const tau = s + c * co + d * si;
  return sigma * sigma + 3 * tau * tau;
}

/** Zero of half the slope near `phi`, Newton within one sample step, bisection where it would leave that. */
function climb(phi: number, n: number, a: number, b: number, s: number, c: number, d: number): number {
  let low = phi - STEP;
  let high = phi + STEP;
  let x = phi;
  for (let i = 0; i < CLIMBS; i++) {
    const co = Math.cos(x);
    const si = Math.sin(x);
    const sigma = n + a * co + b * si;
    const tau = s + c * co + d * si;
    const sigma1 = b * co - a * si;
    const tau1 = d * co - c * si;
    const slope = sigma * sigma1 + 3 * tau * tau1;
    if (slope === 0) return x;
    if (slope > 0) low = x;
    else high = x;
    const bend = sigma1 * sigma1 + sigma * (n - sigma) + 3 * (tau1 * tau1 + tau * (s - tau));
    const next = x - slope / bend;
    if (Math.abs(next - x) < CLOSE) return x;
    x = bend < 0 && next > low && next < high ? next : (low + high) / 2;
  }
  return x;
}
/** Newton doubles its digits: from 15° it is there after five; the rest is for the bisections. */
const CLIMBS = 12;
/** rad: the value's error goes with the square. */
const CLOSE = 1e-10;

function worstOnRectangle(p: TubeProperties, f: Numbers, o: number): SectionStress {
  const torsion = f[o + 3]! / p.wt;
  const hm = p.height - p.wall;
  const wm = p.width - p.wall;
  // Shear stress at the corners per newton: cap's straight line; a bar's caps carry none
  const cornerY = p.solid ? 0 : (hm * wm) / (4 * p.iz);
  const cornerZ = p.solid ? 0 : (hm * wm) / (4 * p.iy);
  let most = -1;
  let [yMost, zMost, normalMost, shearMost] = [Number.NaN, Number.NaN, Number.NaN, Number.NaN];
  for (let side = 0; side < 4; side++)
    for (let k = 0; k <= SIDE; k++) {
      const t = (2 * k) / SIDE - 1;
      const sign = side < 2 ? 1 : -1;
      const onSide = side % 2 === 0; // sides stand at z = ±w/2, caps at y = ±h/2
      const y = (onSide ? t : sign) * (p.height / 2);
      const z = (onSide ? sign : t) * (p.width / 2);
      // In the sense of a positive torque: Vy runs against it where z > 0, Vz with it where y > 0
      const fromY = onSide ? sign * (p.peakY - (p.peakY - cornerY) * t * t) : cornerY * t;
      const fromZ = onSide ? cornerZ * t : sign * (p.peakZ - (p.peakZ - cornerZ) * t * t);
      const shear = torsion - f[o + 1]! * fromY + f[o + 2]! * fromZ;
      const normal = normalStressAt(p, f, y, z, o);
      const value = normal * normal + 3 * shear * shear;
      if (value > most) {
        most = value;
        [yMost, zMost, normalMost, shearMost] = [y, z, normal, shear];
      }
    }
  return told(p, f, o, yMost, zMost, normalMost, shearMost);
}
const SIDE = 16;

function told(
  p: TubeProperties,
  f: Numbers,
  o: number,
  y: number,
  z: number,
  normal: number,
  shear: number,
): SectionStress {
  const n = f[o]! / p.area;
  const b = bendingStress(p, f[o + 4]!, f[o + 5]!);
  return {
    vonMises: Math.sqrt(normal * normal + 3 * shear * shear),
    y,
    z,
    angle: Math.atan2(z, y),
    normal,
    shear,
    mostTension: n + b,
    mostCompression: n - b,
  };
}
