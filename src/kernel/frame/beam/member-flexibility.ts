/**
 * Stiffness of a beam member from its flexibility.
 *
 * Method: the member's beginning is held, a force and a moment act on its elastic end B; statics give the section forces
 * everywhere, so the flexibility is an integral, F = ∫ Hᵀ c H ds with c = diag(1/EA, 1/GAy, 1/GAz, 1/GJ, 1/EIy, 1/EIz).
 * Prismatic pieces are integrated in closed form, tapered ones by Gauss–Legendre quadrature, so the result does not
 * depend on how a piece is cut. K = F⁻¹; each added end compliance c in direction h is a spring in series:
 * K ← K − K h hᵀ K / (1/c + hᵀ K h), which for c = ∞ is an exact release.
 * Source: Przemieniecki 1968, Theory of Matrix Structural Analysis, ch. 5–6 and 11; Sherman–Morrison identity; theory.
 * Units: mm, N, MPa, rad (any consistent set works). Angles small, sections plane, shear after Timoshenko.
 * Not here: distributed loads, warping, curved pieces (arcs come as chords), coupling of shear centre and centroid.
 */
import { cross, dot, norm, scale, sub, type Vec3 } from '../../math/rigid.ts';
import type { BeamMember, BeamSection, Piece } from '../structure.ts';
import { GAUSS, GAUSS_POINTS } from './gauss.ts';

/** Share of the stiffness before the first release below which a further release frees nothing that was still held. */
const NOTHING_LEFT = 1e-12;
/** How far y may be from square to the piece (cosine), and pieces from joining (share of the length). */
const ASKEW = 1e-6;

/** Length and axes of a piece. @throws RangeError naming the member when a length, section or modulus is not positive. */
export function pieceFrame(member: BeamMember, k: number): { length: number; x: Vec3; y: Vec3; z: Vec3 } {
  const piece = member.pieces[k]!;
  const line = sub(piece.to, piece.from);
  const length = norm(line);
  if (!(length > 0 && length < Infinity)) throw new RangeError(`member ${member.name}: piece ${k} has no length`);
  const x = scale(line, 1 / length);
  if (!(Math.abs(dot(x, piece.y)) < ASKEW && Math.abs(norm(piece.y) - 1) < ASKEW))
    throw new RangeError(`member ${member.name}: y of piece ${k} is not a unit vector square to it`);
  return { length, x, y: piece.y, z: cross(x, piece.y) };
}

function refuseSection(member: BeamMember, k: number, s: BeamSection): void {
  const { E, G } = member.pieces[k]!;
  const finite =
    s.area < Infinity && s.iy < Infinity && s.iz < Infinity && s.j < Infinity && E < Infinity && G < Infinity;
  const positive = s.area > 0 && s.iy > 0 && s.iz > 0 && s.j > 0 && s.asy > 0 && s.asz > 0 && E > 0 && G > 0;
  if (!(finite && positive))
    throw new RangeError(`member ${member.name}: piece ${k} needs a positive section, E and G`);
}

// Scratch of one member: F (uu, um, mm as three 3×3 blocks, row-major).
const uu = new Float64Array(9);
const um = new Float64Array(9);
const mm = new Float64Array(9);
const rD = new Float64Array(9);
const rB = new Float64Array(9);

/**
 * Adds a flexibility given in axes x, y, z at a point, seen from B = point + r:
 * A = diag(a) (motion per force), D = diag(d) (turn per moment), B with bend1 = u_y per m_z and bend2 = −u_z per m_y.
 * A force f and a moment m at B turn the point by θ = Bᵀ f + D M and move it by A f + B M, M = m + r × f; B moves by r × θ less.
 */
