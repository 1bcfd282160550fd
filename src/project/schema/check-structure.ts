/**
 * Checks the structure of a document against its schema and words every finding as a problem with its place.
 *
 * Where a value may take several forms the finding of the form that was evidently meant is reported, not one for each.
 */
import type { z } from 'zod';
import { nearestName } from '../nearest.ts';
import type { Problem } from '../problems.ts';
import { type Path, problemAt, type SourceDocument } from '../text.ts';

type Issue = z.core.$ZodIssue;

/** The checked data, absent when there is any problem. */
export function checkStructure<T>(schema: z.ZodType<T>, document: SourceDocument): { data?: T; problems: Problem[] } {
  const result = schema.safeParse(document.data);
  if (result.success) return { data: result.data, problems: [] };
  return { problems: result.error.issues.flatMap((issue) => reword(document, schema, issue, [])) };
}

function reword(document: SourceDocument, schema: z.ZodType, issue: Issue, above: Path): Problem[] {
  const path = [...above, ...(issue.path as Path)];
  const say = (what: 'key' | 'value', code: Problem['code'], message: string, extra = {}): Problem[] => [
    problemAt(document, path, what, code, message, extra),
  ];
  const where = path.length ? path.join('.') : 'the file';
  const found = valueAt(document.data, path);
  switch (issue.code) {
    case 'unrecognized_keys':
      return issue.keys.map((key) => {
        const known = knownKeys(schema, path);
        const near = nearestName(key, known);
        return problemAt(document, [...path, key], 'key', 'key.unknown', `${where} has no field \`${key}\``, {
          found: key,
          expected: `one of ${known.join(', ')}`,
          ...(near ? { hint: `did you mean \`${near}\`?` } : {}),
        });
      });
    case 'invalid_union': {
      if (found === undefined) return missing(document, path);
      const forms = issue.errors as Issue[][];
      if (forms.length === 0) return wrongChoice(document, path, found, choicesAt(schema, path));
      const meant = closestForm(forms, found);
      if (meant) return meant.flatMap((inner) => reword(document, schema, inner, path));
      return say('value', 'type.wrong', `${where} is ${describe(found)}, which does not fit here`, {
        found: describe(found),
        expected: expectedForms(forms),
      });
    }
    case 'invalid_type':
      if (found === undefined) return missing(document, path);
      return say('value', 'type.wrong', `${where} should be ${typeWord(issue.expected)}, not ${describe(found)}`, {
        expected: typeWord(issue.expected),
        found: describe(found),
      });
    case 'invalid_value':
      if (found === undefined) return missing(document, path);
      return wrongChoice(document, path, found, issue.values.map(String));
    case 'invalid_key':
      return say('key', 'name.invalid', `\`${String(path.at(-1))}\` is not a name`, NAME_RULE);
    case 'invalid_format':
      return say('value', 'name.invalid', `${where}: \`${String(found)}\` is not a name`, NAME_RULE);
    case 'too_small':
    case 'too_big': {
      const limit = issue.code === 'too_small' ? `at least ${issue.minimum}` : `at most ${issue.maximum}`;
      const what = Array.isArray(found) ? `${found.length} entries` : found === '' ? 'an empty text' : describe(found);
      return say('value', 'value.range', `${where} has ${what}, outside what is allowed`, {
        expected: Array.isArray(found) ? `${limit} entries` : typeof found === 'string' ? 'some text' : limit,
        found: what,
      });
    }
    default:
      return say('value', 'type.wrong', `${where}: ${issue.message}`, { found: describe(found) });
  }
}

const NAME_RULE = {
  expected: 'small letters, digits and _, beginning with a letter',
  hint: 'names look like `seat_post`',
};

function wrongChoice(document: SourceDocument, path: Path, found: unknown, choices: readonly string[]): Problem[] {
  const near = typeof found === 'string' ? nearestName(found, choices) : undefined;
  return [
    problemAt(document, path, 'value', 'value.choice', `${path.join('.')} cannot be ${describe(found)}`, {
      expected: choices.length === 1 ? choices[0]! : `one of ${choices.join(', ')}`,
      found: describe(found),
      ...(near ? { hint: `did you mean \`${near}\`?` } : {}),
    }),
  ];
}

function missing(document: SourceDocument, path: Path): Problem[] {
  const key = String(path.at(-1));
  const owner = path.length > 1 ? path.slice(0, -1).join('.') : 'the file';
  return [
    problemAt(document, path, 'value', 'key.missing', `${owner} lacks \`${key}\``, { expected: `a field \`${key}\`` }),
  ];
}

