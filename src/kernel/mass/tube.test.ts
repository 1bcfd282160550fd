import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../../test/expect-within.ts';
import { norm, rotationAbout, sub, type Vec3 } from '../math/rigid.ts';
import { combine, inertiaAbout, moved, type RigidMass } from './rigid-mass.ts';
import { sectionAxes, sectionSpread } from './section.ts';
import { developedLength, memberMass, type TubeSection, tubeMass } from './tube.ts';

/** Subdivision sums a handful of terms: the issue asks for 1e-12 of the largest entry. */
const EXACT = 1e-12;
const AL = 2700;

function expectSame(a: RigidMass, b: RigidMass, tolerance: number, inputs?: unknown): void {
  const scale = Math.max(...b.inertia.map(Math.abs));
  expectWithin(a.mass, b.mass, { relative: tolerance }, inputs);
  for (let k = 0; k < 3; k++) expectWithin(a.com[k]!, b.com[k]!, { absolute: tolerance }, inputs);
  for (let k = 0; k < 6; k++) expectWithin(a.inertia[k]!, b.inertia[k]!, { absolute: tolerance * scale }, inputs);
}

const point = fc.tuple(
  fc.double({ min: -1, max: 1, noNaN: true }),
  fc.double({ min: -1, max: 1, noNaN: true }),
  fc.double({ min: -1, max: 1, noNaN: true }),
);
const apart = (a: Vec3, b: Vec3): boolean => norm(sub(a, b)) > 1e-2;
const section: fc.Arbitrary<TubeSection> = fc
  .record({
    shape: fc.constantFrom('round' as const, 'oval' as const, 'rectangular' as const),
    height: fc.double({ min: 0.02, max: 0.08, noNaN: true }),
    width: fc.double({ min: 0.02, max: 0.08, noNaN: true }),
    wall: fc.double({ min: 0.0005, max: 0.01, noNaN: true }),
    endHeight: fc.double({ min: 0.02, max: 0.08, noNaN: true }),
    endWidth: fc.double({ min: 0.02, max: 0.08, noNaN: true }),
    endWall: fc.double({ min: 0.0005, max: 0.01, noNaN: true }),
  })
  .map((s) => (s.shape === 'round' ? { ...s, width: s.height, endWidth: s.endHeight } : s));

