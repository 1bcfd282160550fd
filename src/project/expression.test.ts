import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../test/expect-within.ts';
import {
  compileExpression,
  evaluateConstant,
  orderByDependency,
  parseExpression,
  references,
  type Scope,
} from './expression.ts';
import { DIMENSION, type Dimension, describeDimension } from './units.ts';

const ROUNDOFF = { absolute: 1e-15, relative: 8 * EPS };
const value = new Float64Array([1.01, 0.52, 0.3, 2.5]);
const known: Record<string, { slot: number; dimension: Dimension }> = {
  wheelbase: { slot: 0, dimension: DIMENSION.length },
  beam_height: { slot: 1, dimension: DIMENSION.length },
  'crank.z': { slot: 2, dimension: DIMENSION.length },
  mass_total: { slot: 3, dimension: DIMENSION.mass },
};
const scope: Scope = {
  lookup: (name) => (Object.hasOwn(known, name) ? known[name] : undefined),
  names: () => Object.keys(known),
};
const problemsOf = (text: string, wanted?: Dimension) => {
  const { node, problems } = parseExpression(text);
  return node ? compileExpression(node, scope, wanted).problems : problems;
};
const at = (text: string, p: { offset: number; length: number }) => text.slice(p.offset, p.offset + p.length);

describe('values', () => {
  it.each([
    ['415 mm', 0.415, DIMENSION.length],
    ['0', 0, DIMENSION.number],
    ['1e-3', 1e-3, DIMENSION.number],
    ['.5 m', 0.5, DIMENSION.length],
    ['5 %', 0.05, DIMENSION.number],
    ['35 kN.m/rad', 35e3, DIMENSION.rotationalStiffness],
    ['10 mm / 2', 0.005, DIMENSION.length],
    ['10 mm/s', 0.01, DIMENSION.speed],
    ['10 mm/beam_height', 0.01 / 0.52, DIMENSION.number],
    ['beam_height - crank.z', 0.22, DIMENSION.length],
    ['2 * wheelbase / 3', (2 * 1.01) / 3, DIMENSION.length],
    ['-(wheelbase - 1 m)', -0.01, DIMENSION.length],
    ['2 - 3 - 4', -5, DIMENSION.number],
    ['2 + 3 * 4', 14, DIMENSION.number],
    ['12 / 3 / 2', 2, DIMENSION.number],
    ['-2 * -3', 6, DIMENSION.number],
    ['wheelbase * wheelbase', 1.0201, DIMENSION.area],
    ['0 + wheelbase', 1.01, DIMENSION.length],
    ['sin(30 deg)', 0.5, DIMENSION.number],
    ['sin(pi * 1 rad / 6)', 0.5, DIMENSION.number],
    ['cos(0)', 1, DIMENSION.number],
    ['acos(0.5)', Math.PI / 3, DIMENSION.angle],
    ['atan2(3 mm, 3 mm)', Math.PI / 4, DIMENSION.angle],
    ['sqrt(wheelbase * wheelbase)', 1.01, DIMENSION.length],
    ['hypot(3 mm, 4 mm, 12 mm)', 0.013, DIMENSION.length],
    ['abs(crank.z - 1 m)', 0.7, DIMENSION.length],
    ['max(0, 20 mm, crank.z)', 0.3, DIMENSION.length],
    ['min(wheelbase, beam_height)', 0.52, DIMENSION.length],
    ['mass_total * 9.81 m/s2', 24.525, DIMENSION.force],
  ] as const)('%s', (text, expected, dimension) => {
    const { node } = parseExpression(text);
    const { compiled, problems } = compileExpression(node!, scope);
    expect(problems).toEqual([]);
    expect(describeDimension(compiled!.dimension)).toBe(describeDimension(dimension));
    expectWithin(compiled!.evaluate(value), expected, ROUNDOFF, text);
  });

  it('a bare 0 takes the dimension that is wanted, any other bare number does not', () => {
    expect(evaluateConstant('0', DIMENSION.length)).toEqual({ value: 0, dimension: DIMENSION.length, problems: [] });
    expect(evaluateConstant(0, DIMENSION.angle).value).toBe(0);
    const [problem] = evaluateConstant(415, DIMENSION.length).problems;
    expect(problem).toMatchObject({ code: 'expression.unit', hint: 'write the unit: 415 mm' });
  });

  it('follows the values that it is given, without being compiled again', () => {
    const { compiled } = compileExpression(parseExpression('wheelbase - beam_height').node!, scope);
    expectWithin(compiled!.evaluate(Float64Array.of(3, 1, 0, 0)), 2, ROUNDOFF);
    expectWithin(compiled!.evaluate(Float64Array.of(5, 1, 0, 0)), 4, ROUNDOFF);
  });

  it('lists the names that it reads once, in the order of the text', () => {
    const { node } = parseExpression('max(crank.z, wheelbase - 2 * crank.z, -pi * beam_height)');
    expect(references(node!)).toEqual(['crank.z', 'wheelbase', 'beam_height']);
  });

  it('agrees with ordinary arithmetic on random sums and products', () => {
    const leaf = fc.integer({ min: 1, max: 999 }).map((n) => ({ text: `${n}`, js: n }));
    const { tree } = fc.letrec<{ tree: { text: string; js: number } }>((tie) => ({
      tree: fc.oneof(
        { maxDepth: 5, depthIdentifier: 'e' },
        leaf,
        fc.tuple(tie('tree'), fc.constantFrom('+', '-', '*', '/'), tie('tree')).map(([a, operator, b]) => ({
          text: `(${a.text} ${operator} ${b.text})`,
          js:
            operator === '+'
              ? a.js + b.js
              : operator === '-'
                ? a.js - b.js
                : operator === '*'
                  ? a.js * b.js
                  : a.js / b.js,
        })),
        tie('tree').map((a) => ({ text: `-(${a.text})`, js: -a.js })),
      ),
    }));
    fc.assert(
      fc.property(tree, ({ text, js }) => {
        const result = evaluateConstant(text);
        if (Number.isFinite(js)) expect(result.value).toBe(js);
        else expect(result.problems[0]?.code).toBe('expression.not_finite');
      }),
    );
  });
});

