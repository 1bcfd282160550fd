/**
 * Points and lines from CSV (RFC 4180, also with `;` or tabs between the fields).
 *
 * A file holds one or more tables, each with its own header line:
 *   points   name, x_mm, y_mm, z_mm
 *   lines    from, to (names of points above), or x1_mm, y1_mm, z1_mm, x2_mm, y2_mm, z2_mm;
 *            optional in both: name, body, section, material
 * The unit stands in the header (`x_mm`, `x (mm)`, `x [mm]`; mm, cm, m, in); without it millimetres are taken, with a
 * caution. With `;` or tabs a comma is a decimal comma. Lines that begin with # are comments.
 */
import type { Vec3 } from '#kernel';
import { nearestName } from '../nearest.ts';
import type { ProblemCode } from '../problems.ts';
import { DIMENSION, inSI, parseUnit, sameDimension, type Unit } from '../units.ts';
import { legalName, type RawLine, type RawPoint } from './geometry.ts';

export interface RowProblem {
  readonly code: ProblemCode;
  readonly severity: 'error' | 'caution';
  readonly line: number;
  readonly message: string;
  readonly expected?: string;
  readonly found?: string;
  readonly hint?: string;
}
export interface Read {
  readonly points: readonly RawPoint[];
  readonly lines: readonly RawLine[];
  readonly problems: readonly RowProblem[];
}

const COORDINATES = ['x', 'y', 'z', 'x1', 'y1', 'z1', 'x2', 'y2', 'z2'];
const WORDS = ['name', 'from', 'to', 'body', 'section', 'material'];

interface Row {
  readonly line: number;
  readonly fields: readonly string[];
}

/** Rows with the line on which each begins; quotes may hold separators, line ends and doubled quotes. */
function rowsOf(source: string, separator: string): Row[] {
  const rows: Row[] = [];
  let fields: string[] = [];
  let field = '';
  let quoted = false;
  let line = 1;
  let start = 1;
  const endRow = (): void => {
    fields.push(field.trim());
    rows.push({ line: start, fields });
    fields = [];
    field = '';
    start = line + 1;
  };
  for (let i = 0; i < source.length; i++) {
    const c = source[i]!;
    if (c === '"' && quoted && source[i + 1] === '"') {
      field += c;
      i += 1;
    } else if (c === '"' && (quoted || field.trim() === '')) quoted = !quoted;
    else if (c === separator && !quoted) {
      fields.push(field.trim());
      field = '';
    } else if (c === '\n') {
      if (quoted) field += c;
      else endRow();
      line += 1;
    } else field += c;
  }
  if (field !== '' || fields.length > 0) endRow();
  return rows.filter((r) => r.fields.some((f) => f !== '') && !r.fields[0]!.startsWith('#'));
}

interface Column {
  readonly word: string;
  readonly unit: Unit | undefined;
}
const HEADER = /^([a-z]+[12]?)(?:[\s_]*[([]?\s*([a-z]+)\s*[)\]]?)?$/;

function columnOf(text: string): Column | undefined {
  const found = HEADER.exec(text.toLowerCase());
  if (!found) return undefined;
  const [, word = '', unitText] = found;
  if (WORDS.includes(word) && unitText === undefined) return { word, unit: undefined };
  if (!COORDINATES.includes(word)) return undefined;
  if (unitText === undefined) return { word, unit: undefined };
  const unit = parseUnit(unitText);
  return unit && sameDimension(unit.dimension, DIMENSION.length) ? { word, unit } : undefined;
}

const MM = parseUnit('mm')!;

/** A header if every field that is not empty is a known column and at least two are needed ones. */
function headerOf(row: Row): (Column | undefined)[] | undefined {
  const columns = row.fields.map(columnOf);
  const words = new Set(columns.map((c) => c?.word));
  const table =
    (words.has('x') && words.has('name')) ||
    (words.has('from') && words.has('to')) ||
    (words.has('x1') && words.has('x2'));
  return table ? columns : undefined;
}

