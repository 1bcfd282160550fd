import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { CURRENT_FORMAT, MIGRATIONS, type Migration } from './migrations.ts';
import { problemAt, readDocument } from './text.ts';
import { decodeUtf8, utf8Length } from './utf8.ts';

const bytes = (...parts: (string | number)[]): Uint8Array =>
  Uint8Array.from(parts.flatMap((p) => (typeof p === 'number' ? [p] : [...new TextEncoder().encode(p)])));
const codes = (source: string | Uint8Array): string[] => readDocument('f.yaml', source).problems.map((p) => p.code);

const CANDIDATE = [
  'format: 1',
  'candidate: Side beam # shown to people',
  'dimensions:',
  '  wheelbase: 1010 mm',
  'stations:',
  '  hinge: {from: crank, by: [180 mm, 0, "beam - 3"]}',
  'bodies:',
  '  rear:',
  '    tubes:',
  '      - {from: a, to: b}',
  '      - from: b',
  '        to: 0.5',
  '',
].join('\n');

describe('reading', () => {
  it('gives plain data: decimals as numbers, everything else as text', () => {
    const { document, problems } = readDocument(
      'f.yaml',
      'format: 1\na: 1e-3\nb: 415 mm\nc: yes\nd: true\ne: 0x10\nf: .nan\ng: 2001-01-01\nh:\ni: 1e999\n7: x\n',
    );
    expect(problems).toEqual([]);
    expect({ ...(document!.data as object) }).toEqual({
      format: 1,
      a: 0.001,
      b: '415 mm',
      c: 'yes',
      d: true,
      e: '0x10',
      f: '.nan',
      g: '2001-01-01',
      h: null,
      i: '1e999',
      7: 'x',
    });
    expect(Object.getPrototypeOf(document!.data)).toBeNull();
  });

  it('knows the place of every value and key', () => {
    const { document } = readDocument('f.yaml', CANDIDATE);
    expect(document!.where(['dimensions', 'wheelbase'])).toEqual({
      line: 4,
      column: 14,
      length: 7,
      offset: CANDIDATE.indexOf('1010'),
    });
    expect(document!.where(['dimensions', 'wheelbase'], 'key')).toMatchObject({ line: 4, column: 3, length: 9 });
    expect(document!.where(['stations', 'hinge', 'by', 0])).toMatchObject({ line: 6, column: 29, length: 6 });
    expect(document!.where(['bodies', 'rear', 'tubes', 1, 'to'])).toMatchObject({ line: 12, column: 13, length: 3 });
    // A block value spans lines: the underline stops at the end of its first.
    expect(document!.where(['bodies', 'rear', 'tubes', 1])).toMatchObject({ line: 11, column: 9, length: 7 });
  });

  it('shows what is missing at the nearest thing that exists', () => {
    const { document } = readDocument('f.yaml', CANDIDATE);
    expect(document!.where(['stations', 'hinge', 'at'])).toMatchObject({ line: 6, column: 3, length: 5 });
    expect(document!.where(['bodies', 'front', 'tubes', 3])).toMatchObject({ line: 7, column: 1, length: 6 });
    expect(document!.where(['joints'])).toMatchObject({ line: 1, column: 1 });
    const problem = problemAt(document!, ['stations', 'hinge', 'at'], 'value', 'key.missing', 'm', { hint: 'h' });
    expect(problem).toMatchObject({ path: 'stations.hinge.at', severity: 'error', line: 6, hint: 'h', file: 'f.yaml' });
  });

  it('places a part of an expression, quoted or not, also with Windows line ends', () => {
    for (const source of [CANDIDATE, CANDIDATE.replaceAll('\n', '\r\n')]) {
      const { document } = readDocument('f.yaml', source);
      const part = problemAt(document!, ['stations', 'hinge', 'by', 2], 'value', 'expression.name', 'm', {
        within: { offset: 0, length: 4 },
      });
      expect(source.split('\n')[part.line - 1]!.slice(part.column - 1, part.column - 1 + part.length)).toBe('beam');
      expect(document!.within(['dimensions', 'wheelbase'], 5, 2)).toMatchObject({ line: 4, column: 19, length: 2 });
    }
  });

  it('reports all that is wrong with the text in one pass', () => {
    const { document, problems } = readDocument(
      'f.yaml',
      'a: &x 1\na: 2\nb: *x\n__proto__: {c: 1}\n? [d]\n: 3\nconstructor: 1\n',
    );
    expect(problems.map((p) => [p.line, p.code])).toEqual([
      [1, 'format.missing'],
      [1, 'yaml.unsupported'],
      [2, 'yaml.duplicate_key'],
      [3, 'yaml.unsupported'],
      [4, 'name.invalid'],
      [5, 'yaml.unsupported'],
      [7, 'name.invalid'],
    ]);
    expect(problems[2]?.message).toContain('line 1');
    expect({ ...(document!.data as object) }).toEqual({ a: 1, b: null });
    expect(({} as Record<string, unknown>)['c']).toBeUndefined();
  });

  it.each([
    ['', ['format.missing']],
    ['# only a comment\n', ['format.missing']],
    ['- 1\n', ['type.wrong']],
    ['format: 1\na: [1\nb: 2\n', ['yaml.syntax']],
    ['format: 1\na: "x\n', ['yaml.syntax']],
    ['format: 1\n\ta: 1\n', ['yaml.syntax']],
    ['format: 1\na: b: c\n', ['yaml.syntax']],
    ['format: 1\n---\nb: 1\n', ['yaml.syntax']],
    ['format: 1\na: !!binary aGk=\n', ['yaml.unsupported']],
    ['%YAML 1.1\n---\nformat: 1\na: yes\n', ['yaml.unsupported']],
    ['format: one\n', ['type.wrong']],
    ['format: 1.5\n', ['type.wrong']],
    ['format: 0\n', ['type.wrong']],
  ])('%j has %j', (source, expected) => expect(codes(source)).toEqual(expected));
});

