import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { EPS, expectWithin } from '../../../../test/expect-within.ts';
import { cross, unit, type Vec3 } from '../../math/rigid.ts';
import type { BeamMember, BeamSection, EndFlex, Piece } from '../structure.ts';
import { memberForce, memberStiffness } from './member-flexibility.ts';

const E = 70000;
const G = 26300;
const section: BeamSection = { area: 300, iy: 40000, iz: 70000, j: 90000, asy: 160, asz: 140 };
const A: Vec3 = [120, -40, 300];
const B: Vec3 = [520, 90, 410];
const along = unit([B[0] - A[0], B[1] - A[1], B[2] - A[2]]);
const y = unit(cross([0.3, 0.2, 1], along));
const at = (t: number): Vec3 => [A[0] + t * (B[0] - A[0]), A[1] + t * (B[1] - A[1]), A[2] + t * (B[2] - A[2])];
const piece = (from: number, to: number, extra: Partial<Piece> = {}): Piece => ({
  from: at(from),
  to: at(to),
  y,
  E,
  G,
  section,
  ...extra,
});
const member = (pieces: readonly Piece[], flex: readonly EndFlex[] = []): BeamMember => ({
  name: 'm',
  from: 0,
  to: 1,
  pieces,
  flex,
});
const axes = [along, y, cross(along, y)] as const;
/** The member in axes of its own, so that a textbook matrix can be laid beside it. */
function local(K: Float64Array): number[][] {
  const R = (i: number, j: number): number => (Math.floor(i / 3) === Math.floor(j / 3) ? axes[i % 3]![j % 3]! : 0);
  return Array.from({ length: 12 }, (_, a) =>
    Array.from({ length: 12 }, (_, b) => {
      let sum = 0;
      for (let i = 0; i < 12; i++) for (let j = 0; j < 12; j++) sum += R(a, i) * K[12 * i + j]! * R(b, j);
      return sum;
    }),
  );
}
const largest = (K: ArrayLike<number>): number => Array.from(K).reduce((m, v) => Math.max(m, Math.abs(v)), 0);

test('a prismatic member is the textbook’s Timoshenko element', () => {
  const L = Math.sqrt(400 * 400 + 130 * 130 + 110 * 110);
  const k = local(memberStiffness(member([piece(0, 1)]), A, B));
  const phiY = (12 * E * section.iz) / (G * section.asy * L * L);
  const phiZ = (12 * E * section.iy) / (G * section.asz * L * L);
  const cz = (E * section.iz) / (L * L * L * (1 + phiY));
  const cy = (E * section.iy) / (L * L * L * (1 + phiZ));
  // Przemieniecki 1968, eq. 5.116; rows by freedom of end 0, columns of end 0 and end 1.
  const expected: [number, number, number][] = [
    [0, 0, (E * section.area) / L],
    [0, 6, -(E * section.area) / L],
    [3, 3, (G * section.j) / L],
    [3, 9, -(G * section.j) / L],
    [1, 1, 12 * cz],
    [1, 5, 6 * L * cz],
    [1, 7, -12 * cz],
    [1, 11, 6 * L * cz],
    [5, 5, (4 + phiY) * L * L * cz],
    [5, 11, (2 - phiY) * L * L * cz],
    [5, 7, -6 * L * cz],
    [2, 2, 12 * cy],
    [2, 4, -6 * L * cy],
    [2, 10, -6 * L * cy],
    [4, 4, (4 + phiZ) * L * L * cy],
    [4, 10, (2 - phiZ) * L * L * cy],
    [4, 8, 6 * L * cy],
    [0, 1, 0],
    [1, 2, 0],
    [3, 5, 0],
    [4, 5, 0],
  ];
  const size = largest(k.flat());
  for (const [i, j, value] of expected) expectWithin(k[i]![j]!, value, { absolute: 1e-11 * size }, { i, j });
});

