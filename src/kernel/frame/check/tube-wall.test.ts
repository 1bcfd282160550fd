import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import type { TubeSize } from '../section/tube-section.ts';
import { roundOfEqualPerimeter, tubeWallFlex } from './tube-wall.ts';

const round = (d: number, wall = 2): TubeSize => ({ shape: 'round', height: d, width: d, wall });
const E = 70_000;
const SQUARE = Math.PI / 2;

describe('wall flexibility of welded tubes', () => {
  it('scales as the formula’s dimensions ask: length over stiffness, and the cube of it for bending', () => {
    const gen = fc.record({
      D: fc.double({ min: 25, max: 80, noNaN: true }),
      gamma: fc.double({ min: 8, max: 25, noNaN: true }),
      beta: fc.double({ min: 0.2, max: 0.95, noNaN: true }),
      angle: fc.double({ min: 0.4, max: Math.PI / 2, noNaN: true }),
      k: fc.double({ min: 0.5, max: 3, noNaN: true }),
    });
    fc.assert(
      fc.property(gen, ({ D, gamma, beta, angle, k }) => {
        const a = tubeWallFlex(round(D, D / 2 / gamma), round(beta * D), E, angle);
        const b = tubeWallFlex(round(k * D, (k * D) / 2 / gamma), round(k * beta * D), 2 * E, angle);
        expectWithin(b.axial, a.axial / (2 * k), { relative: 1e-12 });
        expectWithin(b.inPlane, a.inPlane / (2 * k ** 3), { relative: 1e-12 });
        expectWithin(b.outOfPlane, a.outOfPlane / (2 * k ** 3), { relative: 1e-12 });
        // Out of plane is softer than in plane, a wider brace and a flatter angle are stiffer
        expect(a.outOfPlane).toBeGreaterThan(0);
        const wider = tubeWallFlex(round(D, D / 2 / gamma), round(1.02 * beta * D), E, angle);
        expect(wider.axial).toBeLessThan(a.axial);
        expect(wider.inPlane).toBeLessThan(a.inPlane);
        const flatter = tubeWallFlex(round(D, D / 2 / gamma), round(beta * D), E, 0.9 * angle);
        expect(flatter.axial).toBeLessThan(a.axial);
      }),
    );
  });

  it('takes an obtuse angle as its supplement', () => {
    const sharp = tubeWallFlex(round(40), round(28), E, 1.1);
    const blunt = tubeWallFlex(round(40), round(28), E, Math.PI - 1.1);
    expectWithin(blunt.axial, sharp.axial, { relative: 1e-12 });
  });

  it('says why it is out of range, one reason each, and shares one empty list inside', () => {
    expect(tubeWallFlex(round(60, 2.5), round(40), E, SQUARE).outside).toEqual([]);
    // The edges belong to the range
    expect(tubeWallFlex(round(40, 2), round(36), E, Math.PI / 6).outside).toEqual([]);
    const why = (chord: TubeSize, brace: TubeSize, angle = SQUARE) => tubeWallFlex(chord, brace, E, angle).outside;
    expect(why(round(60, 4), round(40))).toEqual([expect.stringContaining('thick wall')]);
    expect(why(round(60, 1), round(40))).toEqual([expect.stringContaining('thin wall')]);
    expect(why(round(60, 2), round(15))).toEqual([expect.stringContaining('below 0.3')]);
    expect(why(round(60, 2), round(58))).toEqual([expect.stringContaining('above 0.9')]);
    expect(why(round(60, 2), round(40), 0.4)).toEqual([expect.stringContaining('30°')]);
    const oval: TubeSize = { shape: 'oval', height: 50, width: 34, wall: 2 };
    expect(why(oval, round(28))).toEqual([expect.stringContaining('not round')]);
  });

  it('is rigid along a brace as wide as the chord, and stays finite beyond', () => {
    for (const d of [40, 45]) {
      const f = tubeWallFlex(round(40), round(d), E, SQUARE);
      expect(f.axial).toBe(0);
      expect(f.inPlane).toBeGreaterThan(0);
    }
  });

  it('replaces other shapes by the round tube of the same perimeter', () => {
    expect(roundOfEqualPerimeter(round(31.8))).toBe(31.8);
    expectWithin(roundOfEqualPerimeter({ shape: 'oval', height: 40, width: 40, wall: 2 }), 40, { relative: 1e-15 });
    expectWithin(roundOfEqualPerimeter({ shape: 'rectangular', height: 30, width: 20, wall: 2 }), 100 / Math.PI, {
      relative: 1e-15,
    });
    let perimeter = 0;
    const n = 4000;
    for (let k = 0; k < n; k++) {
      const phi = (2 * Math.PI * (k + 0.5)) / n;
      perimeter += (Math.sqrt((30 * Math.sin(phi)) ** 2 + (10 * Math.cos(phi)) ** 2) * 2 * Math.PI) / n;
    }
    expectWithin(roundOfEqualPerimeter({ shape: 'oval', height: 60, width: 20, wall: 2 }), perimeter / Math.PI, {
      relative: 1e-4,
    });
  });
});
