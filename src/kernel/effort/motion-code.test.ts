import { describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../../test/expect-within.ts';
import { alongTable, MOTION_CODES, motion, weightAllowance } from './motion-code.ts';
import { DISTANCES, MOVE, MOVE_WEIGHTS, REACH, TURN } from './motion-times.ts';

/** A sum of a few one-decimal numbers. */
const ROUNDOFF = { absolute: 64 * EPS };

describe('the table of motion times', () => {
  it('has a time for every distance, rising with it', () => {
    for (const row of [...Object.values(REACH), ...Object.values(MOVE)]) {
      expect(row.tmu.length).toBe(DISTANCES.length);
      for (let i = 1; i < row.tmu.length; i++) expect(row.tmu[i]!).toBeGreaterThan(row.tmu[i - 1]!);
    }
    for (const row of Object.values(TURN)) expect(row.length).toBe(11);
  });
  it('goes on beyond its end at about the slope that it has there', () => {
    for (const row of [...Object.values(REACH), ...Object.values(MOVE)]) {
      const slope = (row.tmu[20]! - row.tmu[19]!) / 2;
      // printed to one decimal over 2 in: the slope is known to 0.05
      expectWithin(row.beyond, slope, { absolute: 0.05 + 1e-9 });
    }
  });
  it('has weight allowances that follow a straight line of 1 lb more a hand, as the rule behind them', () => {
    // factor 1 + 0.011·(pounds − 2.3) and constant 0.475 + 0.345·pounds within the table's rounding: a transcription slip shows
    for (const [pounds, factor, constant] of MOVE_WEIGHTS.slice(1)) {
      expectWithin(factor, 1 + 0.011 * (pounds - 2.3), { absolute: 0.008 }, pounds);
      expectWithin(constant, -0.35 + 0.345 * pounds, { absolute: 0.12 }, pounds);
    }
  });
});

describe('a motion code', () => {
  it('gives the printed times of its row', () => {
    expect(motion('R16C').tmu).toBe(17);
    expect(motion('R14B').tmu).toBe(14.4);
    expect(motion('M9A').tmu).toBe(10.5);
    expect(motion('T90S').tmu).toBe(5.4);
    expect(motion('T180L').tmu).toBe(28.2);
    expect(motion('G4A').tmu).toBe(7.3);
    expect(motion('P1NSE').tmu).toBe(10.4);
    expect(motion('Rf').tmu).toBe(2);
    expect(motion('LM').tmu).toBe(7.1);
    expect(motion('KBK').tmu).toBe(69.4);
    expect(motion('W4P').tmu).toBe(60);
  });
  it('lies straight between two rows and goes on beyond 30 in', () => {
    expectWithin(motion('R13B').tmu, (12.9 + 14.4) / 2, ROUNDOFF);
    expectWithin(motion('R40A').tmu, 17.5 + 10 * 0.4, ROUNDOFF);
    expectWithin(motion('M36C').tmu, 30.7 + 6 * 0.85, ROUNDOFF);
    expectWithin(motion('T100M').tmu, 8.5 + (10 / 15) * 1.1, ROUNDOFF);
    expect(alongTable(REACH.A, 0.2)).toBe(2);
  });
  it('adds the allowance of a weight, halved between two hands', () => {
    expectWithin(motion('M10B5').tmu, 2.2 + 1.06 * 12.2, ROUNDOFF);
    expectWithin(motion('M10B', { pounds: 5 }).tmu, motion('M10B5').tmu, ROUNDOFF);
    expectWithin(motion('M30B', { pounds: 13 }).tmu, 5.6 + 1.17 * 24.3, ROUNDOFF);
    expectWithin(motion('M30B', { pounds: 24, hands: 2 }).tmu, 3.9 + 1.11 * 24.3, ROUNDOFF);
    expect(weightAllowance(2.5)).toEqual({ factor: 1, constant: 0 });
  });
  it('limits the travel of the eye', () => {
    expectWithin(motion('ET10/20').tmu, 7.6, ROUNDOFF);
    expect(motion('ET40/20').tmu).toBe(20);
  });
  it('is known in every form that is offered for comparison', () => {
    for (const code of MOTION_CODES) expect(motion(code).tmu, code).toBeGreaterThanOrEqual(0);
  });
  it.each(['G9', 'R16', 'M10', 'M10D', 'T20S', 'T200S', 'W4', 'ET10/0', '', 'r16c', 'R-3B', 'M10B60'])(
    'refuses %s',
    (code) => {
      expect(() => motion(code)).toThrow(RangeError);
    },
  );
  it('refuses a weight where nothing is moved, and two different ones', () => {
    expect(() => motion('R16C', { pounds: 3 })).toThrow(/takes no weight/);
    expect(() => motion('M10B5', { pounds: 3 })).toThrow(/5 lb/);
  });
});
