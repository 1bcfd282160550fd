/** One calculation from JSON text to an answer or to problems; nothing is thrown for bad input. */

import { z } from 'zod';
import { decodeUtf8, nearestName, type Problem } from '#project';
import { issueWords, meantChoice } from './issue-words.ts';
import { type JsonScan, scanJson } from './json-scan.ts';
import { CalcMechanism, CalcRefusal, type CalcTopic } from './topic.ts';

/** A problem of the input; `details` are the topic's own words on why there is no answer. */
export interface CalcProblem extends Problem {
  readonly details?: Readonly<Record<string, unknown>>;
  /** Of a structure that is not held: where it is free, and how (ux … rz). */
  readonly node?: string;
  readonly direction?: string;
}
export type CalcAnswer = { readonly output: unknown } | { readonly problems: readonly CalcProblem[] };

/** As the user knows the input. */
const FILE = 'stdin';
/** Largest input: a million points of a cloud, and no accident with a wrong file. */
const LARGEST_BYTES = 50e6;

type Extra = Partial<Pick<CalcProblem, 'expected' | 'found' | 'hint' | 'length' | 'details'>>;

function problemIn(text: string, offset: number, path: string, message: string, extra: Extra = {}): CalcProblem {
  const before = text.slice(0, offset);
  const line = before.split('\n').length;
  const column = offset - before.lastIndexOf('\n');
  return { code: 'calc.input', severity: 'error', file: FILE, path, line, column, length: 1, message, ...extra };
}

const pathText = (path: readonly PropertyKey[]): string => path.map(String).join('.');

/** The place of a value, or of the nearest one around it that exists. */
function placeOf(scan: JsonScan, path: readonly PropertyKey[]): number {
  for (let n = path.length; n >= 0; n--) {
    const offset = scan.places.get(pathText(path.slice(0, n)));
    if (offset !== undefined) return offset;
  }
  return 0;
}

const at = (value: unknown, path: readonly PropertyKey[]): unknown =>
  path.reduce<unknown>((inner, key) => (inner as Record<PropertyKey, unknown> | null | undefined)?.[key], value);

const shown = (value: unknown): string => {
  const text = typeof value === 'number' ? String(value) : (JSON.stringify(value) ?? 'nothing');
  return text.length > 60 ? `${text.slice(0, 57)}...` : text;
};

/** Keys that the schema knows at that place, for the nearest one to an unknown key. */
function knownKeys(schema: z.ZodType, path: readonly PropertyKey[]): string[] {
  let node: unknown = z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any' });
  const root = node as Record<string, unknown>;
  const inner = (n: unknown, key: PropertyKey): unknown[] => {
    const s = deref(n, root);
    const branches = [...asList(s['anyOf']), ...asList(s['oneOf']), ...asList(s['allOf'])];
    const props = s['properties'] as Record<string, unknown> | undefined;
    const own = typeof key === 'number' ? (asList(s['prefixItems'])[key] ?? s['items']) : props?.[String(key)];
    return own === undefined ? branches.flatMap((branch) => inner(branch, key)) : [own];
  };
  for (const key of path) node = inner(node, key)[0];
  const s = deref(node, root);
  const all = [s, ...asList(s['anyOf']), ...asList(s['oneOf'])].map((n) => deref(n, root)['properties']);
  return all.flatMap((props) => Object.keys((props as object | undefined) ?? {}));
}
const asList = (value: unknown): unknown[] => (Array.isArray(value) ? value : []);
function deref(node: unknown, root: Record<string, unknown>): Record<string, unknown> {
  const s = (node ?? {}) as Record<string, unknown>;
  const ref = s['$ref'];
  if (typeof ref !== 'string' || !ref.startsWith('#/')) return s;
  return (at(root, ref.slice(2).split('/')) ?? {}) as Record<string, unknown>;
}

