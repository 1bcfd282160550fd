/**
 * From older formats of project files to the one that this program reads.
 *
 * A step changes the parsed document in place, one format to the next; the nodes keep their places, so problems point at
 * the text as it stands on the disk. Format 1 is the first, so there are no steps yet: the first one will come with
 * format 2, in this list. Steps are never changed once released.
 */
import type { Document } from 'yaml';

/** The format that this program reads and writes. */
export const CURRENT_FORMAT = 1;

export interface Migration {
  /** The format that it reads; it leaves `from + 1`. */
  readonly from: number;
  /** One line for the user: what was renamed or moved. */
  readonly what: string;
  /** Changes the content; `format` itself is set by `migrate`. */
  apply(document: Document): void;
}

export const MIGRATIONS: readonly Migration[] = [];

/**
 * Brings a document of format `from` to `current` and returns what was done, or undefined where a step is missing
 * (the document is then unchanged).
 */
export function migrate(
  document: Document,
  from: number,
  steps: readonly Migration[] = MIGRATIONS,
  current = CURRENT_FORMAT,
): string[] | undefined {
  const chain: Migration[] = [];
  for (let format = from; format < current; format++) {
    const step = steps.find((s) => s.from === format);
    if (!step) return undefined;
    chain.push(step);
  }
  for (const step of chain) {
    step.apply(document);
    document.set('format', step.from + 1);
  }
  return chain.map((step) => step.what);
}
