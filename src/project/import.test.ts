import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { freeName, joinUp, legalName } from './import/geometry.ts';
import { importGeometry } from './import.ts';
import { readDocument } from './text.ts';

type Candidate = {
  stations: Record<string, (string | number)[]>;
  bodies: Record<string, { tubes: Record<string, string>[] }>;
};
/** The candidate that a text gives: it must be a clean file. */
function candidate(text: string | undefined): Candidate {
  const { document, problems } = readDocument('c.yaml', text ?? '');
  expect(problems).toEqual([]);
  return document!.data as Candidate;
}
const codes = (kind: 'csv' | 'dxf', source: string): string[] =>
  importGeometry(kind, source).problems.map((p) => `${p.line} ${p.code}`);

const CSV = `# measured by hand
name,x_mm,y_mm,z_mm
Tretlager,415,0,300
Gelenk,595,0,520
"Sattel, oben",20,0,900

from,to,body,section
Tretlager,Gelenk,rear,round 50 x 2 mm
Gelenk,"Sattel, oben",rear,
`;

/** A DXF text from pairs of group code and value. */
const dxf = (pairs: readonly (readonly [number, string | number])[], units?: number): string => {
  const head: [number, string | number][] = [
    [0, 'SECTION'],
    [2, 'HEADER'],
    ...(units === undefined
      ? []
      : ([
          [9, '$INSUNITS'],
          [70, units],
        ] as [number, string | number][])),
    [0, 'ENDSEC'],
    [0, 'SECTION'],
    [2, 'ENTITIES'],
  ];
  return [...head, ...pairs, [0, 'ENDSEC'], [0, 'EOF']].map(([c, v]) => `${c}\n${v}\n`).join('');
};
const line = (layer: string, a: number[], b: number[]): [number, string | number][] => [
  [0, 'LINE'],
  [8, layer],
  [10, a[0]!],
  [20, a[1]!],
  [30, a[2] ?? 0],
  [11, b[0]!],
  [21, b[1]!],
  [31, b[2] ?? 0],
];

describe('CSV', () => {
  it('turns points and lines between them into stations and tubes', () => {
    const result = importGeometry('csv', CSV, { file: 'points.csv', candidate: 'From points' });
    expect(result).toMatchObject({ stations: 3, tubes: 2, bodies: ['rear'] });
    const { stations, bodies } = candidate(result.text);
    expect(stations).toMatchObject({
      tretlager: ['415 mm', 0, '300 mm'],
      gelenk: ['595 mm', 0, '520 mm'],
      sattel_oben: ['20 mm', 0, '900 mm'],
    });
    expect(bodies['rear']!.tubes.map((t) => [t['name'], t['section']])).toEqual([
      ['tretlager_to_gelenk', 'round 50 x 2 mm'],
      ['gelenk_to_sattel_oben', 'round 30 x 1.5 mm'],
    ]);
    expect(result.problems.map((p) => p.line)).toEqual([3, 4, 5]);
  });

  it('reads semicolons, decimal commas, other units, Windows line ends and a byte order mark', () => {
    const result = importGeometry('csv', '\ufeffname;x (cm);z [m]\r\na;41,5;0,3\r\nb;-1;.5\r\n');
    expect(result.problems).toEqual([]);
    expect(candidate(result.text).stations).toMatchObject({ a: ['415 mm', 0, '300 mm'], b: ['-10 mm', 0, '500 mm'] });
  });

  it('reads lines by coordinates, and merges ends within half a millimetre but not beyond', () => {
    const rows = ['x1_mm,z1_mm,x2_mm,z2_mm,body', '0,0,100,0,a', '100.4,0,200,0,a', '200.6,0,300,0,b'];
    const result = importGeometry('csv', rows.join('\n'));
    expect(result).toMatchObject({ stations: 5, tubes: 3, bodies: ['a', 'b'], problems: [] });
  });

  it('says which rows cannot be used, and goes on with the others', () => {
    const rows = [
      'name,x_mm,y_mm,z',
      'a,1,2,3',
      'b,one,2,3',
      'a,7,7,7',
      ',1,1,1',
      'c,NaN,0,0',
      'd,1e9,0,0',
      'E 1,5,5,5',
      'f,0x10,0,0',
      'from,to',
      'a,E 1',
      'a,g',
      'a,a',
    ];
    expect(codes('csv', rows.join('\n'))).toEqual([
      '1 import.unit',
      '3 import.row',
      '4 import.row',
      '5 import.row',
      '6 import.row',
      '7 import.row',
      '8 import.row',
      '9 import.row',
      '12 import.row',
      '13 import.row',
    ]);
    expect(importGeometry('csv', rows.join('\n'))).toMatchObject({ stations: 2, tubes: 1 });
  });

  it.each([
    ['', ['1 import.empty']],
    ['1,2,3\n', ['1 import.row']],
    ['name,x_mm,y_mm,z_mm\n', ['1 import.empty']],
    ['name,x_mm,y_mm,z_mm,colour\na,1,2,3,red\n', ['1 import.row']],
    ['name,x_kg,y_mm,z_mm\na,1,2,3\n', ['1 import.row']],
  ])('%j has %j', (source, expected) => expect(codes('csv', source)).toEqual(expected));
});

