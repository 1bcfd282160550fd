/**
 * Variants: a set of paths with new values, laid over a candidate before it is resolved.
 *
 * A path names fields by dots: `dimensions.wheelbase`, `bodies.rear.tubes.beam.section`, `parts.bag.mass`. Entries of
 * lists are found by their `name` (cables, holds, tubes, blocks, parts), by the part's or member's usual name where none
 * is given, or by their number from 0; a new name with a whole entry as value adds one. Problems of a changed value point to
 * the variant's entry.
 */
import { nearestName } from './nearest.ts';
import type { Problem } from './problems.ts';
import { valueAt } from './schema/check-structure.ts';
import { NAME } from './schema/values.ts';
import { type Path, problemAt, type SourceDocument } from './text.ts';

/** Where a changed value really stands, by its dotted path in the candidate. */
type Origins = ReadonlyMap<string, { readonly document: SourceDocument; readonly path: Path }>;

/** The candidate itself when no variant is asked for. */
export function withVariant(
  document: SourceDocument,
  variant: string | undefined,
): { document?: SourceDocument; problems: Problem[] } {
  if (variant === undefined) return { document, problems: [] };
  const set = valueAt(document.data, ['variants', variant, 'set']);
  if (set === undefined || set === null || typeof set !== 'object') {
    const known = Object.keys((valueAt(document.data, ['variants']) as object | undefined) ?? {});
    const near = nearestName(variant, known);
    return {
      problems: [
        problemAt(document, ['variants'], 'key', 'name.unknown', `there is no variant \`${variant}\``, {
          found: variant,
          expected: known.length ? `one of ${known.join(', ')}` : 'a variant; the file has none',
          ...(near ? { hint: `did you mean \`${near}\`?` } : {}),
        }),
      ],
    };
  }
  return withDifferences(document, document, ['variants', variant, 'set']);
}

/** A deep copy of plain data; maps stay without prototype, as they were read. */
function copyOf(x: unknown): unknown {
  if (Array.isArray(x)) return x.map(copyOf);
  if (x === null || typeof x !== 'object') return x;
  const out: Record<string, unknown> = Object.create(null);
  for (const [key, value] of Object.entries(x)) out[key] = copyOf(value);
  return out;
}

/** `base` with the settings at `at` of `source` laid over it. */
export function withDifferences(
  base: SourceDocument,
  source: SourceDocument,
  at: Path,
): { document?: SourceDocument; problems: Problem[] } {
  const data = copyOf(base.data) as Record<string, unknown>;
  const origins = new Map<string, { document: SourceDocument; path: Path }>();
  const problems: Problem[] = [];
  const settings = Object.entries(valueAt(source.data, at) as object);
  for (const [dotted, value] of settings) {
    const place = [...at, dotted];
    const keys = dotted.split('.');
    const found = idle(base.data, keys, settings) ?? locate(data, keys, value);
    if ('unknown' in found) {
      const near = nearestName(found.unknown, found.known);
      problems.push(
        problemAt(
          source,
          place,
          'key',
          'variant.path',
          `\`${dotted}\` leads nowhere: there is no \`${found.unknown}\``,
          {
            found: found.unknown,
            expected: found.known.length
              ? `one of ${found.known.join(', ')}`
              : 'a map or a list of named entries before it',
            ...(near ? { hint: `did you mean \`${near}\`?` } : {}),
          },
        ),
      );
      continue;
    }
    const { owner, path } = found;
    (owner as Record<string | number, unknown>)[path.at(-1)!] =
      found.name === undefined ? value : { name: found.name, ...(value as object) };
    origins.set(path.join('.'), { document: source, path: place });
  }
  if (problems.length > 0) return { problems };
  return { document: overlay(base, source, data, origins), problems: [] };
}

type Found = { owner: object; path: (string | number)[]; name?: string } | { unknown: string; known: string[] };
/**
 * A new dimension or station that no other setting uses would change nothing: it is a known one mistyped.
 */
