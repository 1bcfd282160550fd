/** The `loads` section of a brief. Its fields are the kernel's tables of figures: nothing is listed twice. */

import { z } from 'zod';
import { BIKE_CLASSES, CASE_IDS, type CaseFigure, caseFigures, frameCase, USE_FIGURES } from '#kernel';
import { type Amount, amount } from './values.ts';

const shown = ({ value, unit }: CaseFigure): string => {
  const word = (one: number): string => (unit === '1' ? `${one}` : `${one} ${unit}`);
  return typeof value === 'number' ? word(value) : value.map(word).join(', ');
};
const figures = (list: readonly CaseFigure[]) =>
  z.strictObject(
    Object.fromEntries(
      list.map((figure) => [figure.key, amount(`${figure.meaning}; ${shown(figure)} when left out.`).optional()]),
    ),
  );

export const loadsSchema = z.strictObject({
  class: z.enum(BIKE_CLASSES).optional().describe('Column of ISO 4210 for the tests: city when left out.'),
  cases: z
    .strictObject(
      Object.fromEntries(CASE_IDS.map((id) => [id, figures(caseFigures(id)).optional().describe(frameCase(id).title)])),
    )
    .optional()
    .describe('Figures of load cases that differ from the defaults.'),
  use: figures(USE_FIGURES).optional().describe('What a life is made of: distance, and events a kilometre.'),
});
export type LoadsData = {
  readonly class?: (typeof BIKE_CLASSES)[number] | undefined;
  readonly cases?: Readonly<Record<string, Readonly<Record<string, Amount | undefined>> | undefined>> | undefined;
  readonly use?: Readonly<Record<string, Amount | undefined>> | undefined;
};