describe('DXF', () => {
  it('reads lines, polylines and points of a side view, layers as bodies', () => {
    const source = dxf(
      [
        ...line('Hinterbau', [0, 203], [415, 300]),
        [0, 'LWPOLYLINE'],
        [8, '0'],
        [90, 3],
        [70, 1],
        [10, 415],
        [20, 300],
        [10, 595],
        [20, 520],
        [10, 200],
        [20, 700],
        [0, 'POLYLINE'],
        [8, 'fork'],
        [66, 1],
        [70, 0],
        [0, 'VERTEX'],
        [8, 'fork'],
        [10, 900],
        [20, 500],
        [0, 'VERTEX'],
        [8, 'fork'],
        [10, 1010],
        [20, 203],
        [0, 'SEQEND'],
        [0, 'POINT'],
        [8, 'x'],
        [10, 200],
        [20, 900],
        [30, 0],
      ],
      4,
    );
    const result = importGeometry('dxf', source);
    expect(result).toMatchObject({ stations: 7, tubes: 5, bodies: ['hinterbau', 'frame', 'fork'], problems: [] });
    const { stations } = candidate(result.text);
    expect(Object.values(stations)).toContainEqual(['415 mm', 0, '300 mm']);
    expect(stations['point']).toEqual(['200 mm', 0, '900 mm']);
    expect(result.text).toContain('side view');
  });

  it('takes inches from the header, a given unit against it, and space when there are heights', () => {
    const source = dxf(line('a', [0, 0, 0], [10, 0, 1]), 1);
    expect(Object.values(candidate(importGeometry('dxf', source).text).stations)[1]).toEqual(['254 mm', 0, '25.4 mm']);
    expect(
      Object.values(candidate(importGeometry('dxf', source, { unit: 'cm', plane: 'top' }).text).stations)[1],
    ).toEqual(['100 mm', 0, 0]);
  });

  it('takes mirrored axes back and leaves tilted ones out', () => {
    const polyline = (z: number, y: number): [number, string | number][] => [
      [0, 'LWPOLYLINE'],
      [8, 'a'],
      [90, 2],
      [70, 0],
      [10, -5],
      [20, 1],
      [10, -9],
      [20, 2],
      [210, 0],
      [220, y],
      [230, z],
    ];
    const result = importGeometry('dxf', dxf(polyline(-1, 0), 4));
    expect(Object.values(candidate(result.text).stations)).toEqual([
      ['5 mm', 0, '1 mm'],
      ['9 mm', 0, '2 mm'],
    ]);
    expect(codes('dxf', dxf(polyline(0, 1), 4))).toEqual(['16 import.entity', '1 import.empty']);
  });

  it('reports a missing unit, what it leaves out, and where', () => {
    const source = dxf([
      [0, 'ARC'],
      [8, '0'],
      [10, 0],
      [20, 0],
      [40, 5],
      [50, 0],
      [51, 90],
      [0, 'CIRCLE'],
      [8, '0'],
      [10, 0],
      [20, 0],
      [40, 5],
      ...line('a', [0, 0], [0, 0.1]),
      ...line('a', [0, 0], [9, 9]),
    ]);
    const { problems, tubes } = importGeometry('dxf', source);
    expect(tubes).toBe(1);
    expect(problems.map((p) => [p.code, p.severity])).toEqual([
      ['import.entity', 'caution'],
      ['import.entity', 'caution'],
      ['import.unit', 'caution'],
      ['import.row', 'caution'],
    ]);
    const rows = source.split('\n');
    expect(problems.filter((p) => p.line > 1).map((p) => rows[p.line - 1])).toEqual(['ARC', 'CIRCLE', 'LINE']);
  });

  it.each([
    ['no DXF', 'hello\nworld', 'import.row'],
    ['one line', 'hello', 'import.empty'],
    ['an empty file', '', 'import.empty'],
    ['a cut file', '0\nSECTION\n2\nENTITIES\n0\nLINE\n8\n', 'import.empty'],
    [
      'a polyline of a billion corners',
      dxf([
        [0, 'LWPOLYLINE'],
        [8, '0'],
        [90, 1e9],
        [10, 0],
        [20, 0],
      ]),
      'import.row',
    ],
    ['a binary file', '\u0000\u0001', 'import.empty'],
    ['half a pair', '0\nSECTION\n2', 'import.empty'],
  ])('refuses %s', (_, source, code) => {
    const result = importGeometry('dxf', source);
    expect(result.text).toBeUndefined();
    expect(result.problems.some((p) => p.code === code && p.severity === 'error')).toBe(true);
  });
});

