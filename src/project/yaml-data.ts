/**
 * From YAML nodes to plain data, with the features that project files do without refused where they stand.
 *
 * Maps become objects without prototype, so that no name can reach anything but the file's own content; even so the
 * keys `__proto__` and `constructor` are refused, because readers copy. Of two equal keys the first counts.
 * Anchors, aliases, tags and collections as keys are refused: they hide where a value comes from, and aliases can grow
 * a few lines to gigabytes. Only decimal numbers become numbers; `0x10`, `.inf` and `.nan` stay text, and the reader of
 * the field refuses them in its own words.
 */
import { isAlias, isMap, isScalar, isSeq, type Node, type Pair } from 'yaml';
import type { ProblemCode } from './problems.ts';

export type Report = (
  code: ProblemCode,
  path: readonly (string | number)[],
  range: readonly [number, number],
  message: string,
  hint?: string,
) => void;

const DECIMAL = /^[-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?$/;
const FORBIDDEN: ReadonlySet<string> = new Set(['__proto__', 'constructor']);

/** A key's text as written; undefined for a key that is a collection, an alias or empty. */
export function keyText(pair: Pair): string | undefined {
  const { key } = pair;
  // A migration may have put a bare string there.
  if (typeof key === 'string') return key;
  if (!isScalar(key) || key.value === null) return undefined;
  return typeof key.value === 'string' ? key.value : (key.source ?? String(key.value));
}

const rangeOf = (node: unknown, fallback: readonly [number, number]): readonly [number, number] => {
  const range = (node as Node | null)?.range;
  return range ? [range[0], range[1]] : fallback;
};

function scalarData(value: unknown, source: string | undefined): unknown {
  if (typeof value === 'number')
    return Number.isFinite(value) && (source === undefined || DECIMAL.test(source)) ? value : (source ?? String(value));
  return typeof value === 'string' || typeof value === 'boolean' || value === null ? value : (source ?? null);
}

/** The data of a node; `lineOf` tells the line of an offset, for "first written on line 3". */
export function plainData(
  node: unknown,
  path: readonly (string | number)[],
  parent: readonly [number, number],
  report: Report,
  lineOf: (offset: number) => number,
): unknown {
  const range = rangeOf(node, parent);
  if (isAlias(node)) {
    report(
      'yaml.unsupported',
      path,
      range,
      'aliases (*name) are not used in project files',
      'write the value out, or name it under `dimensions`',
    );
    return null;
  }
  if (typeof node === 'string' || typeof node === 'number' || typeof node === 'boolean') return node;
  if (!isScalar(node) && !isSeq(node) && !isMap(node)) return null;
  if (node.anchor !== undefined)
    report(
      'yaml.unsupported',
      path,
      range,
      'anchors (&name) are not used in project files',
      'name the number under `dimensions` instead',
    );
  // Block and flow collections carry a tag only when the author wrote one.
  if (node.tag !== undefined)
    report(
      'yaml.unsupported',
      path,
      range,
      `tags (${node.tag.slice(0, 40)}) are not used in project files`,
      'leave the tag out',
    );
  if (isScalar(node)) return scalarData(node.value, node.source);
  if (isSeq(node)) return node.items.map((item, i) => plainData(item, [...path, i], range, report, lineOf));
  const data = Object.create(null) as Record<string, unknown>;
  const seen = new Map<string, number>();
  for (const pair of node.items) {
    const key = keyText(pair);
    const keyRange = rangeOf(pair.key, range);
    if (key === undefined) {
      report('yaml.unsupported', path, keyRange, 'a key must be a name', 'names are small letters, digits and _');
      continue;
    }
    const here = [...path, key];
    const first = seen.get(key);
    if (first !== undefined) {
      report(
        'yaml.duplicate_key',
        here,
        keyRange,
        `"${key}" stands here twice; the first is on line ${lineOf(first)}`,
        'remove or rename one of them',
      );
      continue;
    }
    seen.set(key, keyRange[0]);
    if (FORBIDDEN.has(key)) {
      report('name.invalid', here, keyRange, `"${key}" cannot be used as a name`, 'choose another name');
      continue;
    }
    data[key] = plainData(pair.value, here, keyRange, report, lineOf);
  }
  return data;
}