describe('theory promises exactly', () => {
  test('symmetry, and no force from any rigid motion, offsets and tapers included', () => {
    const taper = piece(0, 0.6, { at: (t) => ({ ...section, iy: 40000 * (1 + t), area: 300 + 50 * t }) });
    const from: Vec3 = [100, -70, 280];
    const to: Vec3 = [540, 100, 450];
    const K = memberStiffness(member([taper, piece(0.6, 1)]), from, to);
    const size = largest(K);
    for (let i = 0; i < 12; i++)
      for (let j = 0; j < i; j++) expectWithin(K[12 * i + j]!, K[12 * j + i]!, { absolute: 64 * EPS * size });
    const span = 700;
    for (let m = 0; m < 6; m++) {
      const u = new Float64Array(12);
      [from, to].forEach((p, n) => {
        const axis: Vec3 = [m % 3 === 0 ? 1 : 0, m % 3 === 1 ? 1 : 0, m % 3 === 2 ? 1 : 0];
        const shift = m < 3 ? axis : cross(axis, p);
        u.set(shift, 6 * n);
        if (m >= 3) u.set(axis, 6 * n + 3);
      });
      for (let i = 0; i < 12; i++) {
        let sum = 0;
        for (let j = 0; j < 12; j++) sum += K[12 * i + j]! * u[j]!;
        expectWithin(sum, 0, { absolute: 64 * EPS * size * (m < 3 ? 1 : span) }, { m, i });
      }
    }
  });

  test('cutting a prismatic member changes nothing', () => {
    const whole = memberStiffness(member([piece(0, 1)]), A, B);
    const size = largest(whole);
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0.01, max: 1, noNaN: true }), { minLength: 2, maxLength: 12 }), (parts) => {
        const total = parts.reduce((a, b) => a + b, 0);
        let t = 0;
        const pieces = parts.map((part, i) => piece(t, (t = i === parts.length - 1 ? 1 : t + part / total)));
        const cut = memberStiffness(member(pieces), A, B);
        for (let i = 0; i < 144; i++) expectWithin(cut[i]!, whole[i]!, { absolute: 1e-12 * size }, i);
      }),
      { numRuns: 40 },
    );
  });

  test('a rigid offset is a change of reference: forces at the far node are those at the member’s end, moved', () => {
    const near = memberStiffness(member([piece(0, 1)]), A, B);
    const to: Vec3 = [B[0] + 30, B[1] - 20, B[2] + 55];
    const K = memberStiffness(member([piece(0, 1)]), A, to);
    // A turn of the far node about z by one: B moves by θ × (B − node) and turns with it.
    const move = cross([0, 0, 1], [-30, 20, -55]);
    const u = new Float64Array(12);
    u.set(move, 6);
    u[11] = 1;
    for (let i = 0; i < 6; i++) {
      let sum = 0;
      for (let j = 0; j < 12; j++) sum += near[12 * i + j]! * u[j]!;
      expectWithin(K[12 * i + 11]!, sum, { absolute: 1e-12 * largest(K) }, i);
    }
  });
});

describe('a tapered piece', () => {
  // Round tube, outside 60 → 40 mm, wall 2 mm: second moment of a thick ring along a straight taper.
  const ring = (t: number): BeamSection => {
    const od = 60 - 20 * t;
    const id = od - 4;
    const iy = (Math.PI / 64) * (od * od * od * od - id * id * id * id);
    const area = (Math.PI / 4) * (od * od - id * id);
    return { area, iy, iz: iy, j: 2 * iy, asy: Infinity, asz: Infinity };
  };
  const L = 500;
  const P = 500;
  const straight = (pieces: Piece[]): BeamMember => ({ name: 't', from: 0, to: 1, pieces, flex: [] });
  const part = (a: number, b: number, s: BeamSection, taper?: (t: number) => BeamSection): Piece => ({
    from: [a * L, 0, 0],
    to: [b * L, 0, 0],
    y: [0, 1, 0],
    E,
    G,
    section: s,
    ...(taper ? { at: taper } : {}),
  });
  /** Tip deflection of the cantilever held at the large end, by Cramer on the two bending freedoms of the far end. */
  const tip = (m: BeamMember): number => {
    const K = memberStiffness(m, [0, 0, 0], [L, 0, 0]);
    const [a, b, c] = [K[12 * 8 + 8]!, K[12 * 8 + 10]!, K[12 * 10 + 10]!];
    return (P * c) / (a * c - b * b);
  };
  const stepped = (n: number): number =>
    tip(straight(Array.from({ length: n }, (_, i) => part(i / n, (i + 1) / n, ring((i + 0.5) / n)))));
  /** ∫ P x²/EI dx by Simpson's rule with 20 000 steps, x from the tip. */
  const exact = ((): number => {
    const n = 20000;
    let sum = 0;
    for (let i = 0; i <= n; i++) {
      const t = i / n;
      const x = L * (1 - t);
      sum += ((i === 0 || i === n ? 1 : i % 2 === 1 ? 4 : 2) * x * x) / ring(t).iy;
    }
    return (P / E) * (sum * (L / n / 3));
  })();

  test('is integrated to ten digits', () => {
    expectWithin(tip(straight([part(0, 1, ring(0), ring)])), exact, { relative: 1e-10 });
  });

  test('in steps of its middle section converges with the second power of the step', () => {
    const errors = [4, 8, 16, 32].map((n) => stepped(n) / exact - 1);
    const slopes = errors.slice(1).map((e, i) => Math.log2(errors[i]! / e));
    for (const slope of slopes) expectWithin(slope, 2, { absolute: 0.1 }, errors);
    expect(Math.abs(errors[3]!)).toBeLessThan(3e-4);
  });
});

