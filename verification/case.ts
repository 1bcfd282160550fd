/**
 * One agreement with the outside world: who published it, where, what is printed, what we compute, how near it must be
 * and why. The same list is run as tests and printed as docs/verification.md.
 *
 * A discipline keeps its list in `verification/<discipline>/cases.ts` as `export const cases: readonly Case[]`, and at
 * least one case there has a `wrong` row: a deliberately wrong variant that the tolerance must catch.
 */
export interface Row {
  readonly quantity: string;
  readonly unit: string;
  /** As printed, in the source's unit. */
  readonly published: number;
  /** Our figure in the same unit. */
  readonly computed: () => number;
  /** Allowed |computed − published|; `relative` multiplies |published|. */
  readonly tolerance: { readonly absolute?: number; readonly relative?: number; readonly why: string };
  /** A deliberately wrong computation that must fall outside the tolerance. */
  readonly wrong?: { readonly what: string; readonly computed: () => number };
}
export interface Case {
  readonly id: string;
  readonly title: string;
  /** Author, title, edition or year, page, table or equation. */
  readonly source: string;
  /** `published`: seen in a copy; `memory`: recalled, not seen; `theory`: closed form or identity; `recomputed`: independent computation. */
  readonly standing: 'published' | 'memory' | 'theory' | 'recomputed';
  readonly rows: readonly Row[];
}

export const allowed = (row: Row): number =>
  (row.tolerance.absolute ?? 0) + (row.tolerance.relative ?? 0) * Math.abs(row.published);
export const agrees = (row: Row, value: number): boolean => Math.abs(value - row.published) <= allowed(row);