describe('tubes', () => {
  it('cut anywhere weigh and turn as one, whatever the section and taper', () => {
    fc.assert(
      fc.property(section, point, point, fc.double({ min: 0.05, max: 0.95, noNaN: true }), (s, a, b, f) => {
        fc.pre(apart(a, b));
        const mix = (p: number, q: number): number => p + f * (q - p);
        const cut: Vec3 = [mix(a[0], b[0]), mix(a[1], b[1]), mix(a[2], b[2])];
        const h = mix(s.height, s.endHeight!);
        const w = mix(s.width, s.endWidth!);
        const t = mix(s.wall, s.endWall!);
        const first = memberMass({ ...s, endHeight: h, endWidth: w, endWall: t }, [a, cut], 0, AL);
        const second = memberMass({ ...s, height: h, width: w, wall: t }, [cut, b], 0, AL);
        expectSame(combine([first, second]), memberMass(s, [a, b], 0, AL), EXACT, { s, a, b, f });
      }),
      { numRuns: 300, seed: 7 },
    );
  });
  it('read the same from both ends', () => {
    fc.assert(
      fc.property(section, point, point, (s, a, b) => {
        fc.pre(apart(a, b));
        const back: TubeSection = {
          shape: s.shape,
          height: s.endHeight!,
          width: s.endWidth!,
          wall: s.endWall!,
          endHeight: s.height,
          endWidth: s.width,
          endWall: s.wall,
        };
        expectSame(memberMass(back, [b, a], 0, AL), memberMass(s, [a, b], 0, AL), EXACT);
      }),
      { numRuns: 100, seed: 8 },
    );
  });
  it('match the hollow cylinder of the textbooks, axis and across', () => {
    const [R, r, l] = [0.025, 0.023, 0.4];
    const tube = tubeMass(2 * R, R - r, [0, 0, 0], [0, 0, l], AL);
    const m = AL * Math.PI * (R * R - r * r) * l;
    expectWithin(tube.mass, m, { relative: 1e-13 });
    expectWithin(tube.inertia[2], (m * (R * R + r * r)) / 2, { relative: 1e-12 });
    expectWithin(tube.inertia[0], (m * (3 * (R * R + r * r) + l * l)) / 12, { relative: 1e-12 });
  });
  it('match a cone frustum: mass and CoM of a solid taper', () => {
    // Solid: V = πl(R² + Rr + r²)/3, CoM from the big end l(R² + 2Rr + 3r²)/(4(R² + Rr + r²)).
    const [R, r, l] = [0.03, 0.01, 0.5];
    const s: TubeSection = {
      shape: 'round',
      height: 2 * R,
      width: 2 * R,
      wall: R,
      endHeight: 2 * r,
      endWidth: 2 * r,
      endWall: r,
    };
    const cone = memberMass(
      s,
      [
        [0, 0, 0],
        [l, 0, 0],
      ],
      0,
      1,
    );
    expectWithin(cone.mass, (Math.PI * l * (R * R + R * r + r * r)) / 3, { relative: 1e-13 });
    expectWithin(cone.com[0], (l * (R * R + 2 * R * r + 3 * r * r)) / (4 * (R * R + R * r + r * r)), {
      relative: 1e-13,
    });
  });
  it('bent into a full ring have the volume of the torus and the inertia of fibres that keep their volume', () => {
    // A square path with corners rounded by half its side is a circle; three of four corners are bends, so close it in halves.
    const [R, a] = [0.2, 0.01];
    const s: TubeSection = { shape: 'round', height: 2 * a, width: 2 * a, wall: a };
    const half = (k: number): RigidMass =>
      memberMass(
        s,
        [
          [0, -k * R, 0],
          [R, -k * R, 0],
          [R, k * R, 0],
          [0, k * R, 0],
        ],
        R,
        1,
      );
    const ring = combine([half(1), moved(half(1), [-1, 0, 0, 0, 0, -1, 0, 0, 0, 0, 1, 0])]);
    expectWithin(ring.mass, Math.PI * a * a * 2 * Math.PI * R, { relative: 1e-12 });
    // Fibres keep their volume in a cold bend: no shift outward, so m(R² + a²/4), not the cast torus' m(R² + 3a²/4).
    expectWithin(ring.inertia[2], ring.mass * (R * R + (a * a) / 4), { relative: 1e-12 });
    expectWithin(ring.com[0], 0, { absolute: 1e-15 });
  });
  it('with a bend radius of almost nothing come near the sharp corner', () => {
    const s: TubeSection = { shape: 'round', height: 0.03, width: 0.03, wall: 0.002 };
    const path: Vec3[] = [
      [0, 0, 0],
      [0.3, 0, 0],
      [0.3, 0.1, 0.2],
    ];
    // A radius of 1e-7 shortens the path by about 1e-7 of a metre.
    expectSame(memberMass(s, path, 1e-7, AL), memberMass(s, path, 0, AL), 2e-6);
  });
  it('turn with the bicycle: a rotated tube has the rotated inertia, if its section is round', () => {
    const t = new Float64Array(12);
    rotationAbout(0.1, 0.2, 0.3, 0.6, 0, 0.8, 1.1, t);
    const a: Vec3 = [0.1, 0.05, 0.3];
    const b: Vec3 = [0.6, -0.1, 0.5];
    const at = (p: Vec3): Vec3 => moved({ mass: 1, com: p, inertia: [0, 0, 0, 0, 0, 0] }, t).com;
    expectSame(tubeMass(0.05, 0.002, at(a), at(b), AL), moved(tubeMass(0.05, 0.002, a, b, AL), t), EXACT);
  });
  it('refuse what cannot be made', () => {
    expect(() => tubeMass(0.03, 0.016, [0, 0, 0], [1, 0, 0], AL)).toThrow(RangeError);
    expect(() => tubeMass(0.03, 0.002, [1, 0, 0], [1, 0, 0], AL)).toThrow(RangeError);
    expect(() => tubeMass(0.03, 0, [0, 0, 0], [1, 0, 0], AL)).toThrow(RangeError);
    const tight = memberMass(
      { shape: 'round', height: 0.02, width: 0.02, wall: 0.001 },
      [
        [0, 0, 0],
        [0.1, 0, 0],
        [0.1, 0.1, 0],
      ],
      0.2,
      AL,
    );
    expect(tight.mass).toBeNaN();
    expect(
      developedLength(
        [
          [0, 0, 0],
          [0.1, 0, 0],
          [0.1, 0.1, 0],
        ],
        0.2,
      ).tooShort,
    ).toBe(0);
  });
});

describe('sections', () => {
  it('of equal height and width: oval is round, and a solid bar is allowed', () => {
    const oval = sectionSpread('oval', 0.04, 0.04, 0.002);
    const round = sectionSpread('round', 0.04, 0.04, 0.002);
    expect(oval).toEqual(round);
    expectWithin(sectionSpread('rectangular', 0.02, 0.01, 0.005).area, 2e-4, { relative: 4 * EPS });
  });
  it('stand with their height up in the plane of the bicycle, whichever way the tube is drawn', () => {
    for (const along of [
      [1, 0, 0],
      [-1, 0, 0],
      [0.6, 0, 0.8],
    ] as Vec3[]) {
      const { width, height } = sectionAxes(along);
      expectWithin(Math.abs(width[1]), 1, { absolute: 1e-15 });
      expectWithin(height[0] * along[0] + height[2] * along[2], 0, { absolute: 1e-15 });
    }
    expectWithin(Math.abs(sectionAxes([0, 1, 0]).height[2]), 1, { absolute: 1e-15 });
  });
  it('taller than wide resist more upward: spread along height over width', () => {
    const s = sectionSpread('oval', 0.06, 0.035, 0.002);
    expect(s.alongHeight).toBeGreaterThan(s.alongWidth);
    // Seen on a beam along x: height spreads mass in z, which Ixx and Iyy see, so Iyy > Izz.
    const beam = memberMass(
      { shape: 'oval', height: 0.06, width: 0.035, wall: 0.002 },
      [
        [0, 0, 0],
        [0.5, 0, 0],
      ],
      0,
      AL,
    );
    expect(beam.inertia[1]).toBeGreaterThan(beam.inertia[2]);
  });
});

it("Steiner's theorem: moving the reference out and back changes nothing", () => {
  const t = tubeMass(0.05, 0.002, [0.2, 0.1, 0.4], [0.9, -0.1, 0.6], AL);
  const about = inertiaAbout(t, [0, 0, 0]);
  const m = t.mass;
  const [x, y, z] = t.com;
  expectWithin(about[0] - m * (y * y + z * z), t.inertia[0], { absolute: 1e-14 });
  expectWithin(about[4] + m * x * z, t.inertia[4], { absolute: 1e-14 });
});
