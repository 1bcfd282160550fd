/**
 * Geometric stiffness of straight elements and of rigid arms.
 *
 * Element: an axial force N does work on the shortening ½∫(v'² + w'²) dx. With the shape functions that solve the Timoshenko
 * element exactly, per bending plane and Φ = 12EI/(GAs L²),
 *   N/(30 L (1+Φ)²) · [36+60Φ+30Φ², 3L, −…, 3L; L²(4+5Φ+2.5Φ²), −3L, −L²(1+5Φ+2.5Φ²); …],
 * which for Φ = 0 is the usual matrix; torsion adds N (Iy+Iz)/(A L). The slope includes shear (Engesser's column).
 * End compliances let the element's own ends move by q = S u, S from the linear balance of the springs in series; KG becomes
 * SᵀKG S, the Rayleigh–Ritz form, which converges with the length of the element as without them.
 * Arm: a force f at r from a node that turns by θ moves second-order by ½ θ × (θ × r): stiffness (f·r) 1 − ½ (f rᵀ + r fᵀ).
 * Source: Przemieniecki 1968, ch. 15 (Φ = 0); Φ ≠ 0 integrated here from the shape functions, theory.
 * Not here: bending moments and torque as initial stress (lateral–torsional buckling), follower loads.
 */
import { sub, type Vec3 } from '../../math/rigid.ts';
import type { BeamMember, FrameNode } from '../structure.ts';
import { memberStiffness, pieceFrame } from './member-flexibility.ts';

/** out = Bᵀ A B for 12 × 12 row-major matrices; B is nearly a unit matrix, so its zeros are passed over. */
function congruent(A: Float64Array, B: Float64Array, out: Float64Array, o: number): void {
  half.fill(0);
  for (let k = 0; k < 12; k++)
    for (let j = 0; j < 12; j++) {
      const b = B[12 * k + j]!;
      if (b !== 0) for (let i = 0; i < 12; i++) half[12 * i + j]! += A[12 * i + k]! * b;
    }
  for (let i = o; i < o + 144; i++) out[i] = 0;
  for (let k = 0; k < 12; k++)
    for (let i = 0; i < 12; i++) {
      const b = B[12 * k + i]!;
      if (b !== 0) for (let j = 0; j < 12; j++) out[o + 12 * i + j]! += b * half[12 * k + j]!;
    }
}
const half = new Float64Array(144);
const T = new Float64Array(144);
const local = new Float64Array(144);
const own = new Float64Array(144);

/** Geometric stiffness for N = 1, global axes at the element's nodes, 144 numbers row-major. An element has one piece. */
export function elementGeometric(m: BeamMember, nodes: readonly FrameNode[], out: Float64Array, o: number): void {
  const piece = m.pieces[0]!;
  const { length: L, x, y, z } = pieceFrame(m, 0);
  const { E, G, section: s } = piece;
  local.fill(0);
  const set = (i: number, j: number, value: number): void => {
    local[12 * i + j] = value;
    local[12 * j + i] = value;
  };
  const plane = (shift: number, spin: number, sign: number, inertia: number, shear: number): void => {
    const phi = shear === Infinity ? 0 : (12 * E * inertia) / (G * shear * L * L);
    const c = 1 / (30 * L * (1 + phi) * (1 + phi));
    const a = c * (36 + 60 * phi + 30 * phi * phi);
    const b = sign * c * 3 * L;
    const d = c * L * L * (4 + 5 * phi + 2.5 * phi * phi);
    const e = -c * L * L * (1 + 5 * phi + 2.5 * phi * phi);
    set(shift, shift, a);
    set(shift + 6, shift + 6, a);
    set(shift, shift + 6, -a);
    set(shift, spin, b);
    set(shift, spin + 6, b);
    set(shift + 6, spin, -b);
    set(shift + 6, spin + 6, -b);
    set(spin, spin, d);
    set(spin + 6, spin + 6, d);
    set(spin, spin + 6, e);
  };
  plane(1, 5, 1, s.iz, s.asy);
  plane(2, 4, -1, s.iy, s.asz);
  const twist = (s.iy + s.iz) / (s.area * L);
  set(3, 3, twist);
  set(9, 9, twist);
  set(3, 9, -twist);
  turn(x, y, z);
  if (m.flex.length > 0) {
    springShare(m, T);
    congruent(own, T, local, 0);
    own.set(local);
  }
  const arms = [sub(piece.from, nodes[m.from]!.at), sub(piece.to, nodes[m.to]!.at)];
  if (arms.every((r) => r[0] === 0 && r[1] === 0 && r[2] === 0)) {
    out.set(own, o);
    return;
  }
  // Motion of the elastic ends by the nodes': u + θ × r.
  T.fill(0);
  arms.forEach((r, n) => {
    for (let i = 0; i < 6; i++) T[13 * (6 * n + i)] = 1;
    const cross = [0, r[2], -r[1], -r[2], 0, r[0], r[1], -r[0], 0];
    for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) T[12 * (6 * n + i) + 6 * n + 3 + j] = cross[3 * i + j]!;
  });
  congruent(own, T, out, o);
}