/** The form with the right shape (list, map or scalar) whose findings lie deepest, then are fewest. */
function closestForm(forms: readonly Issue[][], found: unknown): Issue[] | undefined {
  const wrongShape = (issues: readonly Issue[]) =>
    issues.some(
      (i) =>
        i.path.length === 0 && (i.code === 'invalid_type' || i.code === 'invalid_value' || i.code === 'invalid_union'),
    );
  const fitting = forms.filter((issues) => !wrongShape(issues));
  if (typeof found === 'string' && fitting.length === 0) {
    // A text where a fixed set of words was possible: report the words, which is more help than "wrong type".
    const words = forms.find((issues) => issues.some((i) => i.code === 'invalid_value'));
    const regex = forms.find((issues) => issues.some((i) => i.code === 'invalid_format'));
    return words ?? regex;
  }
  const key = (issues: readonly Issue[]) =>
    issues.reduce((sum, i) => sum + (i.code === 'unrecognized_keys' ? i.keys.length : 1), 0);
  return fitting.sort((a, b) => key(a) - key(b))[0];
}

const expectedForms = (forms: readonly Issue[][]): string =>
  [...new Set(forms.flatMap((f) => f.filter((i) => i.path.length === 0).map(formWord)))].join(', or ');
const formWord = (issue: Issue): string =>
  issue.code === 'invalid_type'
    ? typeWord(issue.expected)
    : issue.code === 'invalid_value'
      ? `one of ${issue.values.join(', ')}`
      : issue.code === 'invalid_union'
        ? expectedForms(issue.errors as Issue[][])
        : 'another form';

const WORDS: Readonly<Record<string, string>> = {
  string: 'a text',
  number: 'a number',
  int: 'a whole number',
  boolean: 'yes or no',
  array: 'a list',
  tuple: 'a list',
  object: 'a map of fields',
  record: 'a map of names',
};
const typeWord = (expected: string): string => WORDS[expected] ?? expected;
export function describe(value: unknown): string {
  if (value === null || value === undefined) return 'nothing';
  if (Array.isArray(value)) return `a list of ${value.length}`;
  if (typeof value === 'object') return 'a map of fields';
  return `\`${String(value)}\``;
}

export function valueAt(data: unknown, path: Path): unknown {
  let here = data;
  for (const key of path) {
    if (here === null || typeof here !== 'object' || !Object.hasOwn(here, key)) return undefined;
    here = (here as Record<string | number, unknown>)[key];
  }
  return here;
}

/** Names of the fields that may stand at `path`, all forms of a union together. */
export function knownKeys(schema: z.ZodType, path: Path): string[] {
  let level: z.core.$ZodType[] = [schema];
  for (const key of path) level = level.flatMap((s) => inside(s, key));
  return [...new Set(level.flatMap(unwrap).flatMap((s) => Object.keys(shapeOf(s) ?? {})))];
}

/** The fixed words that may stand at `path`, all forms of a union together. */
const choicesAt = (schema: z.ZodType, path: Path): string[] => {
  let level: z.core.$ZodType[] = [schema];
  for (const key of path) level = level.flatMap((s) => inside(s, key));
  return level.flatMap(unwrap).flatMap((s) => (defOf(s).values ?? []).map(String));
};

type Def = {
  type: string;
  shape?: Record<string, z.core.$ZodType>;
  element?: z.core.$ZodType;
  valueType?: z.core.$ZodType;
  innerType?: z.core.$ZodType;
  options?: z.core.$ZodType[];
  items?: z.core.$ZodType[];
  values?: unknown[];
};
const defOf = (s: z.core.$ZodType): Def => s._zod.def as unknown as Def;
const shapeOf = (s: z.core.$ZodType) => (defOf(s).type === 'object' ? defOf(s).shape : undefined);
function unwrap(s: z.core.$ZodType): z.core.$ZodType[] {
  const def = defOf(s);
  if (def.options) return def.options.flatMap(unwrap);
  return def.innerType ? unwrap(def.innerType) : [s];
}
function inside(schema: z.core.$ZodType, key: string | number): z.core.$ZodType[] {
  return unwrap(schema).flatMap((s) => {
    const def = defOf(s);
    const next = def.shape?.[key] ?? def.valueType ?? def.items?.[Number(key)] ?? def.element;
    return next ? [next] : [];
  });
}
