/** How each quantity of the brief is computed: once its method, source and range, then the substitution candidate by candidate. */
import { explain, type Judged, type Sheet } from '#study';
import { titleOf } from './ledger-table.ts';
import { plainText, tag } from './svg.ts';
import { candidateName, capital, figureWords, prose } from './words.ts';

const STANDING: Readonly<Record<string, string>> = {
  published: '',
  practice: 'common practice, no source',
  memory: 'default, from memory',
  definition: 'our definition',
};

function one(judged: readonly Judged[], id: string, title: string): string {
  const sheets = judged.flatMap((j): { j: Judged; sheet: Sheet }[] => {
    const quantity = j.evaluation.quantities.find((q) => q.id === id);
    return quantity ? [{ j, sheet: explain(j, quantity) }] : [];
  });
  const first = sheets[0]?.sheet;
  if (!first) return '';
  const how = first.formula
    ? tag('p', {}, tag('code', {}, plainText(first.formula)))
    : first.steps.length
      ? tag('p', {}, prose(first.steps.join(' ')))
      : '';
  const meanings = new Map(sheets.flatMap(({ sheet }) => sheet.inputs.map((i) => [i.symbol, i.meaning] as const)));
  const symbols =
    first.formula && meanings.size
      ? tag('p', { class: 'note' }, plainText([...meanings].map(([s, m]) => `${s}: ${m}`).join('; ')))
      : '';
  const results = sheets.map(({ j, sheet }) => {
    const value = sheet.value === null ? `none: ${sheet.absent ?? ''}` : figureWords(sheet.value, sheet.unit);
    const words = sheet.substitution && sheet.value !== null ? `${sheet.substitution} = ${value}` : value;
    return tag('li', {}, `${plainText(candidateName(j))}: `, prose(words));
  });
  const source = [first.source, STANDING[first.standing]].filter(Boolean).join('; ');
  return (
    tag('h3', {}, plainText(title), ' ', tag('code', {}, plainText(id))) +
    tag('p', {}, prose(`${capital(first.meaning)}.`)) +
    how +
    symbols +
    tag('ul', {}, ...results) +
    tag('p', { class: 'note' }, prose(`Source: ${source}. Holds for: ${first.valid}.`))
  );
}

/** All quantities that the brief asks for, each once. */
export function workings(judged: readonly Judged[]): string {
  const rows = judged[0]?.ledger.rows ?? [];
  const seen = new Set<string>();
  return rows
    .filter((r) => !seen.has(r.quantity) && seen.add(r.quantity))
    .map((r) => one(judged, r.quantity, titleOf(r)))
    .join('');
}
