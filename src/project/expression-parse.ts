/**
 * Expressions with units: `beam_height - 300 mm`, `2 * wheelbase / 3`, `hypot(hinge.x - crank.x, 20 mm)`.
 *
 * Our tokens, jsep's grammar, our tree: each number, name and function is handed to jsep as a placeholder (`t7`), so that
 * jsep sees nothing but structure and cannot be talked into anything, and every node keeps its place in the text. The
 * tree is compiled to closures over a table of values (SI); nothing is ever evaluated as code.
 * Not here: powers, comparisons, conditions, vectors.
 */
import jsep from 'jsep';
import { type ExpressionProblem, tokenize } from './expression-tokens.ts';
import { DIMENSION, type Dimension } from './units.ts';

export type { ExpressionProblem } from './expression-tokens.ts';

interface Place {
  readonly from: number;
  readonly to: number;
}
/** `zero`: a bare 0, which fits any dimension. */
export type Term = Place &
  (
    | { readonly kind: 'number'; readonly value: number; readonly dimension: Dimension; readonly zero: boolean }
    | { readonly kind: 'name'; readonly name: string }
    | { readonly kind: 'minus'; readonly of: Term }
    | { readonly kind: 'binary'; readonly operator: '+' | '-' | '*' | '/'; readonly left: Term; readonly right: Term }
    | { readonly kind: 'call'; readonly name: string; readonly of: readonly Term[] }
  );
export interface ExpressionNode {
  readonly text: string;
  readonly root: Term;
}

type Tree = { readonly type: string; readonly [key: string]: unknown };
class Misplaced extends Error {
  readonly from: number;
  readonly to: number;
  readonly hint: string | undefined;
  constructor(message: string, from: number, to: number, hint?: string) {
    super(message);
    this.hint = hint;
    this.from = from;
    this.to = to;
  }
}

/** Reads an expression; `text` may be a number, as YAML gives a scalar without unit. Problems instead of a node otherwise. */
export function parseExpression(text: string | number): { node?: ExpressionNode; problems: ExpressionProblem[] } {
  const source = String(text);
  if (typeof text === 'number' && !Number.isFinite(text)) {
    const message = `${source} is not a number to compute with`;
    return { problems: [{ code: 'expression.not_finite', message, offset: 0, length: source.length }] };
  }
  const { tokens, problems } = tokenize(source);
  if (problems.length > 0) return { problems };
  const syntax = (message: string, from: number, to: number, hint?: string): { problems: ExpressionProblem[] } => ({
    problems: [
      { code: 'expression.syntax', message, offset: from, length: Math.max(1, to - from), ...(hint ? { hint } : {}) },
    ],
  });
  if (tokens.length === 0) return syntax('an expression is missing here', 0, source.length);

  // The text for jsep, and where each token starts in it.
  let fed = '';
  const fedAt: number[] = [];
  tokens.forEach((token, i) => {
    fedAt.push(fed.length);
    fed += `${token.kind === 'sign' ? token.sign : `t${i}`} `;
  });
  /** The token at a place in jsep's text; the end of the expression when there is none. */
  const placeOf = (index: number): Place => {
    const i = fedAt.findLastIndex((start) => start <= index);
    const token = index >= fed.trimEnd().length ? undefined : tokens[i];
    return token ?? { from: tokens.at(-1)!.to, to: tokens.at(-1)!.to + 1 };
  };
  const tokenOf = (tree: Tree): (typeof tokens)[number] | undefined =>
    tree.type === 'Identifier' ? tokens[Number(String(tree['name']).slice(1))] : undefined;

  const convert = (tree: Tree): Term => {
    const token = tokenOf(tree);
    if (token?.kind === 'number') {
      const { value, unit, from, to } = token;
      const dimension = unit?.dimension ?? DIMENSION.number;
      return { kind: 'number', value, dimension, zero: value === 0 && !unit, from, to };
    }
    if (token?.kind === 'name') {
      const { name, from, to } = token;
      if (name === 'pi') return { kind: 'number', value: Math.PI, dimension: DIMENSION.number, zero: false, from, to };
      return { kind: 'name', name, from, to };
    }
    if (tree.type === 'UnaryExpression') {
      const of = convert(tree['argument'] as Tree);
      return tree['operator'] === '-' ? { kind: 'minus', of, from: Math.max(0, of.from - 1), to: of.to } : of;
    }
    if (tree.type === 'BinaryExpression') {
      const left = convert(tree['left'] as Tree);
      const right = convert(tree['right'] as Tree);
      const operator = tree['operator'] as '+' | '-' | '*' | '/';
      return { kind: 'binary', operator, left, right, from: left.from, to: right.to };
    }
    if (tree.type === 'CallExpression') {
      const callee = tokenOf(tree['callee'] as Tree);
      const given = (tree['arguments'] as (Tree | null)[]).map((a) => {
        if (!a) throw new Misplaced('a value is missing between the commas', callee?.from ?? 0, callee?.to ?? 1);
        return convert(a);
      });
      if (callee?.kind !== 'function') {
        const from = callee?.from ?? Math.max(0, (given[0]?.from ?? 1) - 1);
        throw new Misplaced('an operator is missing before the parenthesis', from, callee?.to ?? from + 1);
      }
      return { kind: 'call', name: callee.name, of: given, from: callee.from, to: (given.at(-1)?.to ?? callee.to) + 1 };
    }
    if (tree.type === 'Compound') {
      const comma = tokens.findIndex(
        (t, i) =>
          t.kind === 'sign' && t.sign === ',' && tokens[i - 1]?.kind === 'number' && t.from === tokens[i - 1]!.to,
      );
      const after = tokens[comma + 1];
      if (comma > 0 && after?.kind === 'number' && after.from === tokens[comma]!.to)
        throw new Misplaced(
          'a comma stands in a number',
          tokens[comma - 1]!.from,
          after.to,
          `the decimal sign is a full stop: ${source.slice(tokens[comma - 1]!.from, after.to).replace(',', '.')}`,
        );
      const parts = (tree['body'] as Tree[]).map(convert);
      const second = parts[1] ?? parts[0];
      throw new Misplaced('an operator is missing before this', second?.from ?? 0, second?.to ?? 1);
    }
    throw new Misplaced('this is not an expression', 0, source.length);
  };

  let tree: Tree;
  try {
    tree = jsep(fed) as unknown as Tree;
  } catch (error) {
    const { index, description } = error as { index?: unknown; description?: unknown };
    if (typeof index !== 'number') throw error;
    const place = placeOf(index);
    const unclosed = /Unclosed|Expected \)/.test(String(description));
    const message = unclosed ? 'a closing parenthesis is missing' : 'a number, a name or a parenthesis is missing here';
    return syntax(message, place.from, place.to);
  }
  try {
    return { node: { text: source, root: convert(tree) }, problems: [] };
  } catch (error) {
    if (error instanceof Misplaced) return syntax(error.message, error.from, error.to, error.hint);
    throw error;
  }
}

/** Names that the expression reads, each once, in the order of the text: `wheelbase`, `hinge.x`. */
export function references(node: ExpressionNode): string[] {
  const found = new Set<string>();
  const visit = (term: Term): void => {
    if (term.kind === 'name') found.add(term.name);
    else if (term.kind === 'minus') visit(term.of);
    else if (term.kind === 'binary') {
      visit(term.left);
      visit(term.right);
    } else if (term.kind === 'call') for (const of of term.of) visit(of);
  };
  visit(node.root);
  return [...found];
}