describe('limits', () => {
  it('refuses 50 MB with its size, as text or as bytes, without reading it', () => {
    for (const source of ['x'.repeat(50e6), new Uint8Array(50e6)]) {
      const { document, problems } = readDocument('f.yaml', source);
      expect(document).toBeUndefined();
      expect(problems).toMatchObject([
        { code: 'file.too_large', message: 'the file has 50.0 MB', expected: 'at most 5 MB' },
      ]);
    }
  });

  it.each([
    ['brackets', '['.repeat(1e5)],
    ['closed brackets', `${'['.repeat(1e5)}${']'.repeat(1e5)}`],
    ['maps', `format: 1\na: ${'{a: '.repeat(1e5)}`],
    ['dashes', '- '.repeat(1e5)],
    ['question marks', '? '.repeat(1e5)],
    ['indented keys', Array.from({ length: 900 }, (_, i) => `${' '.repeat(i)}a:`).join('\n')],
    ['33 levels', `format: 1\na: ${'['.repeat(33)}${']'.repeat(33)}`],
  ])('refuses deep nesting by %s before the parser sees it', (_, source) => {
    expect(codes(source)).toEqual(['yaml.unsupported']);
  });

  it('takes the deepest nesting that a candidate has', () => {
    const source =
      'format: 1\nbodies:\n  rear:\n    tubes:\n      - from: a\n        via:\n          - by: [1, {a: [[2]]}]\n';
    expect(codes(source)).toEqual([]);
  });

  it('refuses a file of a million entries', () => {
    expect(codes(`format: 1\na: [${'1,'.repeat(1e6)}]`)).toEqual(['file.too_large']);
  });

  it('does not expand aliases that would grow to gigabytes', () => {
    const lines = ['format: 1', 'a0: &a0 [x, x, x, x, x, x, x, x, x, x]'];
    for (let i = 1; i < 12; i++)
      lines.push(
        `a${i}: &a${i} [${Array(10)
          .fill(`*a${i - 1}`)
          .join(', ')}]`,
      );
    expect(new Set(codes(lines.join('\n')))).toEqual(new Set(['yaml.unsupported']));
  });

  it('answers any text without throwing', () => {
    const pieces = fc.constantFrom(
      'a',
      ':',
      ' ',
      '\n',
      '- ',
      '[',
      ']',
      '{',
      '}',
      '"',
      "'",
      '#',
      '&b',
      '*b',
      '!',
      '|',
      '>',
      '?',
      ',',
      '%',
      '---',
      '\t',
      '1',
      '\r\n',
      '<<',
    );
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string({ unit: 'binary' }),
          fc.array(pieces, { maxLength: 60 }).map((p) => p.join('')),
        ),
        (text) => {
          const { document, problems } = readDocument('f.yaml', text);
          if (!document) expect(problems.length).toBeGreaterThan(0);
          const lines = text.split('\n').length;
          for (const p of problems) expect(p.line >= 1 && p.line <= lines && p.column >= 1 && p.length >= 1).toBe(true);
        },
      ),
      { numRuns: 300 },
    );
  });
});

describe('faults of the YAML', () => {
  it.each([
    ['a: [1, 2\nb: 3\nc: 4\n', 3, 'a bracket is not closed before this', 'closing ]'],
    ['a: {b: 1\nc: 3\n', 3, 'a bracket is not closed before this', 'closing }'],
    ['a:\n\tb: 1\n  c: 2\n', 3, 'a tab stands in the indentation', 'spaces'],
    ['a: "x\n', 3, 'a text in " is not closed', 'quotation mark'],
    ['a: b: c\n', 2, 'a second key stands in this line', 'quotes'],
    ['a: 1\n---\nb: 1\n', 3, 'a second document begins here', 'two files'],
    ['a: !!js/function x\n', 2, 'tags (tag:yaml.org,2002:js/function) are not used', 'leave the tag out'],
    ['a: [1 2, {b: 1 c: 2}]\n', 2, 'a second key stands in this place', 'commas'],
    ['a:\n    b: 1\n  c: 2\n', 4, 'this line begins at another column', 'same column'],
    ['a: @x\n', 2, 'a text cannot begin with', 'quotes'],
    ['a: "\\q"\n', 2, '\\q means nothing', 'instead'],
    ['just words\n', 2, 'this line is no key with a value', 'KEY: VALUE'],
  ])('%j is told once, in plain words', (source, line, message, hint) => {
    const { problems } = readDocument('f.yaml', `format: 1\n${source}`);
    expect(problems.map((p) => `${p.line} ${p.message}`)).toEqual([expect.stringContaining(`${line} ${message}`)]);
    expect(problems[0]!.hint).toContain(hint);
  });
  it('two faults that have nothing to do with each other are both told', () => {
    const { problems } = readDocument('f.yaml', 'format: 1\na: "\\q"\nb: @x\n');
    expect(problems.map((p) => p.line)).toEqual([2, 3]);
  });
});

