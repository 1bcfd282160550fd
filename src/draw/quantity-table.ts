/** Quantities of the catalogue as a table, as the sheets know them: figure, and where it is, how it comes about or why it is not there. */
import { type Judged, unitFactor } from '#study';
import { plainText, tag } from './svg.ts';
import { capital, figureWords, prose, spaced } from './words.ts';

export const wideTable = (caption: string, head: readonly string[], rows: readonly string[]): string =>
  tag(
    'div',
    { class: 'wide broad' },
    tag(
      'table',
      {},
      tag('caption', {}, plainText(caption)),
      tag('thead', {}, tag('tr', {}, ...head.map((h) => tag('th', { scope: 'col' }, plainText(h))))),
      tag('tbody', {}, ...rows),
    ),
  );

/**
 * Rows of all quantities whose id matches; '' where none does. `slotWords` names the thing that a quantity of a family is about;
 * `absent`: whether those without a figure are listed with their reason. A joint without a lock has none to tell.
 */
export function quantityTable(
  j: Judged,
  ids: RegExp,
  caption: string,
  { slotWords = spaced, absent = true }: { slotWords?: (slot: string) => string; absent?: boolean } = {},
): string {
  const { quantities, value, reason, results } = j.evaluation;
  const rows = quantities.flatMap((q, i) => {
    if (!ids.test(q.id)) return [];
    const why = reason[i];
    if (why !== undefined && !absent) return [];
    const title = q.slot ? `${q.family.title}: ${slotWords(q.slot)}` : q.family.title;
    const said = why === undefined ? (q.family.note?.(results, q.slot) ?? '') : why;
    return [
      tag(
        'tr',
        {},
        tag('th', { scope: 'row' }, plainText(title)),
        tag(
          'td',
          { class: 'num' },
          plainText(
            why === undefined ? figureWords(value[i]! / unitFactor(q.family.unit), q.family.unit) : 'no figure',
          ),
        ),
        tag('td', { class: 'text' }, prose(said)),
      ),
    ];
  });
  return rows.length ? wideTable(caption, ['what', 'figure', 'where, or why not'], rows) : '';
}

/** Source and validity of quantities, each said once, as small print. */
export function grounds(j: Judged, ...ids: readonly string[]): string {
  const families = ids.flatMap((id) => j.evaluation.quantities.find((q) => q.id === id)?.family ?? []);
  // what another says as well is not said twice
  const once = (list: readonly string[]): string =>
    list.filter((a, i) => !list.some((b, k) => k !== i && b.includes(a) && (b !== a || k < i))).join('; ');
  if (families.length === 0) return '';
  const sources = once(families.map((f) => f.source));
  const valid = once(families.map((f) => f.valid));
  return tag('p', { class: 'small-print' }, prose(`Source: ${sources}. Holds for: ${valid}.`));
}

/** Cautions of quantities whose id matches, each once. */
export function cautionsOf(j: Judged, ids: RegExp): string {
  const said = new Set(
    j.evaluation.quantities.flatMap((q) => (ids.test(q.id) && q.family.caution ? [q.family.caution] : [])),
  );
  return said.size ? tag('ul', { class: 'caution' }, ...[...said].map((c) => tag('li', {}, prose(capital(c))))) : '';
}
