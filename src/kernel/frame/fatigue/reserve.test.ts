import { describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../../../test/expect-within.ts';
import { fatigueCurve, rangeAtCycles } from './curve.ts';
import { calibrationFromTest, fatigueReserve, rankReserves, reserveWords } from './reserve.ts';

const TIGHT = { relative: 64 * EPS };
const CURVE = fatigueCurve({ code: 'IIW', category: 22 });
const use = (name: string, range: number) => ({ name, curve: CURVE, range, cycles: 1e5 });

describe('reserve of a detail', () => {
  it('is 1 where the range is the one that the curve allows, and its damage is then 1', () => {
    const r = fatigueReserve(use('weld', rangeAtCycles(CURVE, 1e5)));
    expectWithin(r.reserve, 1, TIGHT);
    expectWithin(r.damage, 1, TIGHT);
  });
  it('halves when the range doubles', () => {
    expectWithin(fatigueReserve(use('a', 40)).reserve / fatigueReserve(use('a', 80)).reserve, 2, TIGHT);
  });
  it('gives no verdict without a calibration, in figures or in words', () => {
    for (const range of [0, 10, 1000]) {
      const r = fatigueReserve(use('weld', range));
      expect(r).not.toHaveProperty('passes');
      expect(reserveWords(r)).not.toMatch(/pass/);
    }
  });
  it('gives one with a calibration, and names the test', () => {
    const calibration = { factor: 1.4, test: 'pedalling test of frame 12' };
    const strong = fatigueReserve(use('weld', 80), calibration);
    expectWithin(strong.allowable, 1.4 * rangeAtCycles(CURVE, 1e5), TIGHT);
    expect(strong.passes).toBe(true);
    expect(reserveWords(strong)).toMatch(/passes, calibrated by pedalling test of frame 12/);
    const weak = fatigueReserve(use('weld', 90), calibration);
    expect(weak.passes).toBe(false);
    expect(reserveWords(weak)).toMatch(/does not pass/);
  });
  it('calibrated by a frame that cracked is exactly 1 for the same range and cycles', () => {
    const calibration = calibrationFromTest(CURVE, { range: 95, cycles: 1e5, cracked: true, test: 'frame 3' });
    expectWithin(fatigueReserve(use('weld', 95), calibration).reserve, 1, TIGHT);
  });
  it('says of a frame that did not crack that its factor is a lower bound', () => {
    const { test } = calibrationFromTest(CURVE, { range: 95, cycles: 1e5, cracked: false, test: 'frame 4' });
    expect(test).toBe('frame 4 (no crack: at least)');
  });
  it('refuses a factor of 0', () => {
    expect(() => fatigueReserve(use('weld', 1), { factor: 0, test: 'x' })).toThrow(/positive/);
  });
});

describe('rank', () => {
  it('puts the least reserve first, equal ones by name, unstressed ones last', () => {
    const all = [use('c', 0), use('b', 50), use('a', 50), use('d', 90)].map((u) => fatigueReserve(u));
    expect(rankReserves(all).map((r) => r.name)).toEqual(['d', 'a', 'b', 'c']);
  });
});
