/**
 * Problems of project files as data: collected in one pass, never thrown, rendered in one place.
 *
 * `line` and `column` count from 1. `path` is the place in the document (`joints.main.axis.2`). `expected` and `found`
 * are short and carry units; `hint` is the way out. One documented row per code: docs/reference/problems.md.
 */
export const PROBLEM_CODES = [
  'file.missing',
  'file.too_large',
  'file.not_utf8',
  'file.outside',
  'file.changed',
  'file.unwritable',
  'yaml.syntax',
  'yaml.duplicate_key',
  'yaml.unsupported',
  'format.newer',
  'format.missing',
  'key.unknown',
  'key.missing',
  'type.wrong',
  'name.invalid',
  'name.unknown',
  'name.duplicate',
  'value.range',
  'value.choice',
  'expression.syntax',
  'expression.unit',
  'expression.name',
  'expression.cycle',
  'expression.not_finite',
  'station.missing',
  'tube.zero_length',
  'section.wall',
  'section.syntax',
  'material.unknown',
  'part.unknown',
  'joint.same_body',
  'joint.gap',
  'joint.axis',
  'body.unconnected',
  'body.empty',
  'role.missing',
  'loop.open',
  'drive.crosses',
  'cable.short',
  'cable.bend',
  'fold.move',
  'fold.range',
  'quantity.unknown',
  'demand.limit',
  'variant.path',
  'calc.input',
  'calc.mechanism',
  'calc.topic',
  'cli.usage',
  'import.row',
  'import.unit',
  'import.entity',
  'import.empty',
] as const;
export type ProblemCode = (typeof PROBLEM_CODES)[number];

export interface Problem {
  readonly code: ProblemCode;
  /** `caution` does not stop the work; `error` does. */
  readonly severity: 'error' | 'caution';
  readonly file: string;
  readonly path: string;
  readonly line: number;
  readonly column: number;
  /** Length in characters of what the caret underlines. */
  readonly length: number;
  readonly message: string;
  readonly expected?: string;
  readonly found?: string;
  readonly hint?: string;
}
