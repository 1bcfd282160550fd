/** The answer in plain words, and what would have to change for the candidates that fall short. Markup; names are escaped. */
import { type Choice, type Cure, type Judged, MOST_MISSES, type Rank } from '#study';
import { marginWords, titleOf } from './ledger-table.ts';
import { plainText, tag } from './svg.ts';
import { candidateName, figureWords, nameOf as named } from './words.ts';

export type Cures = ReadonlyMap<string, readonly Cure[]>;
const count = (n: number): string => (n === 1 ? 'one demand' : `${n} demands`);
const percent = (x: number): string => `${(100 * x).toFixed(0)} %`;
const strong = (words: string): string => tag('strong', {}, plainText(words));
const nameOf = (choice: Choice, id: string): string => {
  const rank = choice.order.find((r) => r.id === id);
  return rank ? named(rank) : id;
};

function verdict(choice: Choice, cures: Cures): readonly [string, string] {
  const first = choice.order[0]!;
  if (choice.build === undefined)
    return [
      'None of these holds all demands.',
      `${plainText(named(first))} comes nearest: it misses ${count(first.misses.length)}.${cures.size ? ' What would have to change stands below.' : ''}`,
    ];
  const name = nameOf(choice, choice.build);
  const { rival } = choice;
  if (!rival) return [`Build ${plainText(name)}.`, `It is the only one that holds all demands.${testFirst(choice)}`];
  const other = plainText(nameOf(choice, rival.id));
  if (choice.tooClose)
    return [
      `Too close to call between ${plainText(name)} and ${other}.`,
      `${plainText(name)} leads by ${rival.lead.toFixed(3)} of 1, and weights changed by ${percent(rival.flipsAt)} turn the order over; the brief allows for ${percent(choice.sweep)}. Weigh the wishes again, or test what separates the two, before building either.`,
    ];
  const firm = Number.isFinite(rival.flipsAt)
    ? `Weights would have to change by more than ${percent(rival.flipsAt)} to turn that over; the brief allows for ${percent(choice.sweep)}.`
    : 'No change of weights turns that over.';
  return [
    `Build ${plainText(name)}.`,
    `Of those that hold all demands it fulfils the wishes best: ${rival.lead.toFixed(3)} of 1 ahead of ${other}. ${firm}${testFirst(choice)}`,
  ];
}

/** What a careful builder tries first: demands that hold by less than one spread of their figure. */
function testFirst(choice: Choice): string {
  const tight = choice.build === undefined ? [] : choice.order[0]!.tight;
  if (tight.length === 0) return '';
  const words = tight.map((t) => `${titleOf(t.row)} (${t.sigmas.toFixed(1)} standard deviations)`).join('; ');
  return ` ${plainText(`Before that, test what it holds by less than its own spread: ${words}.`)}`;
}

function missWords(rank: Rank): string {
  return rank.misses
    .map(
      (r) =>
        `${titleOf(r)}${r.margin === null ? ` has no figure (${r.absent ?? 'not computed'})` : ` ${marginWords(r).replace('× ', '')}`}`,
    )
    .join('; ');
}

function cureWords(cures: readonly Cure[]): string {
  return cures
    .map((c) => {
      const edit = `${tag('code', {}, plainText(c.dimension))} ${plainText(c.from)} → ${plainText(c.to)}`;
      const after = c.after
        .map((a) => (a.value === null ? '' : `${a.quantity} ${figureWords(a.value, a.unit)}`))
        .filter(Boolean)
        .join(', ');
      const left = c.left === 0 ? 'then all demands hold' : `then ${c.left} still missed`;
      return `${edit}: ${left}${after ? plainText(` (${after})`) : ''}`;
    })
    .join('; or ');
}

function standing(rank: Rank, choice: Choice, cures: Cures): string {
  const parts: string[] = [];
  if (rank.holdsAll) {
    parts.push(`holds all demands; wishes fulfilled ${rank.score.toFixed(3)} of 1`);
    if (rank.binding)
      parts.push(
        plainText(
          `Nearest to its limit: ${titleOf(rank.binding.row)}, ${marginWords(rank.binding.row)} (${rank.binding.sigmas.toFixed(1)} standard deviations)`,
        ),
      );
    const lost = rank.losesOn
      .slice(0, 2)
      .map((l) => `${titleOf(l.row)} to ${nameOf(choice, l.to)} (${l.points.toFixed(3)})`);
    if (lost.length) parts.push(plainText(`Loses most on ${lost.join(' and ')}`));
  } else {
    parts.push(plainText(`misses ${count(rank.misses.length)}: ${missWords(rank)}`));
    const found = cures.get(rank.id);
    if (found?.length) parts.push(`What would have to change: ${cureWords(found.slice(0, 2))}`);
    else if (rank.misses.length > MOST_MISSES) parts.push('It misses too many for one edit to be looked for');
    else if (found) parts.push('No single dimension was found that cures it when moved by a quarter at most');
  }
  return tag('li', {}, strong(named(rank)), ' ', parts.join('. '), '.');
}

/** The answer of a choice; a count of who holds when only checked. */
export function answer(judged: readonly Judged[], choice: Choice | undefined, cures: Cures): string {
  if (judged.length === 0) return tag('p', { class: 'verdict' }, 'There is no candidate that can be judged.');
  if (choice && choice.order.length > 0) {
    const [head, why] = verdict(choice, cures);
    return (
      tag('p', { class: 'verdict' }, strongMarkup(head)) +
      tag('p', {}, why) +
      tag('ol', {}, ...choice.order.map((rank) => standing(rank, choice, cures)))
    );
  }
  const held = judged.filter((j) => j.ledger.holdsAll).length;
  const words =
    judged.length === 1
      ? `${candidateName(judged[0]!)} ${held ? 'holds all demands' : 'does not hold all demands'}.`
      : `${held} of ${judged.length} candidates hold all demands.`;
  return (
    tag('p', { class: 'verdict' }, strong(words)) +
    tag(
      'ul',
      {},
      ...judged
        .filter((j) => !j.ledger.holdsAll)
        .map((j) => {
          const missed = j.ledger.rows.filter((r) => r.kind === 'demand' && !r.holds);
          const found = cures.get(j.candidate.id) ?? [];
          return tag(
            'li',
            {},
            strong(candidateName(j)),
            plainText(
              ` misses ${missed.map((r) => `${titleOf(r)} (${marginWords(r).replace('× ', '')})`).join('; ')}.`,
            ),
            found.length ? ` What would have to change: ${cureWords(found.slice(0, 2))}.` : '',
          );
        }),
    )
  );
}
const strongMarkup = (markup: string): string => tag('strong', {}, markup);
