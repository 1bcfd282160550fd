import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { nudgeLiteral } from './nudge.ts';
import { insertItem, insertKey, removeKey, renameKey, scalarText, setValue } from './save.ts';
import { readDocument } from './text.ts';

const SOURCE = `# the side beam, by hand
format: 1
candidate: "Side beam"   # two spaces before, three after

dimensions:
    wheelbase:   1010 mm    # odd spacing stays
    # a comment between
    beam_height: 520 mm
stations:
  crank: [ 415 mm,0, 300 mm ]
  hinge: {from: crank, by: [180 mm, 0, beam_height - crank.z]}   # flow

  mid: {between: [crank, hinge], at: 0.5}
bodies:
  rear:
    tubes:
      - {name: beam, from: crank, to: hinge, section: round 50 x 2 mm}
      # the stay
      - name: stay
        from: crank

        to: hinge   # end

      - {name: last, from: a, to: b}
note: |
  two lines,
  kept
empty:
fold:
- {move: release, joint: main}
- {move: turn, joint: main, to: 178 deg}
last: yes`;

const CRLF = SOURCE.replaceAll('\n', '\r\n');
const done = (edit: { source?: string; refused?: string }): string => {
  expect(edit.refused).toBeUndefined();
  return edit.source!;
};
/** All paths to values of a data tree. */
function paths(data: unknown, path: (string | number)[] = []): (string | number)[][] {
  if (typeof data !== 'object' || data === null) return [path];
  const entries = Array.isArray(data) ? data.map((v, i) => [i, v] as const) : Object.entries(data);
  return [path, ...entries.flatMap(([k, v]) => paths(v, [...path, k]))].filter((p) => p.length > 0);
}
const dataOf = (source: string): unknown => readDocument('f', source).document!.data;

describe('changing a value', () => {
  it('changes only the bytes of the value', () => {
    expect(done(setValue(SOURCE, ['dimensions', 'wheelbase'], '1025 mm'))).toBe(SOURCE.replace('1010 mm', '1025 mm'));
    expect(done(setValue(SOURCE, ['stations', 'crank', 0], '420 mm'))).toBe(SOURCE.replace('[ 415 mm,', '[ 420 mm,'));
    expect(done(setValue(CRLF, ['candidate'], 'Other'))).toBe(CRLF.replace('"Side beam"', 'Other'));
    expect(done(setValue(SOURCE, ['stations', 'mid'], '[0, 0, 0]'))).toBe(
      SOURCE.replace('{between: [crank, hinge], at: 0.5}', '[0, 0, 0]'),
    );
  });

  it('fills an empty value', () => {
    expect(done(setValue(SOURCE, ['empty'], '3 mm'))).toBe(SOURCE.replace('empty:', 'empty: 3 mm'));
  });

  it('quotes a formula where commas would cut it', () => {
    const next = done(setValue(SOURCE, ['stations', 'hinge', 'by', 2], 'max(beam_height, crank.z)'));
    expect(next).toBe(SOURCE.replace('beam_height - crank.z', '"max(beam_height, crank.z)"'));
    const comment = done(setValue(SOURCE, ['dimensions', 'wheelbase'], '1 m #not a comment: text'));
    expect((dataOf(comment) as { dimensions: { wheelbase: string } }).dimensions.wheelbase).toBe(
      '1 m #not a comment: text',
    );
  });

  it('changing any value and changing it back gives the file back, byte by byte', () => {
    for (const source of [SOURCE, CRLF])
      for (const path of paths(dataOf(source))) {
        const { yaml } = readDocument('f', source).document!;
        const range = (yaml.getIn(path, true) as { range: [number, number] }).range;
        const old = source.slice(range[0], range[1]).trimEnd();
        const next = setValue(source, path, '77 mm');
        if (path[0] === 'format') continue;
        expect(next.refused, path.join('.')).toBeUndefined();
        if (/[\n]/.test(old) || old === '') continue;
        expect(setValue(next.source!, path, old).source, path.join('.')).toBe(source);
      }
  });

  it('writes any one-line text so that it reads back, with every other byte unchanged', () => {
    const all = paths(dataOf(SOURCE)).filter((p) => p[0] !== 'format' && p[0] !== 'note');
    fc.assert(
      fc.property(
        fc.constantFrom(...all),
        fc.oneof(fc.string(), fc.constantFrom('a, b', '- x', '{', '#', 'a: b', '*a', '&a', '!t', ' x ', '"', "'", '')),
        (path, text) => {
          const edit = setValue(SOURCE, path, scalarText(text, true));
          expect(edit.refused).toBeUndefined();
          let at: unknown = dataOf(edit.source!);
          for (const step of path) at = (at as Record<string | number, unknown>)[step];
          expect(String(at)).toBe(text);
          const { yaml } = readDocument('f', SOURCE).document!;
          const [from, to] = (yaml.getIn(path, true) as { range: [number, number] }).range;
          expect(edit.source!.startsWith(SOURCE.slice(0, from))).toBe(true);
          expect(edit.source!.endsWith(SOURCE.slice(to))).toBe(true);
        },
      ),
      { numRuns: 100 },
    );
  });

  it('refuses in words what it cannot do', () => {
    expect(setValue(SOURCE, ['nothing', 'here'], '1').refused).toBe('there is no nothing.here');
    expect(setValue('format: 1\na: &x 1\nb: *x\n', ['a'], '2').refused).toContain('problems of its own');
    expect(setValue('format: 1\na: 1\na: 2\n', ['a'], '3').refused).toContain('problems of its own');
    expect(setValue(SOURCE, ['candidate'], 'x\nformat: 2').refused).toBeDefined();
    expect(setValue(SOURCE, ['candidate'], '{a: 1').source).toBe(SOURCE.replace('"Side beam"', '"{a: 1"'));
  });
});

