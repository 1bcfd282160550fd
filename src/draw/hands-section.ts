/** Hands on a candidate's sheet: the fold in time, the force along each move, fingers and mistakes, lifting and carrying. */
import { CONDITIONAL_SHARE, forceBand, RECOMMENDED_SHARE } from '#kernel';
import { type HandledMove, type Judged, moveSentence } from '#study';
import { bendWords, foldSteps, foldTime, holdsOf } from './fold-time.ts';
import { forceScale, moveForce } from './move-force.ts';
import { ableWords } from './people-tables.ts';
import { cautionsOf, grounds, quantityTable } from './quantity-table.ts';
import { absentWords, figure, table } from './section.ts';
import { plainText, tag } from './svg.ts';
import { candidateName, capital, prose, typeset } from './words.ts';

const p = (words: string): string => tag('p', {}, prose(words));
const strong = (words: string): string => tag('strong', {}, plainText(words));
/** Moves that ask less than this force and this part of the limit are named, not drawn. */
const DRAWN_FORCE = 5;
const DRAWN_RISK = 0.25;

const HOW_TO_ASK = (what: string, id: string): string =>
  `${what} was not computed: give the brief a demand or wish on one of its quantities, such as \`${id}\``;

export function handsSection(j: Judged): string {
  if (j.evaluation.results.model.fold.length === 0)
    return tag('h4', {}, 'Folding by hand') + absentWords('This bicycle does not fold');
  return time(j) + forces(j) + fingers(j) + lifting(j);
}

function time(j: Judged): string {
  const { effort, failures } = j.evaluation.results;
  const head = tag('h4', {}, 'Folding by hand');
  if (!effort) return head + absentWords(failures.effort ?? HOW_TO_ASK('Time to fold', 'effort.fold_seconds'));
  const both = [
    ['Folding', effort.fold],
    ['Unfolding', effort.unfold],
  ] as const;
  const figures = both.flatMap(([title, way]) => {
    const picture = foldTime(way);
    if (!picture) return [];
    const [low, high] = way.firstTime;
    const said = `${way.seconds.toFixed(0)} s by trained hands, ${low.toFixed(0)} to ${high.toFixed(0)} s for the first time`;
    return [
      figure(
        picture,
        `${title} ${candidateName(j)}: ${said}; ${foldSteps(way)
          .map((s) => `${s.words} ${s.seconds.toFixed(1)} s`)
          .join(', ')}`,
        strong(`${title}: ${said}.`) +
          plainText(
            ` ${count(way.bends, 'bend')}, ${count(way.gripChanges, 'change')} of grip, ${count(way.twoHandMoves, 'move')} for both hands.`,
          ),
      ),
    ];
  });
  const rows = both.flatMap(([title, way]) =>
    foldSteps(way).map((s, i) => [
      `${title.toLowerCase()} ${i + 1}: ${s.words}`,
      `${s.seconds.toFixed(1)} s`,
      holdsOf(s),
      bendWords(s.bends) || 'no bend',
      s.elements.map((e) => e.code).join(' '),
    ]),
  );
  const shares = both.map(([title, way]) => [
    title.toLowerCase(),
    ...(Object.keys(way.shares) as (keyof typeof way.shares)[]).map((k) => `${way.shares[k].toFixed(1)} s`),
  ]);
  return [
    head,
    tag('div', { class: 'figures' }, ...figures),
    tag(
      'details',
      {},
      tag('summary', {}, 'Steps and seconds in figures'),
      tag('div', { class: 'wide' }, table('Steps', ['step', 'time', 'by', 'bends', 'motions'], rows, [4])),
      tag('div', { class: 'wide' }, table('Where the time goes', ['', ...Object.keys(effort.fold.shares)], shares)),
      quantityTable(j, /^effort\.(fold|unfold|first|bends|grip|two)/, 'Time and motions'),
    ),
    grounds(j, 'effort.fold_seconds'),
  ].join('');
}

const count = (n: number, one: string): string => `${n} ${one}${n === 1 ? '' : 's'}`;