describe('problems', () => {
  it.each([
    ['3 mm + 2 kg', 'expression.unit', '2 kg', 'a mass cannot be added to a length'],
    ['wheelbase - mass_total', 'expression.unit', 'mass_total', 'a mass cannot be taken from a length'],
    ['sin(0.5)', 'expression.unit', '0.5', 'sin needs an angle'],
    ['asin(30 deg)', 'expression.unit', '30 deg', 'asin needs a number without unit'],
    ['sqrt(wheelbase)', 'expression.unit', 'wheelbase', 'a length has no square root with a unit'],
    ['max(1 mm, 3)', 'expression.unit', '3', 'max takes values of one kind, and a number without unit is not a length'],
    ['wheelbas + 1 mm', 'expression.name', 'wheelbas', '"wheelbas" is not known here'],
    ['sine(1 deg)', 'expression.name', 'sine', '"sine" is not a function'],
    ['5 kn', 'expression.unit', 'kn', '"kn" is not a unit'],
    ['atan2(1)', 'expression.syntax', 'atan2', 'atan2 takes 2 values, not 1'],
    ['2 (3)', 'expression.syntax', '2', 'an operator is missing before the parenthesis'],
    ['2 3', 'expression.syntax', '3', 'an operator is missing before this'],
    ['1020,5 mm', 'expression.syntax', '1020,5 mm', 'a comma stands in a number'],
    ['Infinity mm', 'expression.syntax', 'Infinity', 'Infinity is not a number to compute with'],
    ['NaN', 'expression.syntax', 'NaN', 'NaN is not a number to compute with'],
    ['(2', 'expression.syntax', '', 'a closing parenthesis is missing'],
    ['2)', 'expression.syntax', ')', 'this parenthesis was never opened'],
    ['2 +', 'expression.syntax', '', 'a number, a name or a parenthesis is missing here'],
    ['2 ** 3', 'expression.syntax', '**', '** is not an operator here'],
    ['2^3', 'expression.syntax', '^', '"^" has no meaning in an expression'],
    ['1e999', 'expression.not_finite', '1e999', '1e999 is too large to compute with'],
    ['.nan', 'expression.syntax', '.nan', '.nan is not a number to compute with'],
    ['', 'expression.syntax', '', 'an expression is missing here'],
  ])('%s', (text, code, under, message) => {
    const [problem, ...more] = problemsOf(text);
    expect(more).toEqual([]);
    expect({ ...problem, under: at(text, problem!) }).toMatchObject({ code, message, under });
  });

  it('finds all of them in one pass, and each only once', () => {
    const found = problemsOf('wheelbas + sin(3) * (2 kg - 1 mm)');
    expect(found.map((p) => p.code)).toEqual(['expression.name', 'expression.unit', 'expression.unit']);
  });

  it('offers the nearest name and says what was wanted', () => {
    expect(problemsOf('wheelbas')[0]?.hint).toBe('did you mean wheelbase?');
    expect(problemsOf('mass_total', DIMENSION.length)[0]).toMatchObject({
      expected: 'a length (mm, cm, m, in)',
      found: 'mass_total, a mass',
    });
    expect(evaluateConstant('1/0').problems[0]).toMatchObject({ code: 'expression.not_finite', found: 'Infinity' });
    expect(evaluateConstant(Number.NaN).problems[0]?.code).toBe('expression.not_finite');
  });
});

