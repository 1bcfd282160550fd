/** Ledgers as HTML tables: all candidates in one matrix, or one candidate with its notes. State is told by a sign and a word. */
import { type Judged, type LedgerRow, limitText } from '#study';
import { plainText, tag } from './svg.ts';
import { candidateName, figureWords, prose, spaced, typedWords, typeset } from './words.ts';

const figure = (row: LedgerRow, value: number): string => plainText(figureWords(value, row.unit));
const say = (words: string): string => tag('span', { class: 'say' }, plainText(words));
const limit = (row: LedgerRow): string =>
  row.kind === 'demand'
    ? plainText(typeset(limitText(row.sense, row.limit, row.unit)))
    : plainText(`best ${typedWords(row.limit, row.unit)}`) + say(`worst ${typedWords(row.worst!, row.unit)}`);

/** `0.69 kg to spare`, `× misses by 0.4 kg`. */
export const marginWords = (row: LedgerRow): string => {
  if (row.margin === null) return '× no figure';
  const size = figureWords(Math.abs(row.margin), row.unit);
  if (!row.holds) return `× misses by ${size}`;
  return row.margin === 0 ? 'just holds' : `${size} to spare`;
};

function cell(row: LedgerRow): string {
  const miss = row.kind === 'demand' && !row.holds;
  const value = row.value === null ? 'none' : figure(row, row.value);
  const under =
    row.kind === 'demand' ? marginWords(row) : row.value === null ? 'counts 0' : `value ${row.score!.toFixed(2)}`;
  return tag('td', { class: miss ? 'num miss' : 'num' }, value, say(under));
}

const misses = (j: Judged): number => j.ledger.rows.filter((r) => r.kind === 'demand' && !r.holds).length;

/** All candidates beside one another: demands first, then wishes. Empty when there is no candidate. */
export function ledgerTable(
  judged: readonly Judged[],
  caption = 'Every demand and wish of the brief, candidate by candidate',
): string {
  const first = judged[0];
  if (!first) return '';
  const columns = judged.length + 2;
  const body = (kind: LedgerRow['kind'], title: string): string => {
    const rows = first.ledger.rows.flatMap((r, i) => (r.kind === kind ? [i] : []));
    if (rows.length === 0) return '';
    return tag(
      'tbody',
      {},
      tag('tr', {}, tag('th', { class: 'group', scope: 'rowgroup', colspan: columns }, title)),
      ...rows.map((i) => {
        const r = first.ledger.rows[i]!;
        return tag(
          'tr',
          {},
          tag('th', { scope: 'row' }, plainText(titleOf(r)), r.because ? say(r.because) : ''),
          tag('td', { class: 'num' }, limit(r), kind === 'wish' ? say(`weight ${r.weight}`) : ''),
          ...judged.map((j) => cell(j.ledger.rows[i]!)),
        );
      }),
    );
  };
  const total = tag(
    'tbody',
    {},
    tag(
      'tr',
      {},
      tag('th', { scope: 'row' }, 'all demands'),
      tag('td', {}),
      ...judged.map((j) =>
        tag('td', { class: misses(j) ? 'num miss' : 'num' }, misses(j) ? `× ${misses(j)} missed` : 'all hold'),
      ),
    ),
    tag(
      'tr',
      {},
      tag('th', { scope: 'row' }, 'wishes, weighted mean'),
      tag('td', {}),
      ...judged.map((j) => tag('td', { class: 'num' }, j.ledger.score.toFixed(3))),
    ),
  );
  return tag(
    'div',
    { class: 'wide', tabindex: 0, role: 'region', 'aria-label': caption },
    tag(
      'table',
      {},
      tag('caption', {}, plainText(caption)),
      tag(
        'thead',
        {},
        tag(
          'tr',
          {},
          tag('th', { scope: 'col' }, 'what'),
          tag('th', { scope: 'col', class: 'num' }, 'limit'),
          ...judged.map((j) =>
            tag('th', { scope: 'col', class: 'num', style: 'white-space:normal' }, plainText(candidateName(j))),
          ),
        ),
      ),
      body('demand', 'Demands'),
      body('wish', 'Wishes (value 0 at worst, 1 at best)'),
      total,
    ),
  );
}

/** `room to spare, bench`: families that stand for several things say which. */
export function titleOf(row: LedgerRow): string {
  const parts = row.quantity.split('.');
  const which =
    parts[0] === 'space' || (parts.length > 3 && parts[1] === 'move') || parts[1] === 'group' || parts[1] === 'body';
  const slot = parts[0] === 'space' ? parts[1] : parts[2];
  return which && slot ? `${row.title}, ${spaced(slot)}` : row.title;
}

/** The rows of one candidate with spread, margin and where it comes from. */
export function candidateLedger(j: Judged): string {
  const row = (r: LedgerRow): string => {
    const miss = r.kind === 'demand' && !r.holds;
    const notes = [r.absent, r.note, r.outside && `outside its range: ${r.outside}`].filter((x): x is string =>
      Boolean(x),
    );
    return tag(
      'tr',
      {},
      tag('th', { scope: 'row' }, plainText(titleOf(r))),
      tag('td', { class: 'num' }, r.value === null ? 'none' : figure(r, r.value)),
      tag(
        'td',
        { class: 'num' },
        r.spread === null || r.value === null
          ? ''
          : plainText(r.spread === 0 ? 'exact' : `± ${figureWords(r.spread, r.unit)}`),
      ),
      tag('td', { class: 'num' }, limit(r)),
      tag(
        'td',
        { class: miss ? 'miss' : undefined },
        plainText(r.kind === 'demand' ? `${r.holds ? 'holds' : '× misses'}` : `value ${r.score!.toFixed(2)}`),
        say(
          r.kind === 'demand'
            ? r.margin === null
              ? 'no figure'
              : r.holds
                ? marginWords(r)
                : `by ${figureWords(Math.abs(r.margin), r.unit)}`
            : `weight ${r.weight}`,
        ),
      ),
      tag('td', { class: 'text' }, prose(notes.join('; '))),
    );
  };
  const part = (kind: LedgerRow['kind'], title: string): string => {
    const rows = j.ledger.rows.filter((r) => r.kind === kind);
    return rows.length
      ? tag(
          'tbody',
          {},
          tag('tr', {}, tag('th', { class: 'group', scope: 'rowgroup', colspan: 6 }, title)),
          ...rows.map(row),
        )
      : '';
  };
  const head = ['what', 'figure', 'spread', 'limit', 'state', 'where and why'];
  return tag(
    'div',
    { class: 'wide', tabindex: 0, role: 'region', 'aria-label': `Ledger of ${candidateName(j)}` },
    tag(
      'table',
      {},
      tag('caption', {}, plainText(`Ledger of ${candidateName(j)}; the spread is one standard deviation`)),
      tag(
        'thead',
        {},
        tag('tr', {}, ...head.map((h, i) => tag('th', { scope: 'col', class: i > 0 && i < 4 ? 'num' : undefined }, h))),
      ),
      part('demand', 'Demands'),
      part('wish', 'Wishes'),
    ),
  );
}