describe('adding, removing, renaming', () => {
  it('puts items into block lists, before comments and blank lines that follow', () => {
    const tubes = ['bodies', 'rear', 'tubes'];
    const item = '{name: new, from: a, to: b}';
    expect(done(insertItem(SOURCE, tubes, item))).toBe(
      SOURCE.replace(
        '      - {name: last, from: a, to: b}\n',
        `      - {name: last, from: a, to: b}\n      - ${item}\n`,
      ),
    );
    expect(done(insertItem(SOURCE, tubes, item, 0))).toBe(
      SOURCE.replace('      - {name: beam', `      - ${item}\n      - {name: beam`),
    );
    expect(done(insertItem(CRLF, tubes, item, 0))).toBe(
      CRLF.replace('      - {name: beam', `      - ${item}\r\n      - {name: beam`),
    );
    expect(done(insertItem(SOURCE, ['fold'], '{move: lock, joint: main}'))).toBe(
      SOURCE.replace('178 deg}\n', '178 deg}\n- {move: lock, joint: main}\n'),
    );
  });
  it('puts items and keys into flow collections', () => {
    expect(done(insertItem(SOURCE, ['stations', 'mid', 'between'], 'rear_hub'))).toBe(
      SOURCE.replace('[crank, hinge]', '[crank, hinge, rear_hub]'),
    );
    expect(done(insertItem(SOURCE, ['stations', 'mid', 'between'], 'rear_hub', 1))).toBe(
      SOURCE.replace('[crank, hinge]', '[crank, rear_hub, hinge]'),
    );
    expect(done(insertKey(SOURCE, ['bodies', 'rear', 'tubes', 2], 'wall', '2 mm'))).toBe(
      SOURCE.replace('to: b}', 'to: b, wall: 2 mm}'),
    );
    expect(done(insertItem('format: 1\na: []\n', ['a'], '1'))).toBe('format: 1\na: [1]\n');
  });
  it('adds keys to block maps, also behind a file without final line end', () => {
    expect(done(insertKey(SOURCE, ['dimensions'], 'seat_x', '200 mm'))).toBe(
      SOURCE.replace('    beam_height: 520 mm\n', '    beam_height: 520 mm\n    seat_x: 200 mm\n'),
    );
    expect(done(insertKey(SOURCE, [], 'drive', '{kind: none}'))).toBe(`${SOURCE}\ndrive: {kind: none}`);
    expect(insertKey(SOURCE, ['dimensions'], 'wheelbase', '1 m').refused).toBe('dimensions.wheelbase exists already');
  });
  it('removes entries with their own line or comma and leaves the comments', () => {
    expect(done(removeKey(SOURCE, ['dimensions', 'wheelbase']))).toBe(
      SOURCE.replace('    wheelbase:   1010 mm    # odd spacing stays\n', ''),
    );
    expect(done(removeKey(SOURCE, ['stations', 'mid', 'at']))).toBe(SOURCE.replace(', at: 0.5', ''));
    expect(done(removeKey(SOURCE, ['stations', 'mid', 'between', 0]))).toBe(
      SOURCE.replace('[crank, hinge]', '[hinge]'),
    );
    expect(done(removeKey(SOURCE, ['bodies', 'rear', 'tubes', 1]))).toBe(
      SOURCE.replace('      - name: stay\n        from: crank\n\n        to: hinge   # end\n', ''),
    );
    expect(done(removeKey(SOURCE, ['last']))).toBe(SOURCE.replace('last: yes', ''));
    expect(removeKey(SOURCE, ['bodies', 'rear']).refused).toContain('last entry');
  });
  it('renames a key, and not onto another', () => {
    expect(done(renameKey(SOURCE, ['stations', 'mid'], 'middle'))).toBe(SOURCE.replace('  mid:', '  middle:'));
    expect(renameKey(SOURCE, ['stations', 'mid'], 'hinge').refused).toBe('stations.hinge exists already');
  });
  it('adding and removing again gives the file back', () => {
    for (const source of [SOURCE, CRLF]) {
      const maps = [['dimensions'], ['stations'], ['bodies', 'rear', 'tubes', 0], ['stations', 'hinge'], []];
      for (const path of maps) {
        const next = done(insertKey(source, path, 'added', '3 mm'));
        // The last line had no line end; the line end before the new key stays.
        const back = done(removeKey(next, [...path, 'added']));
        expect(path.length > 0 ? back : back.trimEnd()).toBe(source);
      }
    }
  });
});