function addFlexibility(
  x: Vec3,
  y: Vec3,
  z: Vec3,
  ax: number,
  ay: number,
  az: number,
  bend1: number,
  bend2: number,
  dx: number,
  dy: number,
  dz: number,
  r0: number,
  r1: number,
  r2: number,
): void {
  // um = C = B − [r] D, uu = A + C [r] − [r] Bᵀ, mm = D.
  for (let i = 0; i < 3; i++) {
    const xi = x[i]!,
      yi = y[i]!,
      zi = z[i]!;
    for (let j = 0; j < 3; j++) {
      const xj = x[j]!,
        yj = y[j]!,
        zj = z[j]!;
      const at = 3 * i + j;
      uu[at]! += ax * xi * xj + ay * yi * yj + az * zi * zj;
      rB[at] = bend1 * yi * zj - bend2 * zi * yj;
      rD[at] = dx * xi * xj + dy * yi * yj + dz * zi * zj;
      mm[at]! += rD[at]!;
    }
  }
  // Columns of B − [r] D: u = B m − r × (D m).
  for (let j = 0; j < 3; j++) {
    const d0 = rD[j]!,
      d1 = rD[3 + j]!,
      d2 = rD[6 + j]!;
    const c0 = rB[j]! - (r1 * d2 - r2 * d1),
      c1 = rB[3 + j]! - (r2 * d0 - r0 * d2),
      c2 = rB[6 + j]! - (r0 * d1 - r1 * d0);
    um[j]! += c0;
    um[3 + j]! += c1;
    um[6 + j]! += c2;
    rD[j] = c0;
    rD[3 + j] = c1;
    rD[6 + j] = c2;
  }
  // uu f gets (B − [r]D)(r × f) − r × (Bᵀ f); rows: C [r] with C above, and −[r] Bᵀ.
  for (let i = 0; i < 3; i++) {
    const c0 = rD[3 * i]!,
      c1 = rD[3 * i + 1]!,
      c2 = rD[3 * i + 2]!;
    // (C [r])_i· = C_i × r as a row: c·(r × f) = (c × r)·f
    uu[3 * i]! += c1 * r2 - c2 * r1;
    uu[3 * i + 1]! += c2 * r0 - c0 * r2;
    uu[3 * i + 2]! += c0 * r1 - c1 * r0;
    // −[r] Bᵀ: column i of Bᵀ is row i of B.
    const b0 = rB[3 * i]!,
      b1 = rB[3 * i + 1]!,
      b2 = rB[3 * i + 2]!;
    uu[i]! -= r1 * b2 - r2 * b1;
    uu[3 + i]! -= r2 * b0 - r0 * b2;
    uu[6 + i]! -= r0 * b1 - r1 * b0;
  }
}

const inverse = (k: number): number => (k === Infinity ? 0 : 1 / k);

function addPiece(member: BeamMember, k: number, B: Vec3): void {
  const piece: Piece = member.pieces[k]!;
  const { length: L, x, y, z } = pieceFrame(member, k);
  const { E, G } = piece;
  if (piece.at === undefined) {
    const s = piece.section;
    refuseSection(member, k, s);
    const ez = L / (E * s.iz);
    const ey = L / (E * s.iy);
    const third = (L * L) / 3;
    const ay = third * ez + L * inverse(G * s.asy);
    const az = third * ey + L * inverse(G * s.asz);
    const { to } = piece;
    const [r0, r1, r2] = [B[0] - to[0], B[1] - to[1], B[2] - to[2]];
    addFlexibility(x, y, z, L / (E * s.area), ay, az, 0.5 * L * ez, 0.5 * L * ey, L / (G * s.j), ey, ez, r0, r1, r2);
    return;
  }
  for (let g = 0; g < GAUSS_POINTS; g++) {
    const t = GAUSS.t[g]!;
    const w = L * GAUSS.w[g]!;
    const s = piece.at(t);
    refuseSection(member, k, s);
    const ay = w * inverse(G * s.asy);
    const az = w * inverse(G * s.asz);
    const along = t * L;
    const r0 = B[0] - piece.from[0] - along * x[0];
    const r1 = B[1] - piece.from[1] - along * x[1];
    const r2 = B[2] - piece.from[2] - along * x[2];
    const e = w / E;
    addFlexibility(x, y, z, e / s.area, ay, az, 0, 0, w / (G * s.j), e / s.iy, e / s.iz, r0, r1, r2);
  }
}

/** A flexibility given in axes of its own, turned into global ones: three blocks A ← R A Rᵀ with the axes as columns of R. */
function takeGiven(member: BeamMember, { axes, flexibility: f }: NonNullable<BeamMember['given']>): void {
  // in its own axes a rigid direction shows as 0; turned, it would drown in round-off
  for (let i = 0; i < 6; i++)
    if (!(f[7 * i]! > 0)) throw new RangeError(`member ${member.name}: no finite stiffness in direction ${i + 1}`);
  for (const [block, row, column] of [
    [uu, 0, 0],
    [um, 0, 3],
    [mm, 3, 3],
  ] as const)
    for (let i = 0; i < 3; i++)
      for (let j = 0; j < 3; j++) {
        let sum = 0;
        for (let a = 0; a < 3; a++)
          for (let b = 0; b < 3; b++) sum += axes[a]![i]! * f[6 * (row + a) + column + b]! * axes[b]![j]!;
        block[3 * i + j] = sum;
      }
}

