/**
 * From the text of a project file to plain data that remembers where each value stands.
 *
 * Everything wrong with the text itself is found here, in one pass: size, encoding, YAML syntax, features that project
 * files do without, duplicate keys, the format. What the data mean is for the schema.
 * Not here: reading files; several documents in one file (refused).
 */
import { type Document, isMap, isScalar, isSeq, type Node, type Pair, parseDocument } from 'yaml';
import { CURRENT_FORMAT, MIGRATIONS, type Migration, migrate } from './migrations.ts';
import type { Problem, ProblemCode } from './problems.ts';
import { decodeUtf8, utf8Length } from './utf8.ts';
import { keyText, plainData } from './yaml-data.ts';
import { DEEPEST_YAML, exceedsLimits, MOST_TOKENS } from './yaml-limits.ts';
import { yamlFaults } from './yaml-words.ts';

export type Path = readonly (string | number)[];
export interface Span {
  /** From 1. */
  readonly line: number;
  readonly column: number;
  /** Characters, at least 1, never beyond the line. */
  readonly length: number;
  /** From 0, in UTF-16 units of the source. */
  readonly offset: number;
}
export interface SourceDocument {
  readonly file: string;
  readonly source: string;
  /**
   * Maps have no prototype (look up with [], Object.hasOwn or Object.entries), sequences are arrays, scalars are
   * strings, finite numbers, booleans or null.
   */
  readonly data: unknown;
  readonly yaml: Document;
  /** What was brought forward from an older format, one line each; empty for a current file. */
  readonly migrated: readonly string[];
  /** The place of a value, or of the key that names it. A path that does not exist gives its nearest existing ancestor. */
  where(path: Path, what?: 'key' | 'value'): Span;
  /** The place of part of a scalar's text (an offset in its value, as read); the whole scalar where that is not one line. */
  within(path: Path, offset: number, length: number): Span;
}
export interface ProblemExtra {
  readonly severity?: 'error' | 'caution';
  readonly expected?: string;
  readonly found?: string;
  readonly hint?: string;
  /** Part of the scalar's text, as an expression's problem gives it. */
  readonly within?: { readonly offset: number; readonly length: number };
}
export interface ReadOptions {
  readonly migrations?: readonly Migration[];
  readonly currentFormat?: number;
}

/** 5 MB. A candidate with a hundred tubes has some 20 kB. */
export const LARGEST_FILE = 5_000_000;
/** One forgotten bracket can make dozens of complaints; the first few say it all. */
const MOST_SYNTAX_PROBLEMS = 10;
const NO_SPACE = /[^\s]/;

/** Turns offsets into lines and columns. */
function spans(source: string): (from: number, to: number) => Span {
  const starts = [0];
  for (let i = source.indexOf('\n'); i >= 0; i = source.indexOf('\n', i + 1)) starts.push(i + 1);
  return (from, to) => {
    const offset = Math.max(0, Math.min(from, source.length));
    let low = 0;
    let high = starts.length - 1;
    while (low < high) {
      const middle = (low + high + 1) >> 1;
      if (starts[middle]! <= offset) low = middle;
      else high = middle - 1;
    }
    const next = starts[low + 1];
    let end = next === undefined ? source.length : next - 1;
    if (source[end - 1] === '\r') end -= 1;
    const length = Math.max(1, Math.min(to, end) - offset);
    return { line: low + 1, column: offset - starts[low]! + 1, length, offset };
  };
}

/** The pair or item at each step of a path, as far as it exists. */
function trail(yaml: Document, path: Path): { pair?: Pair; node: unknown }[] {
  const found: { pair?: Pair; node: unknown }[] = [];
  let node: unknown = yaml.contents;
  for (const step of path) {
    if (isMap(node)) {
      const pair: Pair | undefined = node.items.find((p) => keyText(p) === String(step));
      if (!pair) break;
      node = pair.value;
      found.push({ pair, node });
    } else if (isSeq(node) && typeof step === 'number' && step in node.items) {
      node = node.items[step];
      found.push({ node });
    } else break;
  }
  return found;
}

