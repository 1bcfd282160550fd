/** Expressions with units. Signatures first; the parser follows. */
import type { ProblemCode } from './problems.ts';
import type { Dimension } from './units.ts';

/** A problem inside an expression's text; the caller places it in the file (`problemAt(..., {within: {offset, length}})`). */
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
/** Opaque parsed expression. */
export interface ExpressionNode {
  readonly text: string;
  readonly root: unknown;
}
export interface Scope {
  /** `wheelbase`, or `hinge.x`. */
  lookup(name: string): { readonly slot: number; readonly dimension: Dimension } | undefined;
  names(): Iterable<string>;
}
export interface Compiled {
  readonly dimension: Dimension;
  /** True for a bare 0 (and sums of them), which fits any dimension. */
  readonly zero: boolean;
  readonly evaluate: (value: Float64Array) => number;
}
/** `text` may be a number: a YAML scalar without unit. */
export declare function parseExpression(text: string | number): {
  node?: ExpressionNode;
  problems: ExpressionProblem[];
};
/** Names that the expression reads, each once: `wheelbase`, `hinge.x`. */
export declare function references(node: ExpressionNode): string[];
/** `wanted`, when given, is checked too (a bare 0 fits anything). */
export declare function compileExpression(
  node: ExpressionNode,
  scope: Scope,
  wanted?: Dimension,
): { compiled?: Compiled; problems: ExpressionProblem[] };
/** An expression without names: its SI value. */
export declare function evaluateConstant(
  text: string | number,
  wanted?: Dimension,
): { value?: number; dimension?: Dimension; problems: ExpressionProblem[] };
/**
 * Names in an order in which each comes after what it needs; unknown needs are ignored. Each cycle is given whole:
 * `['a', 'b', 'a']`; items on a cycle, or behind one, are not in `order`.
 */
export declare function orderByDependency(
  items: readonly { readonly name: string; readonly needs: readonly string[] }[],
): {
  order: string[];
  cycles: string[][];
};
