/**
 * The words of an expression: numbers with their unit as one token, names with their dots, functions, operators.
 *
 * Limits stand here, before anything recursive runs: 2000 characters, 400 tokens, parentheses 40 deep. A person's
 * formula stays far below them; hostile text is refused in linear time.
 * Not here: structure and meaning (`expression-parse.ts`, `expression-compile.ts`).
 */
import { nearestName } from './nearest.ts';
import type { ProblemCode } from './problems.ts';
import { inSI, parseUnit, type Unit, unitSymbols } from './units.ts';

/** A problem inside an expression's text; the caller places it in the file with `problemAt(…, {within: problem})`. */
export interface ExpressionProblem {
  readonly code: ProblemCode;
  readonly message: string;
  /** Characters from the start of the expression's text. */
  readonly offset: number;
  readonly length: number;
  readonly expected?: string;
  readonly found?: string;
  readonly hint?: string;
}

interface Place {
  readonly from: number;
  readonly to: number;
}
export type Token = Place &
  (
    | { readonly kind: 'number'; readonly value: number; readonly unit: Unit | undefined }
    | { readonly kind: 'name' | 'function'; readonly name: string }
    | { readonly kind: 'sign'; readonly sign: string }
  );

export const LONGEST_EXPRESSION = 2000;
const MOST_TOKENS = 400;
const DEEPEST = 40;

const SPACE = /[ \t\r\n]+/y;
const NUMBER = /(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?/y;
const UNIT = /[ \t]*((?:%|[A-Za-z]\w*)(?:[./](?:%|[A-Za-z]\w*))*)/y;
const NAME = /[A-Za-z_]\w*(?:\.[A-Za-z_]\w*)*/y;
/** Words of YAML and of other languages for no number; not decimals, so they arrive as text. */
const NO_NUMBER = /(?:\.nan|\.NaN|\.NAN|\.inf|\.Inf|\.INF|Infinity|NaN)\b/y;
const SIGN = /[-+*/(),]/y;

const HINTS: Readonly<Record<string, string>> = {
  '^': 'there are no powers: write a * a, or sqrt(a)',
  '×': 'multiplication is written *',
  '·': 'multiplication is written *, and units are joined by a full stop: N.m',
  '÷': 'division is written /',
  '−': 'minus is written - (this is a longer dash)',
  '–': 'minus is written - (this is a longer dash)',
  '°': 'degrees are written deg',
  '€': 'euros are written EUR',
};

function match(pattern: RegExp, text: string, at: number): RegExpExecArray | null {
  pattern.lastIndex = at;
  return pattern.exec(text);
}

/**
 * The unit after a number that ends at `at`: `mm` of `3 mm/hinge.x`, `N/mm` of `3 N/mm`. A division by something that is
 * not a unit is left to the formula; `word` is given alone when what follows is a word but no unit.
 */
function unitAfter(text: string, at: number): { unit?: Unit; word?: string; from: number; to: number } | undefined {
  const found = match(UNIT, text, at);
  if (!found) return undefined;
  const from = at + found[0].length - found[1]!.length;
  for (let word = found[1]!; ; word = word.slice(0, word.lastIndexOf('/'))) {
    const unit = parseUnit(word);
    if (unit) return { unit, from, to: from + word.length };
    if (!word.includes('/')) return { word: found[1]!.split('/')[0]!, from, to: from + word.length };
  }
}

function notAUnit(word: string, from: number): ExpressionProblem {
  const near = nearestName(word, unitSymbols());
  const hint = near
    ? `did you mean ${near}?`
    : `units: ${unitSymbols().join(' ')}, joined by . and /; a product with a name is written 2 * ${word}`;
  const message = `"${word}" is not a unit`;
  return { code: 'expression.unit', message, offset: from, length: word.length, found: word, hint };
}

/** All tokens of a text, or the problems that keep it from being an expression. */
export function tokenize(text: string): { tokens: Token[]; problems: ExpressionProblem[] } {
  const tokens: Token[] = [];
  const problems: ExpressionProblem[] = [];
  const syntax = (message: string, offset: number, length: number, hint?: string): void => {
    problems.push({ code: 'expression.syntax', message, offset, length, ...(hint ? { hint } : {}) });
  };
  if (text.length > LONGEST_EXPRESSION) {
    syntax(`an expression may have ${LONGEST_EXPRESSION} characters, this one has ${text.length}`, 0, 1);
    return { tokens, problems };
  }
  let depth = 0;
  for (let at = 0; at < text.length; ) {
    if (tokens.length >= MOST_TOKENS) {
      syntax(
        `an expression may have ${MOST_TOKENS} terms and signs`,
        at,
        1,
        'give parts of it names under `dimensions`',
      );
      break;
    }
    const space = match(SPACE, text, at);
    if (space) {
      at += space[0].length;
      continue;
    }
    const number = match(NUMBER, text, at);
    if (number) {
      const from = at;
      at += number[0].length;
      const after = unitAfter(text, at);
      if (after) at = after.to;
      if (after?.word) problems.push(notAUnit(after.word, after.from));
      const value = after?.unit ? inSI(Number(number[0]), after.unit) : Number(number[0]);
      if (!Number.isFinite(value)) {
        const message = `${number[0]} is too large to compute with`;
        problems.push({ code: 'expression.not_finite', message, offset: from, length: number[0].length });
      }
      tokens.push({ kind: 'number', value, unit: after?.unit, from, to: at });
      continue;
    }
    const none = match(NO_NUMBER, text, at)?.[0];
    if (none) {
      syntax(`${none} is not a number to compute with`, at, none.length, 'write a finite number');
      break;
    }
    const name = match(NAME, text, at);
    if (name) {
      const from = at;
      at += name[0].length;
      const call = /^[ \t]*\(/.test(text.slice(at, at + 20));
      tokens.push({ kind: call ? 'function' : 'name', name: name[0], from, to: at });
      continue;
    }
    const sign = match(SIGN, text, at)?.[0];
    if (sign) {
      if (sign === '*' && text[at + 1] === '*') {
        syntax('** is not an operator here', at, 2, HINTS['^']);
        break;
      }
      depth += sign === '(' ? 1 : sign === ')' ? -1 : 0;
      if (depth < 0) {
        syntax('this parenthesis was never opened', at, 1);
        break;
      }
      if (depth > DEEPEST) {
        syntax(`parentheses may stand ${DEEPEST} deep`, at, 1);
        break;
      }
      tokens.push({ kind: 'sign', sign, from: at, to: at + 1 });
      at += 1;
      continue;
    }
    const odd = String.fromCodePoint(text.codePointAt(at)!);
    syntax(
      `"${odd}" has no meaning in an expression`,
      at,
      odd.length,
      (Object.hasOwn(HINTS, odd) ? HINTS[odd] : undefined) ??
        'allowed are numbers with units, names, + - * / and parentheses',
    );
    break;
  }
  return { tokens, problems };
}
