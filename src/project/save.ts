/**
 * Changes to a project file as changes to its text: every byte that is not part of the change stays as the author wrote it.
 *
 * Method: the file is parsed, the range of a node is found, the text is spliced there; nothing is printed from the tree.
 * Each change is proved before it is handed out: the new text is read again, and its data must be the old data with
 * exactly the change. What cannot be proved is refused in words, so the worst case is an edit by hand, never a damaged file.
 * Not here: disk, undo, merging two authors.
 */
import { isMap, isSeq, type Node, type Pair, visit, type YAMLMap, type YAMLSeq } from 'yaml';
import { nodeAt, type Path, readDocument, type SourceDocument } from './text.ts';
import { keyText } from './yaml-data.ts';

/** The new text, or why there is none. */
export type Edit =
  | { readonly source: string; readonly refused?: never }
  | { readonly refused: string; readonly source?: never };

type Data = { [key: string]: unknown };
const refuse = (refused: string): Edit => ({ refused });
const words = (path: Path): string => path.join('.') || 'the file';

function open(source: string): SourceDocument | Edit {
  const { document, problems } = readDocument('', source);
  const hard = problems.find((p) => /^(yaml|file|format|name)\./.test(p.code) && p.code !== 'format.missing');
  if (!document || hard) return refuse(`the file has problems of its own: ${hard?.message ?? 'it cannot be read'}`);
  if (document.migrated.length > 0) return refuse('the file has an older format: bring it forward first');
  return document;
}
const isEdit = (value: SourceDocument | Edit): value is Edit => !('yaml' in value);

function same(a: unknown, b: unknown): boolean {
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null) return Object.is(a, b);
  const [x, y] = [Object.entries(a), Object.entries(b)];
  return (
    Array.isArray(a) === Array.isArray(b) &&
    x.length === y.length &&
    x.every(([k, v], i) => y[i]![0] === k && same(v, y[i]![1]))
  );
}

/** A copy of `data` in which the container at `path` has been changed by `change`. */
function changed(data: unknown, path: Path, change: (container: unknown) => unknown): unknown {
  const [step, ...rest] = path;
  if (step === undefined) return change(data);
  if (Array.isArray(data)) return data.map((item, i) => (i === step ? changed(item, rest, change) : item));
  return Object.fromEntries(
    Object.entries(data as Data).map(([k, v]) => [k, k === String(step) ? changed(v, rest, change) : v]),
  );
}

/** The new text if reading it gives `expected`; a refusal otherwise. */
function proved(source: string, expected: unknown, path: Path): Edit {
  const after = readDocument('', source);
  if (after.document && !after.problems.some((p) => p.code.startsWith('yaml.')) && same(after.document.data, expected))
    return { source };
  return refuse(`the change at ${words(path)} would alter more than itself; edit the file by hand`);
}

const eolOf = (source: string): string => (/\r\n/.test(source) ? '\r\n' : '\n');
const splice = (source: string, from: number, to: number, text: string): string =>
  source.slice(0, from) + text + source.slice(to);
const lineStart = (source: string, at: number): number => source.lastIndexOf('\n', at - 1) + 1;
/** The first offset after the line that holds `at`. */
const lineAfter = (source: string, at: number): number => {
  const end = source.indexOf('\n', at);
  return end < 0 ? source.length : end + 1;
};
const rangeOf = (node: unknown): readonly [number, number, number] | undefined =>
  (node as Node | null)?.range ?? undefined;

/** The data of a value given as text, read as it would be in a file. A comment in it would be lost on reading: no value. */
function readValue(text: string): { value: unknown } | undefined {
  const { document, problems } = readDocument('', `format: 1\nvalue: ${text.replaceAll('\n', '\n ')}\n`);
  if (!document || problems.length > 0 || Object.keys(document.data as Data).length !== 2) return undefined;
  let comments = document.yaml.comment != null;
  visit(document.yaml, {
    Node: (_, node) => {
      comments ||= node.comment != null || node.commentBefore != null;
    },
  });
  return comments ? undefined : { value: (document.data as Data)['value'] };
}

