import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../../../test/expect-within.ts';
import { hotSpotRange, hotSpotStress, type TeeJoint, teeHotSpotFactors } from './hot-spot.ts';

const TIGHT = { relative: 64 * EPS };
/** β 2/3, γ 15, τ 1, square on. */
const TEE: TeeJoint = { chordOd: 60, chordWall: 2, braceOd: 40, braceWall: 2, angle: Math.PI / 2 };

describe('hot-spot factors of a T joint', () => {
  it('at a right angle and equal walls are what a hand calculation gives', () => {
    const { chord, outside } = teeHotSpotFactors(TEE);
    const b = 2 / 3;
    expectWithin(chord.axialSaddle, 15 * (1.11 - 3 * (b - 0.52) * (b - 0.52)), TIGHT); // 15.682
    expectWithin(chord.outOfPlaneSaddle, 15 * b * (1.7 - 1.05 * b * b * b), TIGHT); // 13.889
    expectWithin(chord.inPlaneCrown, 1.45 * b * Math.exp((1 - 0.68 * b) * Math.log(15)), TIGHT);
    expectWithin(chord.axialSaddle, 15.682, { absolute: 5e-4 });
    expectWithin(chord.outOfPlaneSaddle, 13.889, { absolute: 5e-4 });
    expect(outside).toEqual([]);
  });
  it('fall as the tube that goes through gets thicker, on its side of the weld', () => {
    const thin = teeHotSpotFactors(TEE).chord;
    const thick = teeHotSpotFactors({ ...TEE, chordWall: 3 }).chord;
    for (const key of ['axialCrown', 'axialSaddle', 'inPlaneCrown', 'outOfPlaneSaddle'] as const)
      expect(thick[key], key).toBeLessThan(thin[key]);
  });
  it('stay at or above the floor of 1.5 within their range', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 0.2, max: 1, noNaN: true }),
        fc.double({ min: 8, max: 32, noNaN: true }),
        fc.double({ min: 0.2, max: 1, noNaN: true }),
        fc.double({ min: 20, max: 90, noNaN: true }),
        (beta, gamma, tau, degrees) => {
          const chordWall = 50 / (2 * gamma);
          const joint = {
            chordOd: 50,
            chordWall,
            braceOd: 50 * beta,
            braceWall: tau * chordWall,
            angle: (degrees * Math.PI) / 180,
          };
          fc.pre(joint.braceWall < joint.braceOd / 2);
          const f = teeHotSpotFactors(joint);
          expect(f.outside).toEqual([]);
          for (const v of [...Object.values(f.chord), ...Object.values(f.brace)])
            expect(v >= 1.5 && v < 100).toBe(true);
        },
      ),
    );
  });
  it('name what lies outside the range of the formulas', () => {
    const f = teeHotSpotFactors({ chordOd: 80, chordWall: 1, braceOd: 12, braceWall: 2, angle: 0.2 });
    expect(f.outside.join('; ')).toMatch(
      /diameter ratio 0.15.*wall ratio 2.00.*radius over wall 40.00.*angle in degrees 11/,
    );
  });
  it('refuse tubes that do not exist', () => {
    expect(() => teeHotSpotFactors({ ...TEE, chordWall: 0 })).toThrow(/wall/);
    expect(() => teeHotSpotFactors({ ...TEE, angle: 2 })).toThrow(/angle/);
  });
});

describe('hot-spot stress round the weld', () => {
  const factors = teeHotSpotFactors(TEE);
  it('takes crown factors at the crowns and saddle factors at the saddles', () => {
    const f = factors.chord;
    const n = { axial: 10, inPlane: 5, outOfPlane: 3 };
    expectWithin(hotSpotStress(f, n, 0), 10 * f.axialCrown + 5 * f.inPlaneCrown, TIGHT);
    expectWithin(hotSpotStress(f, n, 2), 10 * f.axialSaddle + 3 * f.outOfPlaneSaddle, TIGHT);
    expectWithin(hotSpotStress(f, n, 4), 10 * f.axialCrown - 5 * f.inPlaneCrown, TIGHT);
    // Half-way, the combination of DNV-RP-C203: means of the axial factors, half the root of two of the bending ones.
    const half = (f.axialCrown + f.axialSaddle) / 2;
    const bend = (f.inPlaneCrown * 5 + f.outOfPlaneSaddle * 3) / Math.SQRT2;
    expectWithin(hotSpotStress(f, n, 1), 10 * half + bend, TIGHT);
  });
  it('ranges over the states of a cycle: reversed bending doubles, a constant load has no range', () => {
    const side = { axial: 0, inPlane: 0, outOfPlane: 8 };
    const other = { ...side, outOfPlane: -8 };
    const rest = { axial: 0, inPlane: 0, outOfPlane: 0 };
    const pulsating = hotSpotRange(factors, [rest, side]).range;
    expectWithin(hotSpotRange(factors, [side, other]).range, 2 * pulsating, TIGHT);
    expect(hotSpotRange(factors, [side, side]).range).toBe(0);
    expect(hotSpotRange(factors, [rest, side]).at % 180).toBe(90);
  });
  it('is found on the side and at the point that gives it', () => {
    const state = { axial: 10, inPlane: 5, outOfPlane: 3 };
    const { range, side, at } = hotSpotRange(factors, [{ axial: 0, inPlane: 0, outOfPlane: 0 }, state]);
    expectWithin(Math.abs(hotSpotStress(factors[side], state, at / 45)), range, TIGHT);
    for (const s of ['chord', 'brace'] as const)
      for (let k = 0; k < 8; k++)
        expect(Math.abs(hotSpotStress(factors[s], state, k))).toBeLessThanOrEqual(range * (1 + EPS));
  });
});
