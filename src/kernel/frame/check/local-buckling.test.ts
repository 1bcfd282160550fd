import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import type { TubeSize } from '../section/tube-section.ts';
import { dentForceEllinasWalker, dentForceWierzbickiSuh } from './dent.ts';
import { aluminiumTubeClass, localBuckling, localBucklingUse, steelTubeClass } from './local-buckling.ts';
import { CheckRefusal } from './refusal.ts';

const round = (d: number, wall: number): TubeSize => ({ shape: 'round', height: d, width: d, wall });
const STEEL = { E: 205_000, nu: 0.3, yield: 520 };

describe('local buckling', () => {
  it('keeps order: bending above axial, imperfect below perfect, never above yield', () => {
    for (const wall of [0.3, 0.5, 0.8, 1.5, 4]) {
      const b = localBuckling(round(38.1, wall), STEEL);
      expect(b.axialElastic).toBeLessThan(b.bendingElastic);
      expect(b.bendingElastic).toBeLessThan(b.classical);
      expect(b.axialStrength).toBeLessThan(b.bendingStrength + 1e-9);
      expect(b.bendingStrength).toBeLessThanOrEqual(STEEL.yield);
      expect(b.axialStrength).toBeLessThanOrEqual(b.axialElastic);
    }
  });

  it('is elastic for a very thin wall and yield for a stout one, without a step between', () => {
    const thin = localBuckling(round(100, 0.05), { ...STEEL, yield: 900 });
    expectWithin(thin.axialStrength, thin.axialElastic, { relative: 1e-9 });
    expectWithin(localBuckling(round(30, 6), { ...STEEL, yield: 235 }).axialStrength, 235, { relative: 1e-9 });
    let before = 0;
    for (let wall = 0.03; wall < 3; wall *= 1.02) {
      const { axialStrength } = localBuckling(round(60, wall), STEEL);
      expect(axialStrength).toBeGreaterThanOrEqual(before);
      if (before > 0) expect(axialStrength / before).toBeLessThan(1.06);
      before = axialStrength;
    }
  });

  it('of an oval as wide as high is the round tube’s; a flatter oval is weaker', () => {
    const r = localBuckling(round(40, 1), STEEL);
    const o = localBuckling({ shape: 'oval', height: 40, width: 40, wall: 1 }, STEEL);
    expectWithin(o.axialStrength, r.axialStrength, { relative: 1e-12 });
    const flat = localBuckling({ shape: 'oval', height: 50, width: 30, wall: 1 }, STEEL);
    expect(flat.axialStrength).toBeLessThan(o.axialStrength);
    expect(flat.outside).toHaveLength(1);
    expect(flat.brazierMoment).toBeNaN();
  });

  it('of flat walls follows the plate formula and its reduction', () => {
    const box: TubeSize = { shape: 'rectangular', height: 62, width: 30, wall: 1 };
    const b = localBuckling(box, { E: 210_000, nu: 0.3, yield: 355 });
    expectWithin(b.classical, 189_800 * (4 / 3600), { relative: 1e-3 }); // 189 800 (t/b)² k, as EN 1993-1-5 rounds it
    const lambda = Math.sqrt(355 / b.classical);
    expectWithin(b.axialStrength / 355, (lambda - 0.22) / lambda ** 2, { relative: 1e-12 });
    expect(localBuckling({ ...box, wall: 3 }, STEEL).axialStrength).toBe(STEEL.yield);
  });

  it('adds compression and bending, and lets a pull relieve', () => {
    const b = localBuckling(round(44.5, 0.6), STEEL);
    expectWithin(localBucklingUse(b, -b.axialStrength / 2, b.bendingStrength / 2), 1, { relative: 1e-12 });
    expectWithin(localBucklingUse(b, 50, 150), 100 / b.bendingStrength, { relative: 1e-12 });
    expect(localBucklingUse(b, 200, 150)).toBe(0);
  });

  it('sorts tubes into the codes’ classes at their limits', () => {
    expect([50, 50.1, 70.1, 90.1].map((q) => steelTubeClass(round(q, 1), 235))).toEqual([1, 2, 3, 4]);
    expect(steelTubeClass(round(50, 1), 470)).toBe(4);
    expect(steelTubeClass({ shape: 'rectangular', height: 35, width: 20, wall: 1 }, 235)).toBe(1);
    const t6 = { heatTreated: true, welded: false };
    expect(aluminiumTubeClass(round(13, 1), 250, t6)).toEqual({ beta: 3 * Math.sqrt(13), class: 1 });
    expect(aluminiumTubeClass(round(30, 1), 250, t6).class).toBe(3);
    expect(aluminiumTubeClass(round(30, 1), 250, { ...t6, welded: true }).class).toBe(3);
    expect(aluminiumTubeClass(round(60, 1), 250, t6).class).toBe(4);
  });

  it('names the field that cannot be', () => {
    expect(() => localBuckling(round(40, 0), STEEL)).toThrow(CheckRefusal);
    expect(() => localBuckling(round(40, 1), { ...STEEL, yield: Number.NaN })).toThrow('yield must be positive');
  });
});

describe('dents', () => {
  const d = { diameter: 40, wall: 0.6, yield: 500, depth: 1 };
  it('grow with the root of depth and fall where the tube is compressed', () => {
    for (const force of [dentForceEllinasWalker, dentForceWierzbickiSuh])
      expectWithin(force({ ...d, depth: 4 }), 2 * force(d), { relative: 1e-12 });
    expect(dentForceWierzbickiSuh(d, -0.3)).toBeLessThan(dentForceWierzbickiSuh(d, 0));
    expect(dentForceWierzbickiSuh(d, 0)).toBeLessThan(dentForceWierzbickiSuh(d, 0.5));
    expect(dentForceWierzbickiSuh(d, -0.7)).toBe(0);
    expect(() => dentForceWierzbickiSuh(d, -1.1)).toThrow(CheckRefusal);
  });
});