// Cholesky of the 6 × 6 flexibility and the inverse of its factor.
const c6 = new Float64Array(36);
const i6 = new Float64Array(36);

function invertInto(member: BeamMember, out: Float64Array, o: number): void {
  for (let i = 0; i < 3; i++)
    for (let j = 0; j < 3; j++) {
      c6[6 * i + j] = uu[3 * i + j]!;
      c6[6 * (i + 3) + j] = um[3 * j + i]!;
      c6[6 * (i + 3) + j + 3] = mm[3 * i + j]!;
    }
  for (let j = 0; j < 6; j++) {
    let d = c6[7 * j]!;
    for (let k = 0; k < j; k++) d -= c6[6 * j + k]! * c6[6 * j + k]!;
    if (!(d > 0)) throw new RangeError(`member ${member.name}: no finite stiffness`);
    const root = Math.sqrt(d);
    c6[7 * j] = root;
    for (let i = j + 1; i < 6; i++) {
      let sum = c6[6 * i + j]!;
      for (let k = 0; k < j; k++) sum -= c6[6 * i + k]! * c6[6 * j + k]!;
      c6[6 * i + j] = sum / root;
    }
  }
  for (let j = 0; j < 6; j++) {
    i6[7 * j] = 1 / c6[7 * j]!;
    for (let i = j + 1; i < 6; i++) {
      let sum = 0;
      for (let k = j; k < i; k++) sum -= c6[6 * i + k]! * i6[6 * k + j]!;
      i6[6 * i + j] = sum / c6[7 * i]!;
    }
  }
  for (let i = 0; i < 6; i++)
    for (let j = 0; j <= i; j++) {
      let sum = 0;
      for (let k = i; k < 6; k++) sum += i6[6 * k + i]! * i6[6 * k + j]!;
      out[o + 6 * i + j] = sum;
      out[o + 6 * j + i] = sum;
    }
}

const h6 = new Float64Array(6);
const kh = new Float64Array(6);
const rigid = new Float64Array(36);

/** hᵀ K h for the h6 of the moment; kh = K h. */
function along(k: Float64Array, o: number): number {
  let stiff = 0;
  for (let i = 0; i < 6; i++) {
    const q = o + 6 * i;
    const sum =
      k[q]! * h6[0]! +
      k[q + 1]! * h6[1]! +
      k[q + 2]! * h6[2]! +
      k[q + 3]! * h6[3]! +
      k[q + 4]! * h6[4]! +
      k[q + 5]! * h6[5]!;
    kh[i] = sum;
    stiff += h6[i]! * sum;
  }
  return stiff;
}

/** A series spring this many times softer than the member counts as a release: what is left of it drowns in round-off. */
const SOFT = 1e6;

/** Puts the end compliances in series. @returns whether one of them released something; `rigid` then holds what was there before. */
function soften(member: BeamMember, B: Vec3, out: Float64Array, o: number): boolean {
  if (member.flex.length === 0) return false;
  let released = false;
  for (let i = 0; i < 36; i++) rigid[i] = out[o + i]!;
  for (const flex of member.flex) {
    const point = flex.end === 0 ? member.pieces[0]!.from : member.pieces.at(-1)!.to;
    const r0 = B[0] - point[0];
    const r1 = B[1] - point[1];
    const r2 = B[2] - point[2];
    for (let a = 0; a < 6; a++) {
      const c = flex.compliance[a]!;
      if (c === 0) continue;
      if (!(c > 0)) throw new RangeError(`member ${member.name}: ${flex.what} has a compliance that is not positive`);
      const [x, y, z] = flex.axes[a % 3]!;
      // What of the end's force and moment acts there: the force along the axis, or about it axis · (m + r × f).
      const turns = a >= 3;
      h6[0] = turns ? y * r2 - z * r1 : x;
      h6[1] = turns ? z * r0 - x * r2 : y;
      h6[2] = turns ? x * r1 - y * r0 : z;
      h6[3] = turns ? x : 0;
      h6[4] = turns ? y : 0;
      h6[5] = turns ? z : 0;
      // Freed twice (torsion released at both ends): nothing is left to take away, and 0/0 must not be asked for.
      const first = c === Infinity ? along(rigid, 0) : 0;
      const stiff = along(out, o);
      if (c === Infinity && !(stiff > NOTHING_LEFT * first)) continue;
      if (c * stiff > SOFT) released = true;
      const k = 1 / (1 / c + stiff);
      for (let i = 0; i < 6; i++) {
        const s = k * kh[i]!;
        const q = o + 6 * i;
        for (let j = 0; j < 6; j++) out[q + j]! -= s * kh[j]!;
      }
    }
  }
  return released;
}

