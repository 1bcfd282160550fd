/** All load cases, in the order in which sheets show them, and the caution that goes with them. */

import type { FrameContext } from '../places.ts';
import {
  type BikeClass,
  CASE_FIGURES,
  type CaseFigure,
  type CaseId,
  type FigureValues,
  figureValues,
} from './figures.ts';
import { FORK_BAR_TESTS } from './fork-bar-tests.ts';
import type { CaseLoads, FrameCase, NotApplicable } from './frame-case.ts';
import { FRAME_TESTS } from './frame-tests.ts';
import { SERVICE_CASES } from './service-cases.ts';

export const FRAME_CASES: readonly FrameCase[] = [...SERVICE_CASES, ...FRAME_TESTS, ...FORK_BAR_TESTS];

export const CASES_CAUTION =
  'Predictions for choosing between designs. Tests to ISO 4210, EN 15194 or 16 CFR 1512 by a competent laboratory, and local law, decide; a prototype is proof-loaded before anybody rides it.';

/** @throws RangeError for an unknown id: our own bug, briefs are checked before. */
export function frameCase(id: CaseId): FrameCase {
  const found = FRAME_CASES.find((one) => one.id === id);
  if (!found) throw new RangeError(`no load case "${id}"`);
  return found;
}

export const caseFigures = (id: CaseId): readonly CaseFigure[] => CASE_FIGURES[id];

/** A case with its column's figures and a brief's edits (in the table's units). */
export function caseWith(
  id: CaseId,
  column: BikeClass,
  edits: Readonly<Partial<FigureValues>> = {},
): { readonly case: FrameCase; readonly values: FigureValues; load(context: FrameContext): CaseLoads | NotApplicable } {
  const one = frameCase(id);
  const values = figureValues(caseFigures(id), column, edits);
  return { case: one, values, load: (context) => one.load(context, values) };
}