/** own = local in global axes: sixteen blocks Rᵀ A R. Most are zero but for a few entries. */
function turn(x: Vec3, y: Vec3, z: Vec3): void {
  const axes = [x, y, z];
  own.fill(0);
  for (let a = 0; a < 12; a++)
    for (let b = 0; b < 12; b++) {
      const k = local[12 * a + b]!;
      if (k === 0) continue;
      const ea = axes[a % 3]!;
      const eb = axes[b % 3]!;
      const at = 12 * (a - (a % 3)) + b - (b % 3);
      for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) own[at + 12 * i + j]! += k * ea[i]! * eb[j]!;
    }
}

/**
 * S: motion of the element's own ends by that of the ends behind its compliances. With k the element's stiffness, h the unit
 * motions of the springs and c their compliances, r = −(hᵀ k h + 1/c)⁻¹ hᵀ k u and q = u + h r.
 */
function springShare(m: BeamMember, S: Float64Array): void {
  const piece = m.pieces[0]!;
  const k = memberStiffness({ ...m, flex: [] }, piece.from, piece.to);
  const h: Float64Array[] = [];
  const stiff: number[] = [];
  for (const flex of m.flex)
    flex.compliance.forEach((c, a) => {
      if (c === 0) return;
      const unit = new Float64Array(12);
      unit.set(flex.axes[a % 3]!, 6 * flex.end + (a < 3 ? 0 : 3));
      h.push(unit);
      stiff.push(1 / c);
    });
  const n = h.length;
  const kh = h.map((unit) => {
    const out = new Float64Array(12);
    for (let j = 0; j < 12; j++) {
      const v = unit[j]!;
      if (v !== 0) for (let i = 0; i < 12; i++) out[i]! += k[12 * i + j]! * v;
    }
    return out;
  });
  // [hᵀ k h + 1/c | −hᵀ k], eliminated by Gauss–Jordan; positive, so no pivoting. Torsion released twice has no pivot left: it stays.
  const rows = h.map((unit, i) => {
    const row = new Float64Array(n + 12);
    for (let j = 0; j < n; j++) {
      let sum = i === j ? stiff[i]! : 0;
      for (let q = 0; q < 12; q++) sum += unit[q]! * kh[j]![q]!;
      row[j] = sum;
    }
    for (let q = 0; q < 12; q++) row[n + q] = -kh[i]![q]!;
    return row;
  });
  const first = rows.map((row, i) => row[i]!);
  for (let i = 0; i < n; i++) {
    const pivot = rows[i]![i]!;
    if (!(pivot > 1e-12 * first[i]!)) {
      rows[i]!.fill(0);
      for (const row of rows) row[i] = 0;
      continue;
    }
    for (let q = 0; q < n + 12; q++) rows[i]![q]! /= pivot;
    rows.forEach((row, j) => {
      const share = row[i]!;
      if (j !== i && share !== 0) for (let q = 0; q < n + 12; q++) row[q]! -= share * rows[i]![q]!;
    });
  }
  S.fill(0);
  for (let i = 0; i < 12; i++) {
    S[13 * i] = 1;
    for (let j = 0; j < 12; j++) for (let a = 0; a < n; a++) S[12 * i + j]! += h[a]![i]! * rows[a]![n + j]!;
  }
}

/** Stiffness against turning of a node that a force f pulls at r: 9 numbers, row-major, added times `factor`. */
export function addArm(f: Vec3, r: Vec3, factor: number, out: Float64Array, o: number): void {
  const dot = f[0] * r[0] + f[1] * r[1] + f[2] * r[2];
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++)
      out[o + 3 * i + j]! += factor * ((i === j ? dot : 0) - 0.5 * (f[i]! * r[j]! + r[i]! * f[j]!));
}
