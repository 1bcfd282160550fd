import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import {
  BASIC_FORCES,
  FORCE_KINDS,
  forceBand,
  forceCap,
  RARE_HOLD,
  RARE_USE,
  shareAble,
  strengthModel,
} from './strength.ts';

/** The percentiles are met by bisection to 60 binary digits of an interval of order 1. */
const SOLVED = { absolute: 1e-12 };

describe('strength of users', () => {
  it('has the printed percentiles of every kind of force in an even mix of women and men', () => {
    for (const kind of FORCE_KINDS) {
      const { workers, anybody } = BASIC_FORCES[kind];
      expectWithin(shareAble(kind, workers, RARE_HOLD), 0.85, SOLVED, kind);
      expectWithin(shareAble(kind, anybody, RARE_HOLD), 0.99, SOLVED, kind);
    }
  });
  it('lets fewer women than men, fewer at a higher force, fewer with a reserve', () => {
    const f = 250;
    expect(shareAble('grip', f, RARE_HOLD, 1)).toBeLessThan(shareAble('grip', f, RARE_HOLD, 0));
    expect(shareAble('grip', f + 1, RARE_HOLD)).toBeLessThan(shareAble('grip', f, RARE_HOLD));
    expect(shareAble('grip', f, RARE_HOLD, 0.5, 0.5)).toBeLessThan(shareAble('grip', f, RARE_HOLD));
    expect(shareAble('grip', 0)).toBe(1);
  });
  it('asks more strength of a force that moves than of one that is held', () => {
    expect(forceCap('grip', 'anybody', RARE_USE)).toBe(0.8 * forceCap('grip', 'anybody', RARE_HOLD));
    expectWithin(shareAble('grip', 0.8 * 184, RARE_USE), 0.99, SOLVED);
  });
  it('puts the limits of the bands into the better band', () => {
    expect([0.5, 0.5001, 0.7, 0.7001].map(forceBand)).toEqual(['recommended', 'conditional', 'conditional', 'avoid']);
  });
  it('keeps the ratio of women to men that it was given', () => {
    const m = strengthModel('grip');
    expectWithin(m.female / m.male, 329 / 541, { relative: 1e-12 });
  });
  it('refuses work that the tables do not cover', () => {
    expect(() => forceCap('grip', 'anybody', { ...RARE_USE, perMinute: 21 })).toThrow(RangeError);
    expect(() => forceCap('grip', 'anybody', { ...RARE_USE, hours: 9 })).toThrow(RangeError);
  });
  it('of a force that nobody knows is unknown, not everybody', () => {
    expect(shareAble('grip', Number.NaN)).toBeNaN();
    expect(shareAble('grip', 0)).toBe(1);
  });
});
