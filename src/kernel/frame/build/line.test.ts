import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import { tube } from '../../../../test/fixtures/frame-parts.ts';
import { dot, norm, sub, unit, type Vec3 } from '../../math/rigid.ts';
import { directionAt, footOn, lineOf, pointAt, reachAt, sizeAt } from './line.ts';

const ROUNDOFF = { relative: 1e-12, absolute: 1e-9 };
const bent = (degrees: number, bendRadius: number) => {
  const a = (degrees * Math.PI) / 180;
  const corner: Vec3 = [300, 10, -20];
  return tube('bent', [[0, 10, -20], corner, [300 + 300 * Math.cos(a), 10, -20 + 300 * Math.sin(a)]], { bendRadius });
};

describe('a bend', () => {
  it('begins and ends a setback R tan(θ/2) from its corner, and its points lie on the arc', () => {
    const [R, degrees] = [80, 70];
    const { points } = lineOf(bent(degrees, R));
    const setback = R * Math.tan((degrees * Math.PI) / 360);
    expectWithin(points[1]![0], 300 - setback, ROUNDOFF);
    expectWithin(norm(sub(points.at(-2)!, [300, 10, -20])), setback, ROUNDOFF);
    const centre: Vec3 = [300 - setback, 10, -20 + R];
    for (const p of points.slice(1, -1)) expectWithin(norm(sub(p, centre)), R, ROUNDOFF, p);
  });
  it('is shorter than its arc, by no more than θ²/24 of chords of 15°', () => {
    fc.assert(
      fc.property(fc.integer({ min: 5, max: 120 }), fc.integer({ min: 40, max: 100 }), (degrees, R) => {
        const { points, along } = lineOf(bent(degrees, R));
        const arc = (R * degrees * Math.PI) / 180;
        const chords = along.at(-2)! - along[1]!;
        const missing = (arc - chords) / arc;
        expect(points.length - 3).toBe(Math.ceil(degrees / 15));
        expect(missing).toBeGreaterThan(0);
        expect(missing).toBeLessThan(((Math.PI / 12) * (Math.PI / 12)) / 24);
      }),
    );
  });
  it('that does not fit its legs is refused by the tube’s name', () => {
    expect(() => lineOf(bent(120, 250))).toThrow(/tube bent: leg 1 is too short/);
    expect(() =>
      lineOf(
        tube('point', [
          [1, 2, 3],
          [1, 2, 3],
        ]),
      ),
    ).toThrow(/tube point/);
  });
  it('of no radius is a corner', () => {
    expect(lineOf(bent(70, 0)).points).toHaveLength(3);
  });
});

describe('a place on a line', () => {
  const line = lineOf(bent(70, 80));
  it('found from its distance is found again from its point', () => {
    for (let s = 0; s <= line.length; s += line.length / 17) {
      const foot = footOn(line, pointAt(line, s));
      expectWithin(foot.s, s, ROUNDOFF, s);
      expectWithin(foot.distance, 0, ROUNDOFF, s);
    }
  });
  it('nearest to a point off the line is at a right angle, or an end', () => {
    const p: Vec3 = [150, 90, 5];
    const foot = footOn(line, p);
    expectWithin(dot(unit(sub(p, foot.point)), directionAt(line, foot.s)), 0, ROUNDOFF);
    expect(footOn(line, [-50, 10, -20]).s).toBe(0);
    expect(footOn(line, [900, 10, 900]).s).toBe(line.length);
  });
});

describe('a tube', () => {
  const straight: readonly Vec3[] = [
    [0, 0, 0],
    [200, 0, 0],
  ];
  const axes = { width: [0, 1, 0], height: [0, 0, 1] } as const;
  it('that tapers has a quarter of the change after a quarter of its length', () => {
    const ends = [
      { height: 40, width: 30, wall: 2 },
      { height: 20, width: 34, wall: 1 },
    ] as const;
    const t = tube('taper', straight, { shape: 'oval', ends });
    expect(sizeAt(t, lineOf(t), 50)).toEqual({ height: 35, width: 31, wall: 1.75 });
  });
  it('reaches to its surface: half its size on its axes, to the corner of a box, between them on an oval', () => {
    const end = { height: 60, width: 40, wall: 2 };
    const reach = (shape: 'round' | 'oval' | 'rectangular', towards: Vec3): number => {
      const t = tube('t', straight, { shape, ends: [end, end] });
      return reachAt(t, lineOf(t), 100, towards, axes);
    };
    for (const shape of ['oval', 'rectangular'] as const) {
      expectWithin(reach(shape, [0, 0, 5]), 30, ROUNDOFF, shape);
      expectWithin(reach(shape, [0, -3, 0]), 20, ROUNDOFF, shape);
    }
    // 3-4-5: towards the corner (20, 30) the box ends at √(20² + 30²)
    expectWithin(reach('rectangular', [0, 20, 30]), Math.sqrt(1300), ROUNDOFF);
    // (20 cos φ, 30 sin φ) at 45° between the axes of equal components: 1/√((1/20² + 1/30²)/2)
    expectWithin(reach('oval', [0, 1, 1]), Math.sqrt(2 / (1 / 400 + 1 / 900)), ROUNDOFF);
    expect(reach('round', [0, 1, 1])).toBe(30);
  });
});
