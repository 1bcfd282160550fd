import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../test/expect-within.ts';
import {
  DIMENSION,
  describeDimension,
  formatQuantity,
  inSI,
  nameDimension,
  parseUnit,
  sameDimension,
  unitSymbols,
} from './units.ts';

const ROUNDOFF = { relative: 8 * EPS };
/** `formatQuantity` keeps twelve digits. */
const TWELVE_DIGITS = { relative: 5e-12 };

describe('units', () => {
  it.each([
    ['mm', 1e-3, DIMENSION.length],
    ['in', 0.0254, DIMENSION.length],
    ['km/h', 1 / 3.6, DIMENSION.speed],
    ['kN.m/rad', 1000, DIMENSION.rotationalStiffness],
    ['N.m/deg', 180 / Math.PI, DIMENSION.rotationalStiffness],
    ['N/mm', 1000, DIMENSION.stiffness],
    ['kg.m2', 1, DIMENSION.inertia],
    ['MPa', 1e6, DIMENSION.pressure],
    ['N/mm2', 1e6, DIMENSION.pressure],
    ['g', 1e-3, DIMENSION.mass],
    ['%', 0.01, DIMENSION.number],
    ['J', 1, DIMENSION.torque],
    ['1/s', 1, [0, 0, -1, 0, 0]],
    ['mm4', 1e-12, [4, 0, 0, 0, 0]],
  ] as const)('%s is worth %d in SI', (text, factor, dimension) => {
    const unit = parseUnit(text);
    expect(unit?.dimension).toEqual(dimension);
    expectWithin(unit!.factor, factor, ROUNDOFF, text);
  });

  it.each([
    '',
    ' mm',
    'mmm',
    'N/m.s',
    'N//m',
    'N.',
    '.N',
    'kn',
    'mm5',
    'mm0',
    '__proto__',
    'constructor',
    'm'.repeat(1e5),
  ])('refuses %s', (text) => expect(parseUnit(text)).toBeUndefined());

  it('reads decimals of millimetres to the nearest double, not a neighbour', () => {
    const mm = parseUnit('mm')!;
    expect(inSI(415, mm)).toBe(0.415);
    expect(inSI(100.3, mm)).toBe(0.1003);
  });

  it('writes every value so that it reads back to twelve digits', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(...unitSymbols(), 'kN.m/rad', 'kg.m2'),
        fc.double({ noNaN: true, min: 1e-6, max: 1e6 }),
        (unit, value) => {
          const [number, word] = formatQuantity(value, unit).split(' ');
          expect(word).toBe(unit);
          expectWithin(inSI(Number(number), parseUnit(unit)!), value, TWELVE_DIGITS, unit);
        },
      ),
    );
    expect(formatQuantity(0.415, 'mm')).toBe('415 mm');
    expect(formatQuantity(-0, 'mm')).toBe('0 mm');
    expect(formatQuantity(0.5, '1')).toBe('0.5');
    expect(() => formatQuantity(Number.NaN, 'mm')).toThrow('NaN');
  });

  it('puts dimensions in words, and in symbols where there is no word', () => {
    expect(describeDimension(DIMENSION.length)).toBe('a length (mm, cm, m, in)');
    expect(describeDimension(DIMENSION.number)).toBe('a number without unit');
    expect(nameDimension([3, 1, -2, 0, 0])).toBe('a quantity in m3.kg/s2');
    for (const [name, d] of Object.entries(DIMENSION)) {
      // Every named dimension has a word, and the first unit offered for it has that dimension.
      const offered = /\(([^,)]+)/.exec(describeDimension(d))?.[1];
      if (name !== 'number') expect(sameDimension(parseUnit(offered!)!.dimension, d), name).toBe(true);
    }
  });
});
