/** The brief's load cases: the class of bicycle, and the figures that it changes, in SI, checked against the kernel's tables. */
import { type BikeClass, CASE_IDS, type CaseFigure, type CaseId, caseFigures, USE_FIGURES } from '#kernel';
import type { LoadsData } from './schema/loads-schema.ts';
import type { Amount } from './schema/values.ts';
import type { Path } from './text.ts';
import { type Dimension, inSI, parseUnit } from './units.ts';

/** Figures by key, SI. Only those that the brief gives. */
export type GivenFigures = Readonly<Record<string, number>>;
export interface BriefLoads {
  readonly class: BikeClass;
  readonly cases: Readonly<Partial<Record<CaseId, GivenFigures>>>;
  readonly use: GivenFigures;
}

/** How the brief's reader reads one number (NaN, with a problem, where it cannot) and says that one is out of range. */
export interface FigureReader {
  number(path: Path, raw: Amount, dimension: Dimension): number;
  outOfRange(path: Path, message: string, expected: string, found: string): void;
}

export function readLoads(reader: FigureReader, data: LoadsData | undefined): BriefLoads {
  const given = (
    list: readonly CaseFigure[],
    raw: Readonly<Record<string, Amount | undefined>>,
    path: Path,
  ): GivenFigures =>
    Object.fromEntries(
      list.flatMap((figure) => {
        const amount = raw[figure.key];
        return amount === undefined ? [] : [[figure.key, readFigure(reader, figure, amount, [...path, figure.key])]];
      }),
    );
  const cases: Partial<Record<CaseId, GivenFigures>> = {};
  for (const id of CASE_IDS) {
    const raw = data?.cases?.[id];
    if (raw) cases[id] = given(caseFigures(id), raw, ['loads', 'cases', id]);
  }
  return { class: data?.class ?? 'city', cases, use: given(USE_FIGURES, data?.use ?? {}, ['loads', 'use']) };
}

function readFigure(reader: FigureReader, figure: CaseFigure, raw: Amount, path: Path): number {
  const unit = parseUnit(figure.unit)!;
  const value = reader.number(path, raw, unit.dimension);
  const [least, most] = figure.range;
  if (value < inSI(least, unit) || value > inSI(most, unit)) {
    const after = figure.unit === '1' ? '' : ` ${figure.unit}`;
    reader.outOfRange(
      path,
      `${path.join('.')} is outside what the case is made for: ${figure.meaning}`,
      `${least} to ${most}${after}`,
      String(raw),
    );
  }
  return value;
}
