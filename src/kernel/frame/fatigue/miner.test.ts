import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../../../test/expect-within.ts';
import { cyclesAtRange, fatigueCurve } from './curve.ts';
import { minerDamage, minerLife } from './miner.ts';
import { spectrumDamage } from './spectrum.ts';

const SUM = { relative: 64 * EPS };
const EC9 = fatigueCurve({ code: 'EN1999-1-3', category: 25 });
const IIW = fatigueCurve({ code: 'IIW', category: 63 });
const block = fc.record({
  range: fc.double({ min: 0, max: 300, noNaN: true }),
  cycles: fc.double({ min: 0, max: 1e7, noNaN: true }),
});

describe('Miner damage', () => {
  it('is linear in the cycles, additive over blocks and blind to their order', () => {
    fc.assert(
      fc.property(
        fc.array(block, { minLength: 1, maxLength: 8 }),
        fc.double({ min: 0.1, max: 10, noNaN: true }),
        (blocks, k) => {
          const { damage } = minerDamage(EC9, blocks);
          const more = minerDamage(
            EC9,
            blocks.map((b) => ({ ...b, cycles: k * b.cycles })),
          ).damage;
          expectWithin(more, k * damage, { ...SUM, absolute: 1e-300 });
          expectWithin(minerDamage(EC9, [...blocks].reverse()).damage, damage, { ...SUM, absolute: 1e-300 });
          expectWithin(minerDamage(EC9, [...blocks, ...blocks]).damage, 2 * damage, { ...SUM, absolute: 1e-300 });
        },
      ),
    );
  });

  it('of one life is 1', () => {
    expectWithin(minerDamage(EC9, [{ range: 40, cycles: cyclesAtRange(EC9, 40) }]).damage, 1, SUM);
  });

  it('counts nothing under the cut-off by the code, and carries the last slope on where asked and larger ranges came', () => {
    const small = { range: 8, cycles: 1e8 };
    const large = { range: 60, cycles: 1e4 };
    expect(EC9.cutOff).toBeGreaterThan(small.range);
    expect(minerDamage(EC9, [small, large]).lives[0]).toBe(Number.POSITIVE_INFINITY);
    expect(minerDamage(EC9, [small, large]).parts[0]).toBe(0);
    expect(minerDamage(EC9, [small], 'extended').damage).toBe(0);
    const { parts, lives } = minerDamage(EC9, [small, large], 'extended');
    // Second slope 3.4 + 2 from (1e8, cut-off) on: N = 1e8 (cut-off/range)^5.4.
    expectWithin(lives[0]!, 1e8 * Math.exp(5.4 * Math.log(EC9.cutOff / 8)), { relative: 256 * EPS });
    expectWithin(parts[0]!, 1e8 / lives[0]!, SUM);
  });

  it('extended is never less than by the code', () => {
    fc.assert(
      fc.property(fc.array(block, { minLength: 1, maxLength: 6 }), (blocks) => {
        expect(minerDamage(EC9, blocks, 'extended').damage).toBeGreaterThanOrEqual(minerDamage(EC9, blocks).damage);
      }),
    );
  });

  it('tells when every range is under the constant-amplitude limit, without using it', () => {
    const under = minerDamage(EC9, [{ range: 0.99 * EC9.limit, cycles: 1e6 }]);
    expect(under.allUnderLimit).toBe(true);
    expect(under.damage).toBeGreaterThan(0);
    expect(minerDamage(EC9, [{ range: 1.01 * EC9.limit, cycles: 1 }]).allUnderLimit).toBe(false);
  });

  it('of no cycles and of no range is 0, also where the life is infinite', () => {
    expect(
      minerDamage(EC9, [
        { range: 0, cycles: 1e9 },
        { range: 100, cycles: 0 },
      ]).damage,
    ).toBe(0);
  });

  it('refuses negative blocks by their place', () => {
    expect(() =>
      minerDamage(EC9, [
        { range: 1, cycles: 1 },
        { range: -1, cycles: 1 },
      ]),
    ).toThrow(expect.objectContaining({ path: 'blocks.1.range' }) as Error);
    expect(() => minerDamage(EC9, [{ range: 1, cycles: Number.NaN }])).toThrow(
      expect.objectContaining({ path: 'blocks.0.cycles' }) as Error,
    );
  });
});

describe('life under a mixture of levels', () => {
  it('lies between the shortest and the longest, and is theirs when they agree', () => {
    const { life } = minerLife([1e4, 1e6], [0.1, 0.9]);
    expect(life).toBeGreaterThan(1e4);
    expect(life).toBeLessThan(1e6);
    expectWithin(minerLife([5, 5, 5], [0.2, 0.3, 0.5]).life, 5, SUM);
  });
  it('refuses shares that do not sum to 1', () => {
    expect(() => minerLife([1, 2], [0.5, 0.6])).toThrow(/sum to 1/);
  });
});

describe('a user spectrum', () => {
  const spectrum = {
    unit: 'km',
    entries: [
      { case: 'pedalling', cyclesPerUnit: 400, range: 20 },
      { case: 'kerb', cyclesPerUnit: 0.2, range: 120 },
    ],
  } as const;

  it('fails where its damage reaches the critical sum: 0.5 by IIW, 1 by EN', () => {
    const found = spectrumDamage(IIW, spectrum, 20_000);
    expect(found.critical).toBe(0.5);
    expectWithin(spectrumDamage(IIW, spectrum, found.life).damage, 0.5, SUM);
    expect(spectrumDamage(EC9, spectrum, 1).critical).toBe(1);
  });
  it('splits its damage over the cases as hand calculation does', () => {
    const { parts, damage } = spectrumDamage(IIW, spectrum, 20_000);
    // 120 MPa lies above the knee: N = 2e6 (63/120)³.
    expectWithin(parts[1]!.damage, (0.2 * 20_000) / (2e6 * (63 / 120) * (63 / 120) * (63 / 120)), SUM);
    expectWithin(parts[0]!.share + parts[1]!.share, 1, SUM);
    expectWithin(parts[0]!.damage + parts[1]!.damage, damage, SUM);
  });
  it('without damage lives for ever, in shares of 0', () => {
    const idle = spectrumDamage(EC9, { unit: 'trip', entries: [{ case: 'folding', cyclesPerUnit: 2, range: 0 }] }, 100);
    expect(idle.life).toBe(Number.POSITIVE_INFINITY);
    expect(idle.parts[0]!.share).toBe(0);
  });
});