/** The node at a path; undefined where there is none. */
export const nodeAt = (yaml: Document, path: Path): { pair?: Pair; node: unknown } | undefined => {
  if (path.length === 0) return { node: yaml.contents };
  const found = trail(yaml, path);
  return found.length === path.length ? found.at(-1) : undefined;
};

const range = (node: unknown): readonly [number, number] | undefined => {
  const r = (node as Node | null | undefined)?.range;
  return r ? [r[0], r[1]] : undefined;
};

/**
 * Reads a project file. `document` is missing when nothing can be said about the content: not text, not YAML, not a map,
 * a newer format. Otherwise it is given even beside problems, so that the schema can add its own in the same pass.
 */
export function readDocument(
  file: string,
  source: string | Uint8Array,
  options: ReadOptions = {},
): { document?: SourceDocument; problems: Problem[] } {
  const problems: Problem[] = [];
  let span: (from: number, to: number) => Span = () => ({ line: 1, column: 1, length: 1, offset: 0 });
  const report = (
    code: ProblemCode,
    path: Path,
    at: readonly [number, number],
    message: string,
    extra: Pick<ProblemExtra, 'severity' | 'expected' | 'found' | 'hint'> = {},
  ): void => {
    const { line, column, length } = span(at[0], at[1]);
    problems.push({ code, severity: 'error', file, path: path.join('.'), line, column, length, message, ...extra });
  };

  const size = typeof source === 'string' && source.length <= LARGEST_FILE ? utf8Length(source) : source.length;
  if (size > LARGEST_FILE) {
    report('file.too_large', [], [0, 1], `the file has ${(size / 1e6).toFixed(1)} MB`, {
      expected: `at most ${LARGEST_FILE / 1e6} MB`,
      hint: 'project files are text written by hand; keep measurements and pictures elsewhere',
    });
    return { problems };
  }
  let text: string;
  if (typeof source === 'string') text = source;
  else {
    const decoded = decodeUtf8(source);
    if ('badByte' in decoded) {
      const { badByte } = decoded;
      const value = source[badByte]!.toString(16).toUpperCase().padStart(2, '0');
      const before = decodeUtf8(source.subarray(0, badByte));
      const sound = 'text' in before ? before.text : '';
      span = spans(`${sound}?`);
      const wide = badByte < 2 && (source[0] === 0xff || source[0] === 0xfe);
      report(
        'file.not_utf8',
        [],
        [sound.length, sound.length + 1],
        `the file is not UTF-8 text: byte ${badByte} (from 0) is ${value}`,
        {
          expected: 'UTF-8',
          ...(wide ? { found: 'probably UTF-16' } : {}),
          hint: 'save it as UTF-8 in your editor',
        },
      );
      return { problems };
    }
    text = decoded.text;
  }
  span = spans(text);

  const limit = exceedsLimits(text);
  if (limit?.what === 'depth')
    report('yaml.unsupported', [], [limit.offset, limit.offset + 1], 'lists and maps are nested too deeply here', {
      expected: `at most ${DEEPEST_YAML} levels`,
    });
  if (limit?.what === 'size')
    report('file.too_large', [], [limit.offset, limit.offset + 1], 'the file has too many entries', {
      expected: `at most ${MOST_TOKENS} words and signs`,
    });
  if (limit) return { problems };

  const yaml = parseDocument(text, {
    version: '1.2',
    schema: 'core',
    merge: false,
    uniqueKeys: false,
    strict: true,
    prettyErrors: false,
    logLevel: 'error',
  });
  for (const fault of yamlFaults([...yaml.errors, ...yaml.warnings]).slice(0, MOST_SYNTAX_PROBLEMS))
    report(fault.code, [], fault.range, fault.message, fault.hint ? { hint: fault.hint } : {});
  if (yaml.directives?.yaml.explicit && yaml.directives.yaml.version !== '1.2')
    report('yaml.unsupported', [], [0, 5], 'project files are YAML 1.2', { hint: 'leave the %YAML line out' });
  if (problems.length > 0) return { problems };

  if (!isMap(yaml.contents)) {
    const empty = yaml.contents === null || (isScalar(yaml.contents) && yaml.contents.value === null);
    const first = Math.max(0, text.search(NO_SPACE));
    report(
      empty ? 'format.missing' : 'type.wrong',
      [],
      range(yaml.contents) ?? [first, first + 1],
      empty ? 'the file is empty' : 'the file must be a map of keys and values',
      {
        expected: `a first line \`format: ${options.currentFormat ?? CURRENT_FORMAT}\``,
      },
    );
    return { problems };
  }

  const current = options.currentFormat ?? CURRENT_FORMAT;
  const format = nodeAt(yaml, ['format']);
  let migrated: readonly string[] = [];
  if (!format)
    report('format.missing', ['format'], [0, text.indexOf('\n')], 'the file does not say its format', {
      expected: `a first line \`format: ${current}\``,
    });
  else {
    const value = isScalar(format.node) ? format.node.value : undefined;
    const at = range(format.node) ?? range(format.pair?.key) ?? [0, 1];
    const found = text.slice(at[0], at[1]).slice(0, 40);
    if (typeof value !== 'number' || !Number.isInteger(value) || value < 0)
      report('type.wrong', ['format'], at, 'the format is a whole number', { expected: `${current}`, found });
    else if (value > current) {
      report('format.newer', ['format'], at, `the file has format ${value}; this program reads up to ${current}`, {
        expected: `at most ${current}`,
        found,
        hint: 'use a newer version of the program for this project',
      });
      return { problems };
    } else if (value < current) {
      const done = migrate(yaml, value, options.migrations ?? MIGRATIONS, current);
      if (done) migrated = done;
      else report('type.wrong', ['format'], at, `there is no format ${value}`, { expected: `${current}`, found });
    }
  }

  const data = plainData(
    yaml.contents,
    [],
    [0, 1],
    (code, path, at, message, hint) => report(code, path, at, message, hint ? { hint } : {}),
    (offset) => span(offset, offset + 1).line,
  );
  const where = (path: Path, what: 'key' | 'value' = 'value'): Span => {
    const steps = trail(yaml, path);
    const exact = steps.length === path.length;
    for (let i = steps.length - 1; i >= 0; i--) {
      const { pair, node } = steps[i]!;
      const key = range(pair?.key);
      // What is missing below an existing entry is shown at that entry's key.
      const at = (exact && i === path.length - 1 && what === 'value' ? range(node) : key) ?? key ?? range(node);
      if (at) return span(at[0], at[1]);
    }
    const top = range(yaml.contents)?.[0] ?? 0;
    return span(top, top + 1);
  };
  const within = (path: Path, offset: number, length: number): Span => {
    const node = nodeAt(yaml, path)?.node;
    const at = range(node);
    if (!isScalar(node) || !at) return where(path);
    const written = text.slice(at[0], at[1]);
    const value = typeof node.value === 'string' ? node.value : written;
    const start = written === value ? 0 : written.slice(1, -1) === value ? 1 : -1;
    if (start < 0 || value.includes('\n')) return where(path);
    const from = at[0] + start + Math.min(offset, value.length);
    return span(from, Math.min(from + length, at[0] + start + value.length));
  };
  return { document: { file, source: text, data, yaml, migrated, where, within }, problems };
}

/** A problem at a place of a document. `path` need not exist: a missing key is shown at what should hold it. */
export function problemAt(
  document: SourceDocument,
  path: Path,
  what: 'key' | 'value',
  code: ProblemCode,
  message: string,
  extra: ProblemExtra = {},
): Problem {
  const { within, severity = 'error', ...words } = extra;
  const { line, column, length } = within
    ? document.within(path, within.offset, within.length)
    : document.where(path, what);
  return { code, severity, file: document.file, path: path.join('.'), line, column, length, message, ...words };
}