function forces(j: Judged): string {
  const { hands, failures, model, state, setting } = j.evaluation.results;
  const head = tag('h4', {}, 'Force along each move');
  if (!hands) return head + absentWords(failures.hands ?? HOW_TO_ASK('Hand force', 'hands.greatest_force'));
  const moves = hands.moves.filter((m) => m !== undefined);
  const worth = (m: HandledMove): boolean => m.greatest.force >= DRAWN_FORCE || m.hardest.risk >= DRAWN_RISK;
  const drawn = moves.filter(worth);
  const rest = moves.filter((m) => !worth(m));
  const title = (m: HandledMove): string => typeset(capital(moveSentence(model, state.value, m.move)));
  const scale = drawn.length ? forceScale(drawn) : undefined;
  const figures = drawn.map((m) => {
    const band = forceBand(m.hardest.risk);
    const use = `${m.hardest.risk.toFixed(2)} of the limit for the weakest, ${BAND_WORDS[band]}`;
    const falls = Math.max(m.fold.runaway, m.unfold.runaway);
    const way = m.fold.runaway >= m.unfold.runaway ? m.fold : m.unfold;
    const alone =
      falls >= 0.5
        ? ` Left alone it runs with ${falls.toFixed(1)} J, up to ${way.runawaySpeed.toFixed(1)} m/s where the hand was.`
        : '';
    const steady = m.steady.force > 0 ? ` The other hand holds up ${m.steady.force.toFixed(0)} N.` : '';
    const words = `At most ${m.greatest.force.toFixed(0)} N, ${m.greatest.does} while ${m.greatest.way}ing; ${use}; ${ableWords(m.hardest.able)} of users can.`;
    return figure(
      moveForce(j, m, scale!),
      `${title(m)}: ${words}`,
      strong(`${title(m)}.`) +
        (band === 'avoid' ? ` ${tag('span', { class: 'miss' }, plainText(`× ${words}`))}` : plainText(` ${words}`)) +
        plainText(alone + steady),
    );
  });
  const rows = moves.map((m) => [
    title(m),
    `${m.fold.push.toFixed(1)} N`,
    `${m.fold.back.toFixed(1)} N`,
    `${m.unfold.push.toFixed(1)} N`,
    `${m.unfold.back.toFixed(1)} N`,
    m.place.foot ? 'foot' : m.hardest.hands === 2 ? 'both arms' : 'one arm',
    `${m.hardest.risk.toFixed(2)}${forceBand(m.hardest.risk) === 'avoid' ? ' ×' : ''}`,
    ableWords(m.hardest.able),
  ]);
  return [
    head,
    tag(
      'p',
      { class: 'note' },
      plainText(
        `All to one scale. Above zero the hand pushes the part on, below it the part runs away and is held back. Shaded: from ${RECOMMENDED_SHARE} to ${CONDITIONAL_SHARE} of what the weakest of ${setting.people.hands === 'anybody' ? 'anybody (1 in 100)' : 'working adults (15 in 100)'} can do in that direction; beyond, too much. Limits outside the scale are not drawn.`,
      ),
    ),
    figures.length ? tag('div', { class: 'figures' }, ...figures) : '',
    rest.length
      ? tag(
          'p',
          {},
          plainText(
            `Less than ${DRAWN_FORCE} N and ${DRAWN_RISK} of the limit: ${rest.map((m) => title(m).toLowerCase()).join('; ')}.`,
          ),
        )
      : '',
    tag(
      'details',
      {},
      tag('summary', {}, 'Forces of moves and locks in figures'),
      tag(
        'div',
        { class: 'wide' },
        table(
          'Greatest forces of the moves, all hands together',
          ['move', 'fold, push', 'hold back', 'unfold, push', 'hold back', 'by', 'of the limit', 'users able'],
          rows,
        ),
      ),
      quantityTable(j, /^hands\.(latch|able|use|runaway)/, 'Locks, and hands in all', { absent: false }),
    ),
    grounds(j, 'hands.greatest_force', 'hands.able'),
    cautionsOf(j, /^hands\./),
  ].join('');
}
const BAND_WORDS = { recommended: 'recommended', conditional: 'conditional', avoid: 'to be avoided' } as const;

function fingers(j: Judged): string {
  const { pinch, foolproof, failures } = j.evaluation.results;
  const hazards = foolproof?.hazards ?? [];
  return [
    tag('h4', {}, 'Fingers and mistakes'),
    pinch
      ? p(
          pinch.places.length
            ? `Gaps close on fingers at ${count(pinch.places.length, 'place')} where the hands are.`
            : 'No gap closes on a finger where the hands are.',
        ) + quantityTable(j, /^hands\.(pinch_gap|move\..*\.pinches)/, 'Gaps that close on fingers')
      : absentWords(failures.pinch ?? HOW_TO_ASK('Gaps that close on fingers', 'hands.pinch_count')),
    foolproof
      ? (hazards.length
          ? tag(
              'ul',
              {},
              ...hazards.map((h) =>
                tag('li', {}, tag('span', { class: 'miss' }, '× Looks shut and is not: ') + prose(h.words)),
              ),
            )
          : tag(
              'p',
              {},
              'No wrong order, no move or lock forgotten and no lock half-shut was found that looks shut and is not.',
            )) +
        tag(
          'details',
          {},
          tag('summary', {}, 'Wrong orders, omissions and half-shut locks in figures'),
          quantityTable(j, /^foolproof\./, 'What can go wrong'),
        ) +
        cautionsOf(j, /^foolproof\./)
      : absentWords(failures.foolproof ?? HOW_TO_ASK('What can go wrong', 'foolproof.looks_shut')),
  ].join('');
}

function lifting(j: Judged): string {
  const { burden, failures } = j.evaluation.results;
  const head = tag('h4', {}, 'Lifting, carrying, rolling');
  if (!burden) return head + absentWords(failures.burden ?? HOW_TO_ASK('Lifting', 'effort.carry_able'));
  const ids = /^effort\.(lift|carry|roll)/;
  return head + quantityTable(j, ids, 'Lifting, carrying, rolling the folded bicycle') + cautionsOf(j, ids);
}
