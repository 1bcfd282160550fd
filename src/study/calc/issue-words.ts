/**
 * What a schema found wrong with one value, in plain words; the schema library's own sentences name its types.
 */
import type { z } from 'zod';

type Issue = z.core.$ZodIssue;

const KINDS: Readonly<Record<string, string>> = {
  number: 'a number',
  int: 'a whole number',
  string: 'a text',
  boolean: 'true or false',
  array: 'a list',
  tuple: 'a list',
  object: 'an object {...}',
};
const entries = (n: number | bigint): string => `${n} ${Number(n) === 1 ? 'entry' : 'entries'}`;
const isList = (origin: string): boolean => origin === 'array' || origin === 'tuple' || origin === 'set';

/** A sentence, and what would do instead where that is more than the sentence says. */
export function issueWords(issue: Issue, found: unknown): { message: string; expected?: string } {
  if (found === undefined)
    return {
      message: 'this value is missing',
      ...('expected' in issue ? { expected: issue.expected === 'tuple' ? 'array' : issue.expected } : {}),
    };
  switch (issue.code) {
    case 'invalid_type':
      return { message: `${KINDS[issue.expected] ?? issue.expected} is needed here`, expected: issue.expected };
    case 'too_small': {
      if (isList(issue.origin)) return { message: `the list needs at least ${entries(issue.minimum)}` };
      if (issue.origin === 'string') return { message: 'the text is empty' };
      return {
        message: `the number must be ${issue.inclusive ? `${issue.minimum} or more` : `above ${issue.minimum}`}`,
      };
    }
    case 'too_big': {
      if (isList(issue.origin)) return { message: `the list may have at most ${entries(issue.maximum)}` };
      return {
        message: `the number must be ${issue.inclusive ? `${issue.maximum} or less` : `below ${issue.maximum}`}`,
      };
    }
    case 'invalid_value':
      return {
        message: 'this is not one of the choices',
        expected: `one of ${issue.values.map((v) => JSON.stringify(v)).join(', ')}`,
      };
    case 'invalid_union': {
      // the kinds there are, or the names: the library's own sentence lists neither in words that fit
      const named = issue.errors.flat().flatMap((e) => (e.code === 'invalid_value' ? e.values : []));
      const options = 'options' in issue && Array.isArray(issue.options) ? issue.options : named;
      return options.length === 0
        ? { message: 'this is none of what can stand here' }
        : {
            message: 'this is not one of the choices',
            expected: `one of ${options.map((v) => JSON.stringify(v)).join(', ')}`,
          };
    }
    default:
      return { message: issue.message };
  }
}

/**
 * The issues of the choice that was meant, of a value that fits none: the one with the fewest keys missing or unknown at its
 * top. Undefined when every choice lacks a key there: then nothing tells which was meant.
 */
export function meantChoice(
  issue: Issue & { readonly code: 'invalid_union' },
  found: unknown,
): readonly Issue[] | undefined {
  const keys = new Set(found !== null && typeof found === 'object' ? Object.keys(found) : []);
  const lacking = (issues: readonly Issue[]): number =>
    issues.filter((i) => i.path.length === 0 || (i.path.length === 1 && !keys.has(String(i.path[0])))).length;
  const best = issue.errors.toSorted((a, b) => lacking(a) - lacking(b))[0];
  const lacks = best?.some((i) => i.path.length === 1 && !keys.has(String(i.path[0]))) ?? true;
  return best && keys.size > 0 && !lacks ? best : undefined;
}