/** A text as a YAML scalar that reads back as this very text, also `12` and `yes`: plain where that is safe, else in double quotes. */
export function scalarText(text: string, inFlow = false): string {
  const plain = /^[\w.%(+-][^\n\r\t#:]*$/.test(text) && text.trim() === text && !(inFlow && /[,[\]{}]/.test(text));
  const read = plain ? readValue(text) : undefined;
  if (read && read.value === text) return text;
  return JSON.stringify(text);
}

function inFlow(document: SourceDocument, path: Path): boolean {
  for (let i = 0; i < path.length; i++) {
    const node = nodeAt(document.yaml, path.slice(0, i))?.node;
    if ((isMap(node) || isSeq(node)) && node.flow) return true;
  }
  return false;
}

/**
 * Replaces the value at a path by `text`, YAML as it would be typed there (`420 mm`, `[0, 1, 0]`). A plain text that the
 * place does not allow unquoted, such as `max(a, b)` between braces, is quoted.
 */
export function setValue(source: string, path: Path, text: string): Edit {
  const document = open(source);
  if (isEdit(document)) return document;
  const at = nodeAt(document.yaml, path);
  if (!at || path.length === 0) return refuse(`there is no ${words(path)}`);
  const read = readValue(text);
  const quoted = scalarText(text, true);
  const range = rangeOf(at.node);
  if (!range) return refuse(`${words(path)} has no place in the text`);
  // `key:` without a value: the range is empty and stands right behind the colon.
  const empty = range[0] === range[1];
  const gap = empty && !/[\s]/.test(source[range[0] - 1] ?? ' ') ? ' ' : '';
  // A block collection or block scalar ends behind its line end, which stays.
  const written = source.slice(range[0], range[1]);
  const tail = /[\r\n]\s*$/.exec(written)?.[0] ?? '';
  const to = range[1] - tail.length;
  const replaced = (value: string, data: unknown): Edit => {
    const expected = changed(document.data, path, () => data);
    const edit = proved(splice(source, range[0], to, gap + value), expected, path);
    // A list may stand as far left as its key; any other value on a line of its own must stand further in.
    const alone = source.slice(lineStart(source, range[0]), range[0]).trim() === '';
    return edit.source === undefined && alone
      ? proved(splice(source, range[0], to, `  ${value}`), expected, path)
      : edit;
  };
  const direct = read ? replaced(text, read.value) : refuse('not a value');
  if (direct.source !== undefined) return direct;
  const scalar = read === undefined || typeof read.value === 'string';
  if (scalar && !/[\n\r]/.test(text)) {
    const second = replaced(quoted, text);
    if (second.source !== undefined) return second;
  }
  return read ? direct : refuse(`"${text.slice(0, 60)}" cannot stand at ${words(path)}`);
}

/** Where a new entry goes in a flow collection (behind entry `index - 1`), with the commas it needs. */
function intoFlow(source: string, node: YAMLMap | YAMLSeq, index: number, text: string): string | undefined {
  const range = rangeOf(node);
  if (!range) return undefined;
  const bounds = (item: unknown): readonly [number, number] | undefined => {
    const pair = item as Pair;
    const first = rangeOf(isMap(node) ? pair.key : item);
    const last = isMap(node) ? (rangeOf(pair.value) ?? rangeOf(pair.key)) : first;
    return first && last ? [first[0], last[1]] : undefined;
  };
  if (node.items.length === 0) return splice(source, range[0] + 1, range[1] - 1, text);
  if (index < node.items.length) {
    const next = bounds(node.items[index]);
    return next && splice(source, next[0], next[0], `${text}, `);
  }
  const last = bounds(node.items.at(-1));
  return last && splice(source, last[1], last[1], `, ${text}`);
}

/** Where each entry of a block collection begins: the offset of its `-` or of its key. */
function entryStart(source: string, node: YAMLMap | YAMLSeq, index: number): number | undefined {
  const item = node.items[index];
  if (isMap(node)) return rangeOf((item as Pair | undefined)?.key)?.[0];
  const value = rangeOf(item);
  if (!value) return undefined;
  const dash = source.lastIndexOf('-', value[0] - 1);
  return dash >= 0 && /^-\s+$/.test(source.slice(dash, value[0])) ? dash : undefined;
}

/** The end of a block entry's own text: behind its last line, before blank lines and comments that belong to what follows. */
function entryEnd(source: string, node: YAMLMap | YAMLSeq, index: number): number | undefined {
  const item = node.items[index];
  const range = isMap(node) ? (rangeOf((item as Pair).value) ?? rangeOf((item as Pair).key)) : rangeOf(item);
  if (!range) return undefined;
  const text = source.slice(0, range[1]).trimEnd();
  return lineAfter(source, Math.max(text.length - 1, rangeOf(isMap(node) ? (item as Pair).key : item)?.[0] ?? 0));
}

function intoBlock(source: string, node: YAMLMap | YAMLSeq, index: number, text: string): string | undefined {
  const eol = eolOf(source);
  const model = entryStart(source, node, Math.min(index, node.items.length - 1));
  if (model === undefined) return undefined;
  const indent = source.slice(lineStart(source, model), model);
  // Only entries that stand on lines of their own: not the first key behind a dash.
  if (indent.trim() !== '') return undefined;
  const lines = text.split('\n').join(`${eol}${indent}  `);
  if (index < node.items.length) {
    const at = lineStart(source, model);
    return splice(source, at, at, `${indent}${lines}${eol}`);
  }
  const end = entryEnd(source, node, node.items.length - 1);
  if (end === undefined) return undefined;
  const open = end === source.length && !source.endsWith('\n');
  return splice(source, end, end, open ? `${eol}${indent}${lines}` : `${indent}${lines}${eol}`);
}

/** Puts an item into the sequence at `path`, before item `index`, or at the end. `text` is YAML as typed after the dash. */
export function insertItem(source: string, path: Path, text: string, index = Number.POSITIVE_INFINITY): Edit {
  const document = open(source);
  if (isEdit(document)) return document;
  const node = nodeAt(document.yaml, path)?.node;
  if (!isSeq(node)) return refuse(`${words(path)} is not a list`);
  const read = readValue(text);
  if (!read) return refuse(`"${text.slice(0, 60)}" cannot stand in ${words(path)}`);
  const at = Math.max(0, Math.min(index, node.items.length));
  const next = node.flow ? intoFlow(source, node, at, text) : intoBlock(source, node, at, `- ${text}`);
  if (next === undefined) return refuse(`an item cannot be put into ${words(path)} without moving other text`);
  const expected = changed(document.data, path, (list) => (list as unknown[]).toSpliced(at, 0, read.value));
  return proved(next, expected, path);
}

/** Adds `key: text` at the end of the map at `path` (the file itself for an empty path). */
export function insertKey(source: string, path: Path, key: string, text: string): Edit {
  const document = open(source);
  if (isEdit(document)) return document;
  const node = nodeAt(document.yaml, path)?.node;
  if (!isMap(node)) return refuse(`${words(path)} has no keys`);
  if (nodeAt(document.yaml, [...path, key])) return refuse(`${words([...path, key])} exists already`);
  const read = readValue(text);
  if (!read) return refuse(`"${text.slice(0, 60)}" cannot stand in ${words(path)}`);
  const entry = `${scalarText(key, true)}: ${text}`;
  const at = node.items.length;
  const next = node.flow ? intoFlow(source, node, at, entry) : intoBlock(source, node, at, entry);
  if (next === undefined) return refuse(`a key cannot be added to ${words(path)} without moving other text`);
  return proved(
    next,
    changed(document.data, path, (map) => ({ ...(map as Data), [key]: read.value })),
    path,
  );
}

/** Removes an entry of a map or an item of a list, with its own line end or comma. Comments around it stay. */
export function removeKey(source: string, path: Path): Edit {
  const document = open(source);
  if (isEdit(document)) return document;
  const last = path.at(-1);
  const parentPath = path.slice(0, -1);
  const parent = nodeAt(document.yaml, parentPath)?.node;
  if (last === undefined || !nodeAt(document.yaml, path) || !(isMap(parent) || isSeq(parent)))
    return refuse(`there is no ${words(path)}`);
  const index = isMap(parent) ? parent.items.findIndex((p) => keyText(p) === String(last)) : Number(last);
  const expected = changed(document.data, parentPath, (container) =>
    Array.isArray(container)
      ? container.toSpliced(index, 1)
      : Object.fromEntries(Object.entries(container as Data).filter(([k]) => k !== String(last))),
  );
  const item: unknown = parent.items[index];
  const first = rangeOf(isMap(parent) ? (item as Pair).key : item);
  const end = isMap(parent) ? (rangeOf((item as Pair).value) ?? first) : first;
  if (!first || !end) return refuse(`${words(path)} has no place in the text`);
  if (parent.flow) {
    const comma = /^\s*,[ \t]*/.exec(source.slice(end[1]))?.[0].length;
    const before = /,\s*$/.exec(source.slice(0, first[0]))?.[0].length ?? 0;
    const next =
      comma === undefined
        ? splice(source, first[0] - before, end[1], '')
        : splice(source, first[0], end[1] + comma, '');
    return proved(next, expected, path);
  }
  if (parent.items.length === 1)
    return refuse(`${words(path)} is the last entry of ${words(parentPath)}: remove that instead`);
  const start = entryStart(source, parent, index);
  const stop = entryEnd(source, parent, index);
  if (start === undefined || stop === undefined || source.slice(lineStart(source, start), start).trim() !== '')
    return refuse(`${words(path)} cannot be removed without moving other text`);
  return proved(splice(source, lineStart(source, start), stop, ''), expected, path);
}

/** Gives a key another name. References to it elsewhere are the caller's business. */
export function renameKey(source: string, path: Path, key: string): Edit {
  const document = open(source);
  if (isEdit(document)) return document;
  const pair = nodeAt(document.yaml, path)?.pair;
  const range = rangeOf(pair?.key);
  const parent = path.slice(0, -1);
  if (!range) return refuse(`there is no ${words(path)}`);
  if (nodeAt(document.yaml, [...parent, key])) return refuse(`${words([...parent, key])} exists already`);
  const expected = changed(document.data, parent, (map) =>
    Object.fromEntries(Object.entries(map as Data).map(([k, v]) => [k === String(path.at(-1)) ? key : k, v])),
  );
  return proved(splice(source, range[0], range[1], scalarText(key, inFlow(document, path))), expected, path);
}
