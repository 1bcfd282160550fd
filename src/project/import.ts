/**
 * Geometry from elsewhere as the beginning of a candidate: stations and tubes, as text that the designer goes on from.
 *
 * The text says what is missing and where every number came from. Sections and materials that the source does not name
 * are placeholders, marked as such.
 */
import type { Vec3 } from '#kernel';
import { type RowProblem, readCsv } from './import/csv.ts';
import { type Plane, readDxf } from './import/dxf.ts';
import { type Geometry, joinUp } from './import/geometry.ts';
import type { Problem } from './problems.ts';
import { scalarText } from './save.ts';
import { LARGEST_FILE } from './text.ts';
import { formatQuantity, parseUnit } from './units.ts';
import { decodeUtf8 } from './utf8.ts';

export type { Plane } from './import/dxf.ts';
export interface ImportOptions {
  /** For messages and the note in the text. */
  readonly file?: string;
  /** The name people see; `Imported` unless given. */
  readonly candidate?: string;
  /** DXF: how the sheet lies in the bicycle. Side view for flat drawings, space for others, unless given. */
  readonly plane?: Plane;
  /** DXF: the unit, against what the drawing says: `mm`, `in`. */
  readonly unit?: string;
  /** For tubes whose source names none. */
  readonly section?: string;
  readonly material?: string;
}
export interface Imported {
  /** A candidate file; missing when nothing could be imported. */
  readonly text?: string;
  readonly stations: number;
  readonly tubes: number;
  readonly bodies: readonly string[];
  readonly problems: readonly Problem[];
}

/** More would not be a bicycle, and the text would not be one for people. */
const MOST = 5000;
const SECTION = 'round 30 x 1.5 mm';
const MATERIAL = '6061-T6';

/** Stations and tubes from points and lines: see `import/csv.ts` and `import/dxf.ts` for what is read. */
export function importGeometry(
  kind: 'csv' | 'dxf',
  source: string | Uint8Array,
  options: ImportOptions = {},
): Imported {
  const file = options.file ?? `import.${kind}`;
  const placed = (p: RowProblem): Problem => ({ file, path: '', column: 1, length: 1, ...p });
  const failed = (...rows: RowProblem[]): Imported => ({
    stations: 0,
    tubes: 0,
    bodies: [],
    problems: rows.map(placed),
  });
  const error = (code: RowProblem['code'], message: string, hint?: string): RowProblem => ({
    code,
    severity: 'error',
    line: 1,
    message,
    ...(hint ? { hint } : {}),
  });
  if (source.length > LARGEST_FILE)
    return failed(
      error(
        'file.too_large',
        `the file has ${(source.length / 1e6).toFixed(1)} MB; at most ${LARGEST_FILE / 1e6} MB are read`,
      ),
    );
  const decoded = typeof source === 'string' ? { text: source } : decodeUtf8(source);
  if ('badByte' in decoded)
    return failed(
      error(
        'file.not_utf8',
        `the file is not UTF-8 text: byte ${decoded.badByte} (from 0)`,
        kind === 'dxf' ? 'save it as ASCII DXF, not binary' : 'save it as UTF-8',
      ),
    );
  const unit = options.unit === undefined ? undefined : parseUnit(options.unit);
  if (options.unit !== undefined && unit?.dimension[0] !== 1)
    return failed(error('import.unit', `"${options.unit}" is not a unit of length`, 'mm, cm, m or in'));

  const read =
    kind === 'csv'
      ? { ...readCsv(decoded.text), plane: undefined }
      : readDxf(decoded.text, {
          ...(options.plane ? { plane: options.plane } : {}),
          ...(unit ? { unit_m: unit.factor } : {}),
        });
  const problems = [...read.problems];
  if (read.points.length + read.lines.length > MOST)
    return failed(
      ...problems,
      error(
        'file.too_large',
        `the file has ${read.points.length + read.lines.length} points and lines; at most ${MOST} are imported`,
      ),
    );
  if (read.points.length + read.lines.length === 0) {
    if (!problems.some((p) => p.severity === 'error'))
      problems.push(error('import.empty', 'there are no points and no lines to import'));
    return failed(...problems);
  }
  const geometry = joinUp(read.points, read.lines);
  return {
    text: candidateText(geometry, file, read.plane, options),
    stations: geometry.stations.size,
    tubes: geometry.tubes.length,
    bodies: [...new Set(geometry.tubes.map((t) => t.body))],
    problems: problems.map(placed),
  };
}

const PLANES: Readonly<Record<Plane, string>> = {
  side: 'The sheet is taken as a side view: its x is x (forward), its y is z (up).',
  top: 'The sheet is taken as a top view: its x is x (forward), its y is y (left).',
  space: 'Coordinates are taken as they stand: x forward, y left, z up.',
};

function candidateText(geometry: Geometry, file: string, plane: Plane | undefined, options: ImportOptions): string {
  const flow = (text: string): string => scalarText(text, true);
  const point = (p: Vec3): string =>
    `[${p.map((v) => formatQuantity(Math.round(v * 1e7) / 1e7, 'mm').replace(/^0 mm$/, '0')).join(', ')}]`;
  const section = options.section ?? SECTION;
  const material = options.material ?? MATERIAL;
  const assumed = geometry.tubes.some((t) => t.section === undefined || t.material === undefined);
  const lines = [
    'format: 1',
    `candidate: ${scalarText(options.candidate ?? 'Imported')}`,
    `note: ${scalarText(
      `Stations and tubes from ${file
        .replace(/[^\w.-]+/g, ' ')
        .trim()
        .slice(-80)}.`,
    )}`,
    `# ${PLANES[plane ?? 'space']} The origin must be on the ground under the rear hub.`,
    '# Ends within 0.5 mm have become one station. Rename p1, p2, ... as you come to know them: rear_hub, crank, hinge.',
    ...(assumed
      ? [`# Sections and materials that the source did not name are placeholders: ${section}, ${material}.`]
      : []),
    '# Still to come: joints, parts, drive, fold (docs/project-files.md).',
    'stations:',
    ...[...geometry.stations].map(([name, at]) => `  ${name}: ${point(at)}`),
  ];
  const bodies = [...new Set(geometry.tubes.map((t) => t.body))];
  lines.push(bodies.length > 0 ? 'bodies:' : 'bodies: {}');
  for (const body of bodies) {
    lines.push(`  ${body}:`, '    tubes:');
    for (const t of geometry.tubes.filter((tube) => tube.body === body))
      lines.push(
        `      - {name: ${t.name}, from: ${t.from}, to: ${t.to}, section: ${flow(t.section ?? section)}, material: ${flow(t.material ?? material)}}`,
      );
  }
  return `${lines.join('\n')}\n`;
}