function idle(data: unknown, keys: readonly string[], settings: readonly (readonly [string, unknown])[]) {
  const [field, name] = keys;
  if (keys.length !== 2 || name === undefined || (field !== 'dimensions' && field !== 'stations')) return undefined;
  const known = Object.keys((valueAt(data, [field]) as object | undefined) ?? {});
  if (known.includes(name)) return undefined;
  const word = new RegExp(`(?<![a-z0-9_])${name.replaceAll(/[^a-z0-9_]/g, '.')}(?![a-z0-9_])`);
  const used = settings.some(([other, value]) => other !== keys.join('.') && word.test(JSON.stringify(value)));
  return used ? undefined : { unknown: name, known };
}

/**
 * The last key may be new in a map (a field that the candidate leaves out), or, with an entry as value, the name of a new one
 * in a list (`parts.battery: {part: battery 250, ...}`); everything before it must be there.
 */
function locate(data: unknown, keys: readonly string[], value: unknown): Found {
  let here: unknown = data;
  const path: (string | number)[] = [];
  for (let i = 0; i < keys.length; i++) {
    const key = keys[i]!;
    if (here === null || typeof here !== 'object') return { unknown: key, known: [] };
    const step = Array.isArray(here) ? indexIn(here, key) : key;
    const known = Array.isArray(here) ? here.flatMap((item) => entryNames(item).slice(0, 1)) : Object.keys(here);
    const last = i === keys.length - 1;
    if (Array.isArray(here) && step === undefined && last && isNewEntry(key, value))
      return { owner: here, path: [...path, here.length], name: key };
    if (step === undefined || (!last && !Object.hasOwn(here, step))) return { unknown: key, known };
    path.push(step);
    if (last) return { owner: here, path };
    here = (here as Record<string | number, unknown>)[step];
  }
  return { unknown: '', known: [] };
}

const isNewEntry = (key: string, value: unknown): boolean =>
  NAME.test(key) && typeof value === 'object' && value !== null && !Array.isArray(value);

function indexIn(list: readonly unknown[], key: string): number | undefined {
  if (/^\d+$/.test(key)) return Number(key) < list.length ? Number(key) : undefined;
  const found = list.findIndex((item) => entryNames(item).includes(key));
  return found < 0 ? undefined : found;
}
function entryNames(item: unknown): string[] {
  if (item === null || typeof item !== 'object') return [];
  const { name, from, to, at, part, move, joint } = item as Record<string, unknown>;
  if (typeof name === 'string') return [name];
  if (typeof from === 'string' && typeof to === 'string') return [`${from}_to_${to}`];
  if (typeof part === 'string') {
    const wheel = /^wheel .* (front|rear)$/.exec(part);
    return wheel ? [`${wheel[1]}_wheel`, part] : [part.split(' ')[0]!, part.replaceAll(/[^a-z0-9]+/g, '_'), part];
  }
  if (typeof move === 'string') return [`${move}_${String(joint)}`];
  return typeof at === 'string' ? [`${at}_block`] : [];
}

/**
 * The same document with other data. Places of changed values, and of what lies inside them, are those of the setting;
 * what stands in another file is shown at the line that names that file as base.
 */
function overlay(base: SourceDocument, source: SourceDocument, data: unknown, origins: Origins): SourceDocument {
  const placeOf = (path: Path): { document: SourceDocument; path: Path; exact: boolean } => {
    for (let n = path.length; n > 0; n--) {
      const found = origins.get(path.slice(0, n).join('.'));
      if (found) return { document: found.document, path: [...found.path, ...path.slice(n)], exact: true };
    }
    return base === source ? { document: base, path, exact: true } : { document: source, path: ['base'], exact: false };
  };
  return {
    ...base,
    file: source.file,
    data,
    where: (path, what) => {
      const place = placeOf(path);
      return place.document.where(place.path, place.exact ? what : 'value');
    },
    within: (path, offset, length) => {
      const place = placeOf(path);
      return place.exact ? place.document.within(place.path, offset, length) : place.document.where(place.path);
    },
  };
}