/**
 * Writes the stiffness that ties the motion of a member's elastic end B to the force and moment on it, its beginning
 * held: 6 × 6, row-major, global axes (x y z, then about x y z).
 * @param unreleased where the same without end compliances goes, if one of them releases something.
 * @returns whether one does: what is left in that direction is round-off of the unreleased stiffness, not stiffness.
 * @throws RangeError naming the member when a piece has no length, or a section or modulus is not positive.
 */
export function memberEndStiffness(member: BeamMember, out: Float64Array, o = 0, unreleased?: Float64Array): boolean {
  if (member.pieces.length === 0) throw new RangeError(`member ${member.name} has no pieces`);
  uu.fill(0);
  um.fill(0);
  mm.fill(0);
  const B = member.pieces.at(-1)!.to;
  if (member.given) takeGiven(member, member.given);
  for (let k = 0; k < member.pieces.length && !member.given; k++) {
    addPiece(member, k, B);
    if (k > 0) {
      const gap = norm(sub(member.pieces[k]!.from, member.pieces[k - 1]!.to));
      if (!(gap <= ASKEW * norm(sub(B, member.pieces[0]!.from)) + ASKEW))
        throw new RangeError(`member ${member.name}: piece ${k} does not begin where the one before ends`);
    }
  }
  invertInto(member, out, o);
  const released = soften(member, B, out, o);
  if (released) unreleased?.set(rigid);
  return released;
}

/** The member's 12 × 12 stiffness in global axes, row-major: for tests and readers; the solver keeps the 6 × 6. */
export function memberStiffness(member: BeamMember, from: Vec3, to: Vec3): Float64Array {
  const k = new Float64Array(36);
  memberEndStiffness(member, k);
  const B = member.pieces.at(-1)!.to;
  // Motion of B by the twelve: d = T u with T = [−T(from) | T(to)].
  const T = new Float64Array(72);
  [from, to].forEach((node, n) => {
    const sign = n === 0 ? -1 : 1;
    const r = sub(B, node);
    for (let i = 0; i < 6; i++) T[12 * i + 6 * n + i] = sign;
    const turn = [0, r[2], -r[1], -r[2], 0, r[0], r[1], -r[0], 0]; // θ × r
    for (let i = 0; i < 3; i++) for (let j = 0; j < 3; j++) T[12 * i + 6 * n + 3 + j] = sign * turn[3 * i + j]!;
  });
  const kT = new Float64Array(72);
  for (let j = 0; j < 6; j++)
    for (let b = 0; b < 12; b++) {
      const t = T[12 * j + b]!;
      if (t !== 0) for (let i = 0; i < 6; i++) kT[12 * i + b]! += k[6 * i + j]! * t;
    }
  const K = new Float64Array(144);
  for (let i = 0; i < 6; i++)
    for (let a = 0; a < 12; a++) {
      const t = T[12 * i + a]!;
      if (t !== 0) for (let b = 0; b < 12; b++) K[12 * a + b]! += t * kT[12 * i + b]!;
    }
  return K;
}

/**
 * Section forces [N, Vy, Vz, T, My, Mz] of piece k at the share t of its length, in the piece's axes: what the part beyond
 * exerts on the part before (N > 0 is tension).
 * @param end 12 end forces of the member in global axes, from `o` on; @param to the place of its second node.
 */
export function memberForce(
  member: BeamMember,
  to: Vec3,
  end: Float64Array,
  k: number,
  t: number,
  o = 0,
): [number, number, number, number, number, number] {
  const piece = member.pieces[k]!;
  const { x, y, z } = pieceFrame(member, k);
  const f: Vec3 = [end[o + 6]!, end[o + 7]!, end[o + 8]!];
  const arm: Vec3 = [
    to[0] - piece.from[0] - t * (piece.to[0] - piece.from[0]),
    to[1] - piece.from[1] - t * (piece.to[1] - piece.from[1]),
    to[2] - piece.from[2] - t * (piece.to[2] - piece.from[2]),
  ];
  const c = cross(arm, f);
  const m: Vec3 = [end[o + 9]! + c[0], end[o + 10]! + c[1], end[o + 11]! + c[2]];
  return [dot(f, x), dot(f, y), dot(f, z), dot(m, x), dot(m, y), dot(m, z)];
}