describe('compliance at an end', () => {
  const flex = (end: 0 | 1, compliance: EndFlex['compliance']): EndFlex => ({ end, what: 'spring', axes, compliance });

  test('by 1e30 is a release to the last digits, and ∞ is one exactly', () => {
    const free = local(memberStiffness(member([piece(0, 1)], [flex(0, [0, 0, 0, 0, Infinity, Infinity])]), A, B));
    const soft = local(memberStiffness(member([piece(0, 1)], [flex(0, [0, 0, 0, 0, 1e30, 1e30])]), A, B));
    const size = largest(free.flat());
    for (let i = 0; i < 12; i++)
      for (let j = 0; j < 12; j++) expectWithin(free[i]![j]!, soft[i]![j]!, { absolute: 1e-12 * size }, { i, j });
    for (let j = 0; j < 12; j++) expectWithin(free[4]![j]!, 0, { absolute: 1e-12 * size }, j);
  });

  test('torsion released at both ends and all bending released leave a rod', () => {
    const release = [0, 0, 0, Infinity, Infinity, Infinity] as const;
    const k = local(memberStiffness(member([piece(0, 1)], [flex(0, release), flex(1, release)]), A, B));
    const size = largest(memberStiffness(member([piece(0, 1)]), A, B));
    for (let i = 0; i < 12; i++)
      for (let j = 0; j < 12; j++) {
        const L = Math.sqrt(400 * 400 + 130 * 130 + 110 * 110);
        const rod = i % 6 === 0 && j % 6 === 0 ? ((i === j ? 1 : -1) * E * section.area) / L : 0;
        expectWithin(k[i]![j]!, rod, { absolute: 1e-12 * size }, { i, j });
      }
  });
});

test('section forces along a member follow the moment’s slope: dMz/dx = −Vy, dMy/dx = Vz', () => {
  const m = member([piece(0, 0.3), piece(0.3, 1)]);
  const end = new Float64Array(12);
  end.set([30, -70, 110, 4000, -9000, 2500], 6);
  const L = Math.sqrt(400 * 400 + 130 * 130 + 110 * 110);
  const [a, b] = [memberForce(m, B, end, 1, 0.2), memberForce(m, B, end, 1, 0.7)];
  const dx = 0.5 * 0.7 * L;
  expectWithin(b[5] - a[5], -a[1] * dx, { absolute: 1e-8 });
  expectWithin(b[4] - a[4], a[2] * dx, { absolute: 1e-8 });
  expect([b[0], b[3]].map((v) => v.toFixed(9))).toEqual([a[0], a[3]].map((v) => v.toFixed(9)));
});

describe('a member is refused by name', () => {
  const ok = piece(0, 1);
  test.each<[string, Piece[]]>([
    ['no pieces', []],
    ['no length', [{ ...ok, to: ok.from }]],
    ['a section of NaN', [{ ...ok, section: { ...section, iy: NaN } }]],
    ['negative E', [{ ...ok, E: -1 }]],
    ['infinite E', [{ ...ok, E: Infinity }]],
    ['no shear area', [{ ...ok, section: { ...section, asy: 0 } }]],
    ['y along the piece', [{ ...ok, y: along }]],
    ['a gap', [piece(0, 0.4), piece(0.5, 1)]],
    ['a taper that vanishes', [{ ...ok, at: (t) => ({ ...section, iy: 40000 * (1 - 2 * t) }) }]],
  ])('%s', (_, pieces) => {
    expect(() => memberStiffness(member(pieces), A, B)).toThrow(/^member m\b/);
  });
  test('negative compliance', () => {
    const flex: EndFlex = { end: 0, what: 'wall', axes, compliance: [0, 0, 0, -1, 0, 0] };
    expect(() => memberStiffness(member([ok], [flex]), A, B)).toThrow(/wall/);
  });
});
