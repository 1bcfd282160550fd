/**
 * Reading numbers of a document into slots, with every finding noted at its place.
 *
 * A number that cannot be read still gets a slot (NaN, marked broken), so that one mistake is reported once and the rest
 * of the file is checked all the same.
 */
import { compileExpression, type ExpressionProblem, parseExpression, references, type Scope } from '../expression.ts';
import type { Problem, ProblemCode } from '../problems.ts';
import type { Amount } from '../schema/values.ts';
import { type Path, type ProblemExtra, problemAt, type SourceDocument } from '../text.ts';
import { DIMENSION, type Dimension, parseUnit, sameDimension } from '../units.ts';
import { constant, define, newProgram, type Program, reserve } from './program.ts';

export interface Reader {
  readonly document: SourceDocument;
  readonly problems: Problem[];
  readonly program: Program;
  readonly scope: Scope;
  /** Slots that could not be read; no further problem is reported about what depends on them. */
  readonly broken: Set<number>;
  /** Names of joints, members and parts that could not be read; what refers to them is not reported as unknown. */
  readonly lost: Set<string>;
}
/** Names that expressions may use, filled while dimensions and stations are declared. */
export type Symbols = Map<string, { readonly slot: number; readonly dimension: Dimension }>;

export function newReader(document: SourceDocument, symbols: Symbols): Reader {
  return {
    document,
    problems: [],
    program: newProgram(),
    broken: new Set(),
    lost: new Set(),
    scope: { lookup: (name) => symbols.get(name), names: () => symbols.keys() },
  };
}

/** Part of a scalar's text in which an expression stands, as in `round 50 x 2 mm`. */
export interface Within {
  readonly offset: number;
}

/** Slot of the number at `path`. */
export function readAmount(reader: Reader, path: Path, raw: Amount, dimension: Dimension, within?: Within): number {
  const slot = reserve(reader.program, {
    path,
    dimension,
    unit: unitOf(String(raw), dimension),
    text: String(raw),
    reads: [],
  });
  readInto(reader, slot, path, raw, dimension, within);
  return slot;
}
/** The same into a slot that exists already. */
export function readInto(
  reader: Reader,
  slot: number,
  path: Path,
  raw: Amount,
  dimension: Dimension | undefined,
  within?: Within,
): Dimension | undefined {
  const fail = (problems: readonly ExpressionProblem[]): undefined => {
    reader.broken.add(slot);
    for (const p of problems) noteExpression(reader, path, p, within?.offset ?? 0);
  };
  const parsed = parseExpression(raw);
  if (!parsed.node) return fail(parsed.problems);
  const reads = references(parsed.node).map((name) => reader.scope.lookup(name)?.slot ?? -1);
  if (reads.some((read) => reader.broken.has(read))) return fail([]);
  const { compiled, problems } = compileExpression(parsed.node, reader.scope, dimension);
  if (!compiled) return fail(problems);
  define(reader.program, slot, compiled.evaluate, reads);
  return compiled.dimension;
}
export function noteExpression(reader: Reader, path: Path, p: ExpressionProblem, offset = 0): void {
  const { expected, found, hint = whereFrom(reader, p) } = p;
  note(reader, path, 'value', p.code, p.message, {
    within: { offset: offset + p.offset, length: p.length },
    ...(expected === undefined ? {} : { expected }),
    ...(found === undefined ? {} : { found }),
    ...(hint === undefined ? {} : { hint }),
  });
}

/** Of a unit that does not fit: what the name before it stands for, and where that is written. */
function whereFrom(reader: Reader, p: ExpressionProblem): string | undefined {
  const name = p.code === 'expression.unit' ? /^([a-z][a-z0-9_]*), /.exec(p.found ?? '')?.[1] : undefined;
  const info = name === undefined ? undefined : reader.program.slots[reader.scope.lookup(name)?.slot ?? -1];
  if (!info?.text) return undefined;
  return `\`${name}\` is ${info.text} (line ${reader.document.where(info.path).line})`;
}

/** Slots of a list of numbers; one trailing unit serves the whole list. */
export function readAmounts(reader: Reader, path: Path, raw: readonly Amount[], dimension: Dimension): number[] {
  return shareUnit(raw).map((item, i) => readAmount(reader, [...path, i], item, dimension));
}
/** `[60, 45, '70 mm']` → `['60 mm', '45 mm', '70 mm']`; a bare 0 stays. */
export function shareUnit(raw: readonly Amount[]): Amount[] {
  const unit = NUMBER_WITH_UNIT.exec(String(raw.at(-1)))?.[1];
  if (!unit || !parseUnit(unit)) return [...raw];
  return raw.map((item) => (BARE_NUMBER.test(String(item)) && Number(item) !== 0 ? `${item} ${unit}` : item));
}
const BARE_NUMBER = /^\s*[-+]?(\d+\.?\d*|\.\d+)(e[-+]?\d+)?\s*$/i;
const NUMBER_WITH_UNIT = /^\s*[-+]?(?:\d+\.?\d*|\.\d+)(?:e[-+]?\d+)?\s*([^\d\s.].*?)\s*$/i;

/** A number that the file leaves out, from a default in SI. */
export const defaultAmount = (reader: Reader, path: Path, value: number, dimension: Dimension): number =>
  constant(reader.program, value, { path, dimension, unit: usualUnit(dimension), text: '', reads: [] });
export const amountOr = (
  reader: Reader,
  path: Path,
  raw: Amount | undefined,
  dimension: Dimension,
  fallback: number,
): number =>
  raw === undefined ? defaultAmount(reader, path, fallback, dimension) : readAmount(reader, path, raw, dimension);
/** -1 where the file does not give it. */
export const amountOrNone = (reader: Reader, path: Path, raw: Amount | undefined, dimension: Dimension): number =>
  raw === undefined ? -1 : readAmount(reader, path, raw, dimension);

export function note(
  reader: Reader,
  path: Path,
  what: 'key' | 'value',
  code: ProblemCode,
  message: string,
  extra: ProblemExtra = {},
): void {
  reader.problems.push(problemAt(reader.document, path, what, code, message, extra));
}

const USUAL: readonly [Dimension, string][] = [
  [DIMENSION.number, ''],
  [DIMENSION.length, 'mm'],
  [DIMENSION.angle, 'deg'],
  [DIMENSION.mass, 'kg'],
  [DIMENSION.time, 's'],
  [DIMENSION.force, 'N'],
  [DIMENSION.money, 'EUR'],
  [DIMENSION.torque, 'N.m'],
  [DIMENSION.power, 'W'],
  [DIMENSION.stiffness, 'N/mm'],
  [DIMENSION.rotationalStiffness, 'N.m/rad'],
  [DIMENSION.speed, 'km/h'],
  [DIMENSION.inertia, 'kg.m2'],
];
export const usualUnit = (dimension: Dimension): string => USUAL.find(([d]) => sameDimension(d, dimension))?.[1] ?? '';
const LAST_UNIT = /([A-Za-z%][\w%./]*)\s*$/;
export function unitOf(text: string, dimension: Dimension): string {
  const last = LAST_UNIT.exec(text)?.[1];
  const unit = last ? parseUnit(last) : undefined;
  return unit && sameDimension(unit.dimension, dimension) ? unit.text : usualUnit(dimension);
}
