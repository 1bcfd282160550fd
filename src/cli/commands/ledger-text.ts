/** Ledgers, choices and sheets as text for a terminal. State is a word, never a colour alone. */
import {
  type Choice,
  type Cure,
  figureText,
  type Judged,
  type LedgerRow,
  limitText,
  MOST_MISSES,
  numberText,
  type Rank,
  type Sheet,
} from '#study';
import { table, wrapped } from '../table.ts';

const WIDTH = 100;

const figure = (row: LedgerRow): string =>
  row.value === null
    ? '—'
    : figureText(row.value, row.unit) + (row.spread ? ` ± ${numberText(row.spread, row.unit)}` : '');
const limit = (row: LedgerRow): string => limitText(row.sense, row.limit, row.unit);
const state = (row: LedgerRow): string => (row.holds ? 'holds' : 'MISSES');
const name = (row: LedgerRow): string => `${row.quantity}`;

/** One candidate with its reasons. */
export function candidateText(j: Judged): string {
  const { rows } = j.ledger;
  const demands = rows.filter((r) => r.kind === 'demand');
  const wishes = rows.filter((r) => r.kind === 'wish');
  const lines = [`${j.candidate.name} (${j.candidate.id})\n`];
  if (demands.length) {
    lines.push('\n  Demands\n');
    lines.push(
      table(
        demands.map((r) => [
          state(r),
          name(r),
          figure(r),
          limit(r),
          r.margin === null ? '' : `margin ${figureText(r.margin, r.unit)}`,
        ]),
        ['left', 'left', 'right', 'left', 'left'],
        4,
      ),
    );
  }
  if (wishes.length) {
    lines.push('\n  Wishes, value 0 at worst to 1 at best\n');
    lines.push(
      table(
        wishes.map((r) => [
          r.score!.toFixed(2),
          name(r),
          figure(r),
          `best ${figureText(r.limit, r.unit)}, worst ${figureText(r.worst!, r.unit)}`,
          `weight ${r.weight}`,
        ]),
        ['left', 'left', 'right', 'left', 'left'],
        4,
      ),
    );
    lines.push(`    ${j.ledger.score.toFixed(3)} weighted mean\n`);
  }
  const notes = rows.filter(
    (r, i) => (r.note || r.absent || r.outside) && rows.findIndex((o) => o.quantity === r.quantity) === i,
  );
  if (notes.length) {
    lines.push('\n  Where and why\n');
    for (const r of notes)
      lines.push(wrapped(`${r.quantity}: ${[r.absent, r.note, r.outside].filter(Boolean).join('; ')}`, WIDTH, 4));
  }
  return lines.join('');
}

/** All candidates in one matrix. */
export function matrixText(judged: readonly Judged[]): string {
  const first = judged[0];
  if (!first) return '';
  const header = ['', '', ...judged.map((j) => j.candidate.id)];
  const row = (i: number): string[] => {
    const r = first.ledger.rows[i]!;
    const worth = r.kind === 'wish' ? `best ${figureText(r.limit, r.unit)} (${r.weight})` : limit(r);
    return [
      r.quantity,
      worth,
      ...judged.map((j) => {
        const c = j.ledger.rows[i]!;
        const text = c.value === null ? 'none' : figureText(c.value, c.unit);
        return c.kind === 'demand' ? (c.holds ? `${text}  ` : `${text} !`) : `${text}  `;
      }),
    ];
  };
  const demands = first.ledger.rows.flatMap((r, i) => (r.kind === 'demand' ? [row(i)] : []));
  const wishes = first.ledger.rows.flatMap((r, i) => (r.kind === 'wish' ? [row(i)] : []));
  const align = ['left', 'left', ...judged.map(() => 'right' as const)] as const;
  const all = [
    header,
    ['Demands'],
    ...demands,
    ['Wishes (weight)'],
    ...wishes,
    ['weighted mean', '', ...judged.map((j) => `${j.ledger.score.toFixed(3)}  `)],
    ['all demands', '', ...judged.map((j) => (j.ledger.holdsAll ? 'hold  ' : `${missed(j)} missed !`))],
  ];
  return `${table(all, [...align])}  ! misses the demand\n`;
}
const missed = (j: Judged): number => j.ledger.rows.filter((r) => r.kind === 'demand' && !r.holds).length;

/** The choice in words. */
export function choiceText(choice: Choice, cures: ReadonlyMap<string, readonly Cure[]>): string {
  const lines: string[] = [];
  const first = choice.order[0];
  if (choice.build === undefined) lines.push('None of the candidates holds all demands.\n');
  else if (!choice.rival) lines.push(`Build ${first!.name} (${choice.build}): the only one that holds all demands.\n`);
  else if (choice.tooClose)
    lines.push(
      wrapped(
        `Too close to call between ${choice.build} and ${choice.rival.id}: the first leads by ${choice.rival.lead.toFixed(3)}, and weights changed by ${(choice.rival.flipsAt * 100).toFixed(0)} % turn the order over (the brief sweeps ${(choice.sweep * 100).toFixed(0)} %). Weigh the wishes again, or test what separates them, before building ${choice.build}.`,
        WIDTH,
        0,
      ),
    );
  else
    lines.push(
      wrapped(
        `Build ${first!.name} (${choice.build}). It leads ${choice.rival.id} by ${choice.rival.lead.toFixed(3)}; ${Number.isFinite(choice.rival.flipsAt) ? `only weights changed by more than ${(choice.rival.flipsAt * 100).toFixed(0)} % would turn that over` : 'no change of weights turns that over'}.`,
        WIDTH,
        0,
      ),
    );
  const tight = choice.build === undefined ? [] : first!.tight;
  if (tight.length > 0)
    lines.push(
      wrapped(
        `Before that, test what it holds by less than its own spread: ${tight.map((t) => `${t.row.title} (${t.row.quantity}, ${t.sigmas.toFixed(1)} spreads)`).join('; ')}.`,
        WIDTH,
        0,
      ),
    );
  for (const rank of choice.order) lines.push(`\n${rankText(rank, cures.get(rank.id) ?? [])}`);
  return lines.join('');
}

