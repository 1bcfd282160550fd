/**
 * From an expression's tree to a function over a table of values, with its dimension checked through the whole tree.
 *
 * All problems are collected: a part that failed takes any dimension, so that one mistake is reported once. A bare 0
 * fits any dimension; every other number without unit is a plain number.
 * Not here: dimensions with fractional exponents (`sqrt` of a length is refused).
 */
import { type ExpressionNode, type ExpressionProblem, parseExpression, type Term } from './expression-parse.ts';
import { nearestName } from './nearest.ts';
import { DIMENSION, type Dimension, describeDimension, nameDimension, sameDimension, timesDimension } from './units.ts';

export interface Scope {
  /** The slot of a value in the table, and its dimension: `wheelbase`, or `hinge.x`. */
  lookup(name: string): { readonly slot: number; readonly dimension: Dimension } | undefined;
  /** Everything that can be looked up, for the nearest known name. */
  names(): Iterable<string>;
}
export type Evaluate = (value: Float64Array) => number;
export interface Compiled {
  readonly dimension: Dimension;
  /** True for a bare 0 and what is made of nothing else: it fits any dimension. */
  readonly zero: boolean;
  /** SI. NaN or infinite where the formula has no value, as at a division by zero: the caller checks. */
  readonly evaluate: Evaluate;
}

/** What a part of the tree comes to; no dimension where a problem has been reported already. */
interface Part {
  readonly dimension: Dimension | undefined;
  readonly zero: boolean;
  readonly evaluate: Evaluate;
}
const UNKNOWN: Part = { dimension: undefined, zero: false, evaluate: () => Number.NaN };

interface Rule {
  readonly least: number;
  readonly most: number;
  readonly takes: 'angle' | 'number' | 'alike' | 'square';
  readonly gives: 'angle' | 'number' | 'alike' | 'root';
  readonly of: (...values: number[]) => number;
}
/** Plain square root of the sum of squares: `Math.hypot` differs between engines in the last digit. */
const hypotenuse = (...values: number[]): number => Math.sqrt(values.reduce((sum, v) => sum + v * v, 0));
const FUNCTIONS: ReadonlyMap<string, Rule> = new Map<string, Rule>([
  ['sin', { least: 1, most: 1, takes: 'angle', gives: 'number', of: Math.sin }],
  ['cos', { least: 1, most: 1, takes: 'angle', gives: 'number', of: Math.cos }],
  ['tan', { least: 1, most: 1, takes: 'angle', gives: 'number', of: Math.tan }],
  ['asin', { least: 1, most: 1, takes: 'number', gives: 'angle', of: Math.asin }],
  ['acos', { least: 1, most: 1, takes: 'number', gives: 'angle', of: Math.acos }],
  ['atan', { least: 1, most: 1, takes: 'number', gives: 'angle', of: Math.atan }],
  ['atan2', { least: 2, most: 2, takes: 'alike', gives: 'angle', of: Math.atan2 }],
  ['sqrt', { least: 1, most: 1, takes: 'square', gives: 'root', of: Math.sqrt }],
  ['hypot', { least: 1, most: 20, takes: 'alike', gives: 'alike', of: hypotenuse }],
  ['abs', { least: 1, most: 1, takes: 'alike', gives: 'alike', of: Math.abs }],
  ['min', { least: 1, most: 20, takes: 'alike', gives: 'alike', of: Math.min }],
  ['max', { least: 1, most: 20, takes: 'alike', gives: 'alike', of: Math.max }],
]);
export const functionNames = (): readonly string[] => [...FUNCTIONS.keys()];

class Compiler {
  readonly problems: ExpressionProblem[] = [];
  readonly text: string;
  readonly scope: Scope;
  constructor(text: string, scope: Scope) {
    this.text = text;
    this.scope = scope;
  }

  report(code: ExpressionProblem['code'], message: string, at: Term, extra: Partial<ExpressionProblem> = {}): Part {
    this.problems.push({ code, message, offset: at.from, length: Math.max(1, at.to - at.from), ...extra });
    return UNKNOWN;
  }
  /** What stands in the text for a term, as `found`. */
  found(term: Term, dimension: Dimension): string {
    const text = this.text.slice(term.from, term.to);
    return `${text.length > 40 ? `${text.slice(0, 37)}...` : text}, ${nameDimension(dimension)}`;
  }

