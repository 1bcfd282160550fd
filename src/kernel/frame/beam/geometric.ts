/**
 * Geometric stiffness of straight elements and of rigid arms.
 *
 * Element: an axial force N does work on the shortening ½∫(v'² + w'²) dx. With the shape functions that solve the Timoshenko
 * element exactly, per bending plane and Φ = 12EI/(GAs L²),
 *   N/(30 L (1+Φ)²) · [36+60Φ+30Φ², 3L, −…, 3L; L²(4+5Φ+2.5Φ²), −3L, −L²(1+5Φ+2.5Φ²); …],
 * which for Φ = 0 is the usual matrix; torsion adds N (Iy+Iz)/(A L). The slope includes shear (Engesser's column).
 * Arm: a force f at r from a node that turns by θ moves second-order by ½ θ × (θ × r): stiffness (f·r) 1 − ½ (f rᵀ + r fᵀ).
 * Source: Przemieniecki 1968, ch. 15 (Φ = 0); Φ ≠ 0 integrated here from the shape functions, theory.
 * Not here: bending moments and torque as initial stress (lateral–torsional buckling), follower loads.
 */
import { sub, type Vec3 } from '../../math/rigid.ts';
import type { BeamMember, FrameNode } from '../structure.ts';
import { pieceFrame } from './member-flexibility.ts';

const T = new Float64Array(144);
const local = new Float64Array(144);
const half = new Float64Array(144);

/** Geometric stiffness for N = 1, global axes at the element's nodes, 144 numbers row-major. One piece, no flex. */
export function elementGeometric(m: BeamMember, nodes: readonly FrameNode[], out: Float64Array, o: number): void {
  const piece = m.pieces[0]!;
  const { length: L, x, y, z } = pieceFrame(m, 0);
  const { E, G, section: s } = piece;
  local.fill(0);
  const set = (i: number, j: number, value: number): void => {
    local[12 * i + j] = value;
    local[12 * j + i] = value;
  };
  const plane = (shift: number, turn: number, sign: number, inertia: number, shear: number): void => {
    const phi = shear === Infinity ? 0 : (12 * E * inertia) / (G * shear * L * L);
    const c = 1 / (30 * L * (1 + phi) * (1 + phi));
    const a = c * (36 + 60 * phi + 30 * phi * phi);
    const b = sign * c * 3 * L;
    const d = c * L * L * (4 + 5 * phi + 2.5 * phi * phi);
    const e = -c * L * L * (1 + 5 * phi + 2.5 * phi * phi);
    set(shift, shift, a);
    set(shift + 6, shift + 6, a);
    set(shift, shift + 6, -a);
    set(shift, turn, b);
    set(shift, turn + 6, b);
    set(shift + 6, turn, -b);
    set(shift + 6, turn + 6, -b);
    set(turn, turn, d);
    set(turn + 6, turn + 6, d);
    set(turn, turn + 6, e);
  };
  plane(1, 5, 1, s.iz, s.asy);
  plane(2, 4, -1, s.iy, s.asz);
  const twist = (s.iy + s.iz) / (s.area * L);
  set(3, 3, twist);
  set(9, 9, twist);
  set(3, 9, -twist);
  // Motion of the elastic ends in local axes by the nodes': rows e·(u + θ × r) = e·u + (r × e)·θ.
  T.fill(0);
  const axes = [x, y, z];
  [m.from, m.to].forEach((node, n) => {
    const end = n === 0 ? piece.from : piece.to;
    const r = sub(end, nodes[node]!.at);
    for (let a = 0; a < 3; a++) {
      const e = axes[a]!;
      const arm = [r[1] * e[2] - r[2] * e[1], r[2] * e[0] - r[0] * e[2], r[0] * e[1] - r[1] * e[0]];
      for (let i = 0; i < 3; i++) {
        T[12 * (6 * n + a) + 6 * n + i] = e[i]!;
        T[12 * (6 * n + a) + 6 * n + 3 + i] = arm[i]!;
        T[12 * (6 * n + 3 + a) + 6 * n + 3 + i] = e[i]!;
      }
    }
  });
  for (let i = 0; i < 12; i++)
    for (let j = 0; j < 12; j++) {
      let sum = 0;
      for (let k = 0; k < 12; k++) sum += local[12 * i + k]! * T[12 * k + j]!;
      half[12 * i + j] = sum;
    }
  for (let i = 0; i < 12; i++)
    for (let j = 0; j < 12; j++) {
      let sum = 0;
      for (let k = 0; k < 12; k++) sum += T[12 * k + i]! * half[12 * k + j]!;
      out[o + 12 * i + j] = sum;
    }
}

/** Stiffness against turning of a node that a force f pulls at r: 9 numbers, row-major, added times `factor`. */
export function addArm(f: Vec3, r: Vec3, factor: number, out: Float64Array, o: number): void {
  const dot = f[0] * r[0] + f[1] * r[1] + f[2] * r[2];
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++)
      out[o + 3 * i + j]! += factor * ((i === j ? dot : 0) - 0.5 * (f[i]! * r[j]! + r[i]! * f[j]!));
}