function rankText(rank: Rank, cures: readonly Cure[]): string {
  const out = [
    `${rank.name} (${rank.id}): ${rank.holdsAll ? `holds all demands, wishes ${rank.score.toFixed(3)}` : `misses ${rank.misses.length}`}\n`,
  ];
  for (const m of rank.misses)
    out.push(
      wrapped(
        `misses ${m.title} (${m.quantity}): ${m.value === null ? m.absent : `${figureText(m.value, m.unit)}, ${limit(m)}, short by ${figureText(Math.abs(m.margin!), m.unit)}`}${m.note ? `; ${m.note}` : ''}`,
        WIDTH,
        4,
      ),
    );
  for (const c of cures)
    out.push(
      wrapped(
        c.left === 0
          ? `${c.dimension}: ${c.to} instead of ${c.from} would hold them all (${c.after.map((a) => `${a.quantity} ${a.value === null ? 'none' : figureText(a.value, a.unit)}`).join(', ')})`
          : `${c.dimension}: ${c.to} instead of ${c.from} would leave ${c.left} missed`,
        WIDTH,
        4,
      ),
    );
  if (!rank.holdsAll && cures.length === 0)
    out.push(
      rank.misses.length > MOST_MISSES
        ? '    misses too many for one edit to be looked for\n'
        : '    no single dimension within a quarter of its size cures it\n',
    );
  if (rank.holdsAll && rank.binding)
    out.push(
      wrapped(
        `binding: ${rank.binding.row.title} (${rank.binding.row.quantity}) holds by ${figureText(rank.binding.row.margin!, rank.binding.row.unit)}, ${rank.binding.sigmas.toFixed(1)} times its spread`,
        WIDTH,
        4,
      ),
    );
  for (const l of rank.losesOn.slice(0, 3))
    out.push(`    loses ${l.points.toFixed(3)} on ${l.row.title} (${l.row.quantity}) to ${l.to}\n`);
  return out.join('');
}

/** The workings of one quantity. */
export function sheetText(sheet: Sheet, candidate: string): string {
  const out = [`${sheet.id} of ${candidate}: ${sheet.title}\n\n`];
  out.push(wrapped(sheet.meaning, WIDTH));
  if (sheet.value === null) out.push(`\n  no figure: ${sheet.absent}\n`);
  if (sheet.inputs.length) {
    out.push('\n  Inputs\n');
    out.push(
      table(
        sheet.inputs.map((i) => [
          i.symbol,
          '=',
          `${Number(i.value.toPrecision(6))}${i.unit ? ` ${i.unit}` : ''}`,
          i.meaning,
        ]),
        ['left', 'left', 'right', 'left'],
        4,
      ),
    );
  }
  if (sheet.formula) out.push(`\n  ${sheet.formula}\n`);
  if (sheet.substitution) out.push(`  ${' '.repeat(sheet.symbol.length)} = ${sheet.substitution}\n`);
  if (sheet.steps.length) {
    out.push('\n  Procedure\n');
    for (const [i, step] of sheet.steps.entries()) out.push(wrapped(`${i + 1}. ${step}`, WIDTH, 4));
  }
  if (sheet.value !== null)
    out.push(
      `\n  ${sheet.symbol} = ${figureText(sheet.value, sheet.unit)}${sheet.spread ? `, spread ${figureText(sheet.spread, sheet.unit)} (one standard deviation)` : ''}\n`,
    );
  if (sheet.note) out.push(wrapped(sheet.note, WIDTH));
  if (sheet.dependsOn.length) {
    out.push('\n  Depends most on\n');
    out.push(
      table(
        sheet.dependsOn.map((d) => [
          d.dimension,
          `${d.change > 0 ? '+' : ''}${Number(d.change.toPrecision(3))}${sheet.unit ? ` ${sheet.unit}` : ''}`,
          `per ${d.step}`,
        ]),
        ['left', 'right', 'left'],
        4,
      ),
    );
  }
  out.push(`\n  Source: ${sheet.source} (${sheet.standing})\n`);
  out.push(wrapped(`Valid: ${sheet.valid}`, WIDTH));
  if (sheet.outside) out.push(wrapped(`Outside its range: ${sheet.outside}`, WIDTH));
  if (sheet.caution) out.push(wrapped(`Caution: ${sheet.caution}`, WIDTH));
  return out.join('');
}