  part(term: Term): Part {
    switch (term.kind) {
      case 'number': {
        const { value, dimension, zero } = term;
        return { dimension, zero, evaluate: () => value };
      }
      case 'name':
        return this.name(term);
      case 'minus': {
        const of = this.part(term.of);
        const inner = of.evaluate;
        return { ...of, evaluate: (v) => -inner(v) };
      }
      case 'binary':
        return this.binary(term);
      case 'call':
        return this.call(term);
    }
  }

  name(term: Term & { kind: 'name' }): Part {
    const known = this.scope.lookup(term.name);
    if (known) {
      const { slot, dimension } = known;
      return { dimension, zero: false, evaluate: (v) => v[slot]! };
    }
    const near = nearestName(term.name, this.scope.names());
    const hint = near
      ? `did you mean ${near}?`
      : FUNCTIONS.has(term.name)
        ? `${term.name} is a function: write ${term.name}(...)`
        : 'names are dimensions of this file, or station.x, station.y, station.z';
    return this.report('expression.name', `"${term.name}" is not known here`, term, { found: term.name, hint });
  }

  binary(term: Term & { kind: 'binary' }): Part {
    const left = this.part(term.left);
    const right = this.part(term.right);
    const { evaluate: a } = left;
    const { evaluate: b } = right;
    if (term.operator === '*' || term.operator === '/') {
      const product = term.operator === '*';
      const known = left.dimension && right.dimension;
      return {
        dimension: known ? timesDimension(left.dimension, right.dimension, product ? 1 : -1) : undefined,
        zero: false,
        evaluate: product ? (v) => a(v) * b(v) : (v) => a(v) / b(v),
      };
    }
    const plus = term.operator === '+';
    const joined = this.alike([term.left, term.right], [left, right], (first, other) =>
      plus
        ? `${nameDimension(other)} cannot be added to ${nameDimension(first)}`
        : `${nameDimension(other)} cannot be taken from ${nameDimension(first)}`,
    );
    return { ...joined, evaluate: plus ? (v) => a(v) + b(v) : (v) => a(v) - b(v) };
  }

  /** The common dimension of parts that must agree; reports each that does not. */
  alike(
    terms: readonly Term[],
    parts: readonly Part[],
    words: (first: Dimension, other: Dimension) => string,
  ): Pick<Part, 'dimension' | 'zero'> {
    const first = parts.find((p) => p.dimension && !p.zero)?.dimension;
    if (!first)
      return {
        dimension: parts.some((p) => !p.dimension) ? undefined : DIMENSION.number,
        zero: parts.every((p) => p.zero),
      };
    let sound = true;
    parts.forEach((p, i) => {
      if (!p.dimension || p.zero || sameDimension(p.dimension, first)) return;
      sound = false;
      const term = terms[i]!;
      this.report('expression.unit', words(first, p.dimension), term, {
        expected: describeDimension(first),
        found: this.found(term, p.dimension),
      });
    });
    return { dimension: sound && parts.every((p) => p.dimension) ? first : undefined, zero: false };
  }

  call(term: Term & { kind: 'call' }): Part {
    const rule = FUNCTIONS.get(term.name);
    const parts = term.of.map((of) => this.part(of));
    const whole: Term = { kind: 'name', name: term.name, from: term.from, to: term.from + term.name.length };
    if (!rule) {
      const near = nearestName(term.name, FUNCTIONS.keys());
      const hint = near ? `did you mean ${near}?` : `functions: ${functionNames().join(' ')}`;
      return this.report('expression.name', `"${term.name}" is not a function`, whole, { found: term.name, hint });
    }
    if (parts.length < rule.least || parts.length > rule.most) {
      const wanted = rule.least === rule.most ? `${rule.least}` : `${rule.least} to ${rule.most}`;
      const message = `${term.name} takes ${wanted} value${wanted === '1' ? '' : 's'}, not ${parts.length}`;
      return this.report('expression.syntax', message, whole);
    }
    let common: Pick<Part, 'dimension' | 'zero'>;
    if (rule.takes === 'alike') {
      const words = (first: Dimension, other: Dimension): string =>
        `${term.name} takes values of one kind, and ${nameDimension(other)} is not ${nameDimension(first)}`;
      common = this.alike(term.of, parts, words);
    } else common = this.single(term, parts[0]!, rule);
    const inner = parts.map((p) => p.evaluate);
    const [x, y] = inner as [Evaluate, Evaluate];
    const { of } = rule;
    const evaluate: Evaluate =
      inner.length === 1
        ? (v) => of(x(v))
        : inner.length === 2
          ? (v) => of(x(v), y(v))
          : (v) => of(...inner.map((e) => e(v)));
    if (rule.gives === 'alike') return { ...common, evaluate };
    if (rule.gives === 'root')
      return { dimension: common.dimension && halved(common.dimension), zero: common.zero, evaluate };
    return { dimension: common.dimension && DIMENSION[rule.gives], zero: false, evaluate };
  }