describe('dragging a dimension', () => {
  it.each([
    ['415 mm', 0.415, 0.42, '420 mm'],
    ['beam_height - 300 mm', 0.22, 0.23, 'beam_height - 290 mm'],
    ['crank.x + 18 cm', 0.595, 0.6, 'crank.x + 18.5 cm'],
    ['a - 10 mm', 0.5, 0.53, 'a + 20 mm'],
    ['a + 10 mm', 0.5, 0.47, 'a - 20 mm'],
    ['-30 mm', -0.03, 0.01, '10 mm'],
    ['30 mm', 0.03, -0.01, '-10 mm'],
    ['2 * a - 1 m', 0, 0.00012, '2 * a - 0.9999 m'],
    ['15 deg', 0, Math.PI / 180, '16 deg'],
    ['(a + 3 mm)', 0, 0.001, '(a + 4 mm)'],
    ['7', 7, 8.5, '8.5'],
  ])('%s from %d to %d becomes %s', (text, from, to, expected) =>
    expect(nudgeLiteral(text, from, to)).toEqual({ text: expected }),
  );
  it.each([
    ['2 * wheelbase / 3', 'this follows wheelbase: change that instead'],
    ['wheelbase', 'this follows wheelbase: change that instead'],
    ['wheelbase - (a + 3 mm)', 'this follows wheelbase and a: change that instead'],
    ['2 mm * 3', 'this is computed: edit its text instead'],
    ['3 mm +', 'the expression has a problem of its own'],
    ['0', 'a bare 0 has no unit to continue in: write 0 mm'],
  ])('%s is refused: %s', (text, refused) => expect(nudgeLiteral(text, 0, 0.01)).toEqual({ refused }));
});