/** The number in a field; NaN when it is none. Nothing but decimal notation is taken. */
function numberIn(text: string, decimalComma: boolean): number {
  const plain = decimalComma ? text.replace(',', '.') : text;
  return /^[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?$/.test(plain) ? Number(plain) : Number.NaN;
}

export function readCsv(source: string): Read {
  const problems: RowProblem[] = [];
  const points: RawPoint[] = [];
  const lines: RawLine[] = [];
  const report = (row: Row, message: string, extra: Partial<RowProblem> = {}): void => {
    problems.push({ code: 'import.row', severity: 'caution', line: row.line, message, ...extra });
  };
  const text = source.replace(/^\ufeff/, '').replaceAll('\r\n', '\n');
  const firstLine = text.split('\n').find((l) => l.trim() !== '' && !l.startsWith('#')) ?? '';
  const separator = firstLine.includes(';') ? ';' : firstLine.includes('\t') ? '\t' : ',';
  const named = new Map<string, Vec3>();
  let header: (Column | undefined)[] | undefined;

  for (const row of rowsOf(text, separator)) {
    const next = headerOf(row);
    if (next) {
      header = next;
      next.forEach((column, i) => {
        const word = row.fields[i]!;
        if (column && COORDINATES.includes(column.word) && !column.unit)
          report(row, `"${word}" has no unit: millimetres are taken`, {
            code: 'import.unit',
            hint: `write ${word}_mm`,
          });
        if (!column && word !== '') report(row, `the column "${word}" is not read`, { hint: nearHint(word) });
      });
      continue;
    }
    if (!header) {
      report(row, 'a table begins with a header line', {
        severity: 'error',
        expected: 'name,x_mm,y_mm,z_mm or from,to',
        found: row.fields.join(separator).slice(0, 60),
      });
      break;
    }
    const columns = header;
    const field = (word: string): string | undefined => {
      const i = columns.findIndex((c) => c?.word === word);
      return i < 0 ? undefined : (row.fields[i] ?? '');
    };
    /** A place from three columns; y is 0 where a table has no such column: a side view. Undefined after a report. */
    const place = (x: string, y: string, z: string): Vec3 | undefined => {
      const values = [x, y, z].map((word) => {
        const i = columns.findIndex((c) => c?.word === word);
        if (i < 0) return word === y ? 0 : Number.NaN;
        return inSI(numberIn(row.fields[i] ?? '', separator !== ','), columns[i]!.unit ?? MM);
      });
      const bad = values.findIndex((v) => !Number.isFinite(v) || Math.abs(v) > 100);
      if (bad < 0) return values as unknown as Vec3;
      const word = [x, y, z][bad]!;
      const found = field(word);
      if (found === undefined) report(row, `there is no column ${word}`, { expected: `${word}_mm in the header` });
      else if (Number.isFinite(values[bad])) report(row, `${word} is more than 100 m from the origin`, { found });
      else if (found === '') report(row, `${word} is empty`, { hint: 'write 0 where it is 0' });
      else report(row, `${word} is not a number`, { found });
      return undefined;
    };
    const extra = {
      body: field('body') || 'frame',
      ...(field('name') ? { name: field('name')! } : {}),
      ...(field('section') ? { section: field('section')! } : {}),
      ...(field('material') ? { material: field('material')! } : {}),
    };
    if (field('x1') !== undefined) {
      const from = place('x1', 'y1', 'z1');
      const to = from && place('x2', 'y2', 'z2');
      if (from && to) addLine(from, to, row);
    } else if (field('from') !== undefined) {
      const [from, to] = ['from', 'to'].map((word) => {
        const name = field(word)!;
        const at = named.get(name);
        if (!at) {
          const near = nearestName(name, named.keys());
          report(row, `there is no point "${name}" above this line`, {
            found: name,
            ...(near ? { hint: `did you mean ${near}?` } : {}),
          });
        }
        return at;
      });
      if (from && to) addLine(from, to, row);
    } else {
      const at = place('x', 'y', 'z');
      const name = field('name')!;
      if (name === '') report(row, 'the point has no name');
      else if (named.has(name)) report(row, `there are two points "${name}"; the first is kept`, { found: name });
      else if (at) {
        named.set(name, at);
        points.push({ name, at });
        if (legalName(name, 'point') !== name)
          report(row, `"${name}" becomes ${legalName(name, 'point')}`, {
            hint: 'names are small letters, digits and _',
          });
      }
    }
    function addLine(from: Vec3, to: Vec3, at: Row): void {
      if (tooShort(from, to)) report(at, 'the line has no length', { expected: 'more than 0.5 mm' });
      else lines.push({ from, to, ...extra });
    }
  }
  return { points, lines, problems };
}

export function tooShort(a: Vec3, b: Vec3): boolean {
  const [x, y, z] = [a[0] - b[0], a[1] - b[1], a[2] - b[2]];
  return !(x * x + y * y + z * z > 0.25e-6);
}

function nearHint(word: string): string {
  const near = nearestName(word, [...WORDS, ...COORDINATES.map((c) => `${c}_mm`)]);
  return near ? `did you mean ${near}?` : `columns: ${WORDS.join(' ')} x_mm y_mm z_mm x1_mm ... z2_mm`;
}