  /** Checks the one value of a function that wants an angle, a number, or something with a square root. */
  single(term: Term & { kind: 'call' }, part: Part, rule: Rule): Pick<Part, 'dimension' | 'zero'> {
    const at = term.of[0]!;
    if (!part.dimension || part.zero) return part;
    if (rule.takes === 'square') {
      if (halved(part.dimension)) return part;
      const message = `${nameDimension(part.dimension)} has no square root with a unit`;
      return this.report('expression.unit', message, at, { found: this.found(at, part.dimension) });
    }
    const wanted = rule.takes === 'angle' ? DIMENSION.angle : DIMENSION.number;
    if (sameDimension(part.dimension, wanted)) return part;
    return this.report('expression.unit', `${term.name} needs ${nameDimension(wanted)}`, at, {
      expected: describeDimension(wanted),
      found: this.found(at, part.dimension),
    });
  }
}

function halved(d: Dimension): Dimension | undefined {
  if (d.some((n) => n % 2 !== 0)) return undefined;
  return [d[0] / 2, d[1] / 2, d[2] / 2, d[3] / 2, d[4] / 2];
}

/** Compiles against a scope. `wanted`, when given, is what the whole must be: `DIMENSION.length`. */
export function compileExpression(
  node: ExpressionNode,
  scope: Scope,
  wanted?: Dimension,
): { compiled?: Compiled; problems: ExpressionProblem[] } {
  const compiler = new Compiler(node.text, scope);
  const { dimension, zero, evaluate } = compiler.part(node.root);
  if (!dimension || compiler.problems.length > 0) return { problems: compiler.problems };
  if (wanted && !zero && !sameDimension(dimension, wanted)) {
    const bare = node.root.kind === 'number' && sameDimension(dimension, DIMENSION.number);
    const unit = describeDimension(wanted).match(/\(([^,)]+)/)?.[1];
    compiler.report('expression.unit', `${nameDimension(wanted)} is needed here`, node.root, {
      expected: describeDimension(wanted),
      found: compiler.found(node.root, dimension),
      ...(bare && unit ? { hint: `write the unit: ${node.text.trim()} ${unit}` } : {}),
    });
    return { problems: compiler.problems };
  }
  return { compiled: { dimension: zero && wanted ? wanted : dimension, zero, evaluate }, problems: [] };
}

const NOTHING_KNOWN: Scope = { lookup: () => undefined, names: () => [] };
const NO_VALUES = new Float64Array(0);

/** The SI value of an expression without names; problems where it has names, the wrong dimension, or no finite value. */
export function evaluateConstant(
  text: string | number,
  wanted?: Dimension,
): { value?: number; dimension?: Dimension; problems: ExpressionProblem[] } {
  const parsed = parseExpression(text);
  if (!parsed.node) return { problems: parsed.problems };
  const { compiled, problems } = compileExpression(parsed.node, NOTHING_KNOWN, wanted);
  if (!compiled) return { problems };
  const value = compiled.evaluate(NO_VALUES);
  if (!Number.isFinite(value)) {
    const message = 'this has no finite value';
    return {
      problems: [
        { code: 'expression.not_finite', message, offset: 0, length: parsed.node.text.length, found: String(value) },
      ],
    };
  }
  return { value, dimension: compiled.dimension, problems: [] };
}
