/** Expressions with units: reading, names, compiling, order. */
export {
  type Compiled,
  compileExpression,
  type Evaluate,
  evaluateConstant,
  functionNames,
  type Scope,
} from './expression-compile.ts';
export { type ExpressionNode, parseExpression, references, type Term } from './expression-parse.ts';
export type { ExpressionProblem } from './expression-tokens.ts';
export { type Dependent, orderByDependency } from './order.ts';