describe('UTF-8', () => {
  it.each([
    ['Latin-1', bytes('format: 1\nnote: gr', 0xfc, 'n'), 18],
    ['UTF-16 with mark', bytes(0xff, 0xfe, 'f', 0), 0],
    ['UTF-16 without mark', bytes('f', 0, 'o', 0), 1],
    ['an overlong slash', bytes('a', 0xc0, 0xaf), 1],
    ['an overlong of three bytes', bytes(0xe0, 0x80, 0x80), 0],
    ['half a surrogate', bytes('ab', 0xed, 0xa0, 0x80), 2],
    ['beyond Unicode', bytes(0xf4, 0x90, 0x80, 0x80), 0],
    ['a cut end', bytes('abc', 0xe2, 0x82), 3],
  ])('refuses %s and says where', (_, source, offset) => {
    expect(decodeUtf8(source)).toEqual({ badByte: offset });
    const { document, problems } = readDocument('f.yaml', source);
    expect(document).toBeUndefined();
    expect(problems[0]).toMatchObject({ code: 'file.not_utf8' });
    expect(problems[0]!.message).toContain(`byte ${offset} `);
  });
  it('points at the first wrong byte by line and column, and knows UTF-16 by its mark', () => {
    const { problems } = readDocument('f.yaml', bytes('format: 1\nnote: gr', 0xc3, 0xbc, 'n ', 0xfc));
    expect(problems).toMatchObject([{ code: 'file.not_utf8', line: 2, column: 12, length: 1 }]);
    expect(readDocument('f.yaml', bytes(0xff, 0xfe, 'f', 0)).problems[0]!.found).toMatch(/UTF-16/);
  });

  it('reads what the platform writes, and counts its bytes', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme', maxLength: 3000 }), (text) => {
        const clean = text.replaceAll('\0', '');
        expect(decodeUtf8(bytes(clean))).toEqual({ text: clean });
        expect(utf8Length(clean)).toBe(bytes(clean).length);
      }),
    );
  });
});

describe('formats', () => {
  it('refuses a newer format and says which it reads', () => {
    const { document, problems } = readDocument('f.yaml', 'format: 2\nnonsense: [\n]\n');
    expect(document).toBeUndefined();
    expect(problems).toMatchObject([{ code: 'format.newer', line: 1, column: 9, found: '2', expected: 'at most 1' }]);
  });

  it('has a step from every older format to the current one', () => {
    expect(MIGRATIONS.map((m) => m.from)).toEqual(Array.from({ length: CURRENT_FORMAT - 1 }, (_, i) => i + 1));
  });

  it('brings an old file forward step by step, and problems still point at the text on the disk', () => {
    const steps: Migration[] = [
      {
        from: 1,
        what: 'points are called stations',
        apply: (document) => {
          const map = document.contents as unknown as { items: { key: { value: string } }[] };
          for (const pair of map.items) if (pair.key.value === 'points') pair.key.value = 'stations';
        },
      },
      { from: 2, what: 'lengths in metres', apply: (document) => document.set('unit', 'm') },
    ];
    const source = 'format: 1\n# kept\npoints:\n  hinge: 3\n';
    const { document, problems } = readDocument('f.yaml', source, { migrations: steps, currentFormat: 3 });
    expect(problems).toEqual([]);
    expect(document!.migrated).toEqual(['points are called stations', 'lengths in metres']);
    expect(JSON.parse(JSON.stringify(document!.data))).toEqual({ format: 3, stations: { hinge: 3 }, unit: 'm' });
    expect(document!.where(['stations', 'hinge'])).toMatchObject({ line: 4, column: 10 });
    expect(document!.where(['stations'], 'key')).toMatchObject({ line: 3, column: 1, length: 6 });
    // What a step has added stands nowhere: the file's start.
    expect(document!.where(['unit'])).toMatchObject({ line: 1, column: 1 });
  });

  it('refuses an old format to which no step leads', () => {
    expect(readDocument('f.yaml', 'format: 1\n', { migrations: [], currentFormat: 2 }).problems).toMatchObject([
      { code: 'type.wrong', message: 'there is no format 1' },
    ]);
  });
});
