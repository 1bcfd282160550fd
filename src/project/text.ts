/** From text to plain data that remembers where each value stands. Signatures first. */
import type { Document } from 'yaml';
import type { Problem, ProblemCode } from './problems.ts';

export type Path = readonly (string | number)[];
export interface Span {
  readonly line: number;
  readonly column: number;
  readonly length: number;
  readonly offset: number;
}
export interface SourceDocument {
  readonly file: string;
  readonly source: string;
  /**
   * Maps have no prototype (look up with [], Object.hasOwn or Object.entries), sequences are arrays, scalars are
   * strings, finite numbers, booleans or null.
   */
  readonly data: unknown;
  readonly yaml: Document;
  /** The place of a value, or of the key that names it. A path that does not exist gives the nearest existing ancestor. */
  where(path: Path, what?: 'key' | 'value'): Span;
  /** The place of part of a scalar's text (an offset in its value, as read). */
  within(path: Path, offset: number, length: number): Span;
}
export interface ProblemExtra {
  readonly severity?: 'error' | 'caution';
  readonly expected?: string;
  readonly found?: string;
  readonly hint?: string;
  /** Part of the scalar's text, as an expression's problem gives it. */
  readonly within?: { readonly offset: number; readonly length: number };
}
export declare function readDocument(
  file: string,
  source: string | Uint8Array,
): { document?: SourceDocument; problems: Problem[] };
export declare function problemAt(
  document: SourceDocument,
  path: Path,
  what: 'key' | 'value',
  code: ProblemCode,
  message: string,
  extra?: ProblemExtra,
): Problem;