describe('hostile text', () => {
  it.each([
    '__proto__',
    'constructor',
    'constructor.constructor',
    'toString()',
    'this',
    'wheelbase.__proto__',
    'a[0]',
    'a["b"]',
    '`x`',
    '() => 1',
    'x = 1',
    'new a',
    'a ? b : c',
    '1; 2',
    '1, 2',
    '(1, 2)',
    '"1"',
    "'1'",
    '1 || 2',
    '!1',
    '~1',
    'import(x)',
    'a?.b',
    '...a',
    '{}',
    '[]',
    '/a/',
    '.inf',
    '.nan',
    '0x10',
    'NaN',
    'Infinity',
    '\u0000',
    '💥',
    'max(,)',
    'max(1,)',
    'max',
    '1 2 3',
    '()',
    '()()',
    ')(',
    '- ',
    '*',
    'ｗheelbase',
  ])('refuses %s', (text) => {
    expect(problemsOf(text).length).toBeGreaterThan(0);
  });

  it.each([
    ['100 000 parentheses', '('.repeat(1e5)],
    ['50 parentheses', `${'('.repeat(50)}1${')'.repeat(50)}`],
    ['1000 minus signs', `${'- '.repeat(990)}1`],
    ['a sum of 100 000 terms', Array(1e5).fill('1').join('+')],
    ['a sum of 900 terms', Array(900).fill('1').join('+')],
    ['a number of 100 000 digits', '9'.repeat(1e5)],
    ['a unit of 1000 factors', `1 ${Array(600).fill('m').join('.')}`],
    ['a division by 600 names', `1 m/${Array(600).fill('x').join('/')}`],
  ])('refuses %s at once', (_, text) => {
    const started = performance.now();
    expect(problemsOf(text).length).toBeGreaterThan(0);
    // A second is hundreds of times what it takes; a blow-up would take hours.
    expect(performance.now() - started).toBeLessThan(1000);
  });

  it('never throws, and always answers with a value or a problem inside the text', () => {
    const pieces = fc.constantFrom(
      '1',
      '2 mm',
      'wheelbase',
      'crank.z',
      '+',
      '-',
      '*',
      '/',
      '(',
      ')',
      ',',
      'sin(',
      'max(',
      ' ',
      '.',
      '%',
      '3 kg',
      '[',
      '"',
    );
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string({ unit: 'binary' }),
          fc.array(pieces).map((p) => p.join('')),
        ),
        (text) => {
          const { node, problems } = parseExpression(text);
          const result = node ? compileExpression(node, scope) : { problems };
          expect('compiled' in result && result.compiled !== undefined).toBe(result.problems.length === 0);
          for (const p of result.problems) {
            expect(p.offset).toBeGreaterThanOrEqual(0);
            expect(p.offset).toBeLessThanOrEqual(text.length);
            expect(p.length).toBeGreaterThan(0);
          }
        },
      ),
      { numRuns: 500 },
    );
  });
});

describe('order', () => {
  it('puts each name after what it needs and otherwise keeps the order of the file', () => {
    const items = [
      { name: 'c', needs: ['b', 'outside'] },
      { name: 'b', needs: ['a'] },
      { name: 'a', needs: [] },
      { name: 'd', needs: [] },
    ];
    expect(orderByDependency(items)).toEqual({ order: ['a', 'b', 'c', 'd'], cycles: [] });
  });
  it('names a cycle whole and leaves out what hangs on it', () => {
    const items = [
      { name: 'behind', needs: ['a'] },
      { name: 'a', needs: ['b'] },
      { name: 'b', needs: ['c'] },
      { name: 'c', needs: ['a'] },
      { name: 'self', needs: ['self'] },
      { name: 'free', needs: [] },
    ];
    expect(orderByDependency(items)).toEqual({
      order: ['free'],
      cycles: [
        ['a', 'b', 'c', 'a'],
        ['self', 'self'],
      ],
    });
  });
  it('takes a chain of 100 000 names', () => {
    const items = Array.from({ length: 1e5 }, (_, i) => ({ name: `n${i}`, needs: [`n${i + 1}`] }));
    expect(orderByDependency(items).order).toHaveLength(1e5);
  });
  it('is a topological order of any graph without cycles, and finds a cycle in any other', () => {
    const edges = fc.array(fc.tuple(fc.nat(9), fc.nat(9)), { maxLength: 25 });
    fc.assert(
      fc.property(edges, fc.boolean(), (pairs, acyclic) => {
        const used = acyclic ? pairs.filter(([a, b]) => a > b) : pairs;
        const items = Array.from({ length: 10 }, (_, i) => ({
          name: `n${i}`,
          needs: used.filter(([a]) => a === i).map(([, b]) => `n${b}`),
        }));
        const { order, cycles } = orderByDependency(items);
        for (const name of order)
          for (const need of items[Number(name.slice(1))]!.needs)
            expect(order.indexOf(need)).toBeLessThan(order.indexOf(name));
        expect(order.length === 10).toBe(cycles.length === 0);
        if (acyclic) expect(cycles).toEqual([]);
        for (const cycle of cycles)
          for (let i = 1; i < cycle.length; i++)
            expect(items[Number(cycle[i - 1]!.slice(1))]!.needs).toContain(cycle[i]);
      }),
    );
  });
});