function schemaProblems(
  topic: CalcTopic,
  text: string,
  scan: JsonScan,
  input: unknown,
  issues: readonly z.core.$ZodIssue[],
): CalcProblem[] {
  return issues.flatMap((issue): CalcProblem[] => {
    if (issue.code === 'unrecognized_keys')
      return issue.keys.map((key) => {
        const path = [...issue.path, key];
        const near = nearestName(key, knownKeys(topic.input, issue.path));
        const hint = near === undefined ? {} : { hint: `did you mean ${near}?` };
        return problemIn(
          text,
          placeOf(scan, path),
          pathText(path),
          `the key ${JSON.stringify(key)} is not known here`,
          hint,
        );
      });
    const found = at(input, issue.path);
    const keyed = issue.code === 'invalid_union' && found !== null && typeof found === 'object';
    const choices = keyed ? knownKeys(topic.input, issue.path) : [];
    if (issue.code === 'invalid_union' && choices.length > 0) {
      const meant = meantChoice(issue, found);
      if (meant) {
        const inside = meant.map((i) => ({ ...i, path: [...issue.path, ...i.path] }));
        return schemaProblems(topic, text, scan, input, inside);
      }
    }
    const { message, expected } =
      choices.length > 0
        ? { message: 'nothing tells what this is', expected: `one of ${choices.join(', ')}` }
        : issueWords(issue, found);
    const extra: Extra = {
      found: shown(found),
      ...(expected === undefined ? {} : { expected }),
      ...(found === undefined ? {} : { length: shown(found).length }),
    };
    return [problemIn(text, placeOf(scan, issue.path), pathText(issue.path), message, extra)];
  });
}

/** Path of the first NaN or Infinity, or undefined. */
function notFinite(value: unknown, path: readonly PropertyKey[] = []): readonly PropertyKey[] | undefined {
  if (typeof value === 'number') return Number.isFinite(value) ? undefined : path;
  if (value === null || typeof value !== 'object') return undefined;
  for (const [key, inner] of Object.entries(value)) {
    const found = notFinite(inner, [...path, key]);
    if (found) return found;
  }
  return undefined;
}

/** Runs one topic on JSON text (bytes must be UTF-8). */
export function runCalc(topic: CalcTopic, source: string | Uint8Array): CalcAnswer {
  if (source.length > LARGEST_BYTES)
    return { problems: [problemIn('', 0, '', `the input is larger than ${LARGEST_BYTES / 1e6} MB`)] };
  const decoded = typeof source === 'string' ? { text: source } : decodeUtf8(source);
  if ('badByte' in decoded)
    return { problems: [problemIn('', 0, '', `the input is not UTF-8 text (byte ${decoded.badByte}, from 0)`)] };
  const { text } = decoded;
  if (text.trim() === '') {
    const hint = `foldwright calc ${topic.name} --example prints an input that works`;
    return { problems: [problemIn(text, 0, '', 'the input is empty; a JSON object is expected on stdin', { hint })] };
  }
  const scan = scanJson(text);
  if (scan.fault) {
    const { offset, length, path, message } = scan.fault;
    return { problems: [problemIn(text, offset, path, message, { length })] };
  }
  const input: unknown = JSON.parse(text.replace(/^\ufeff/, ''));
  const checked = topic.input.safeParse(input);
  if (!checked.success) return { problems: schemaProblems(topic, text, scan, input, checked.error.issues) };
  try {
    const output = topic.run(checked.data);
    const hole = notFinite(output);
    if (hole)
      return {
        problems: [problemIn(text, 0, '', `this input has no finite answer (${pathText(hole)} of the result)`)],
      };
    return { output };
  } catch (error) {
    if (!(error instanceof CalcRefusal)) throw error;
    const extra = Object.keys(error.details).length > 0 ? { details: error.details } : {};
    const path = error.path === '' ? [] : error.path.split('.');
    const problem = problemIn(text, placeOf(scan, path), error.path, error.message, extra);
    if (!(error instanceof CalcMechanism)) return { problems: [problem] };
    return { problems: [{ ...problem, code: 'calc.mechanism', node: error.node, direction: error.direction }] };
  }
}

/** JSON Schemas (2020-12) of a topic's input and output. */
export function calcSchemas(topic: CalcTopic): { input: unknown; output: unknown } {
  return {
    input: z.toJSONSchema(topic.input, { io: 'input' }),
    output: z.toJSONSchema(topic.output, { io: 'output' }),
  };
}