describe('any input', () => {
  it('gives a clean candidate or an error, never an exception', () => {
    const pieces = fc.constantFrom(
      'name',
      'x_mm',
      'y_mm',
      'z_mm',
      'from',
      'to',
      ',',
      ';',
      '\n',
      '"',
      '1',
      '-2.5',
      'a',
      '__proto__',
      '#',
      '0\nLINE\n',
      '0\nSECTION\n2\nENTITIES\n',
      '10\n',
      '8\n{a: b}\n',
      '0\nENDSEC\n0\nEOF\n',
    );
    fc.assert(
      fc.property(
        fc.constantFrom('csv', 'dxf'),
        fc.oneof(
          fc.string(),
          fc.array(pieces, { maxLength: 40 }).map((p) => p.join('')),
        ),
        (kind, source) => {
          const { text, problems } = importGeometry(kind as 'csv' | 'dxf', source);
          if (text === undefined) expect(problems.some((p) => p.severity === 'error')).toBe(true);
          else candidate(text);
        },
      ),
      { numRuns: 400 },
    );
  });

  it('keeps nasty names and texts inside their place', () => {
    const source =
      'name,x_mm,y_mm,z_mm\n"a: {b",0,0,0\n__proto__,1,1,1\nconstructor,2,2,2\npi,3,3,3\n1,4,4,4\n"日本",5,5,5\n"日本人",6,6,6\nfrom,to,body,section,material\n"a: {b",__proto__,"x]}, y","round } # 5","- &a *b"\n';
    const result = importGeometry('csv', source, { candidate: 'A: b # c', file: 'x\nformat: 9' });
    const { stations, bodies } = candidate(result.text);
    expect(Object.keys(stations)).toEqual(['a_b', 'proto', 'constructor_1', 'pi_1', 'point_1', 'point', 'point_2']);
    expect(bodies['x_y']!.tubes[0]).toMatchObject({ section: 'round } # 5', material: '- &a *b' });
  });

  it('names are legal and free', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'grapheme' }), (text) => {
        expect(legalName(text, 'p')).toMatch(/^[a-z][a-z0-9_]*$/);
      }),
    );
    expect(freeName('a', new Set(['a', 'a_2']))).toBe('a_3');
    expect(legalName('Größe Süd-Straße', 'p')).toBe('grosse_sud_strasse');
  });

  it('distances are taken to the first point, so that near points do not creep', () => {
    const at = (i: number): [number, number, number] => [i * 0.4e-3, 0, 0];
    const { stations } = joinUp(
      [0, 1, 2, 3].map((i) => ({ name: `p${i}`, at: at(i) })),
      [],
    );
    expect([...stations.keys()]).toEqual(['p0', 'p2']);
  });

  it('refuses ten thousand lines and 6 MB', () => {
    const many = `x1_mm,z1_mm,x2_mm,z2_mm\n${Array.from({ length: 1e4 }, (_, i) => `${i},0,${i},9`).join('\n')}`;
    expect(importGeometry('csv', many).problems.at(-1)?.code).toBe('file.too_large');
    expect(importGeometry('dxf', 'x'.repeat(6e6)).problems[0]?.code).toBe('file.too_large');
    expect(importGeometry('dxf', Uint8Array.of(65, 0xff)).problems[0]?.code).toBe('file.not_utf8');
  });
});
