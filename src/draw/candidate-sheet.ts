/** One candidate's sheet: ride, package, fold, steering, people, frame, mass, ledger, cautions, title block. */
import { type EigenAt, eigenRows, findings, type Judged } from '#study';
import { GROUP_WORDS, likenessBars, massBars } from './bars.ts';
import { eigenPlot } from './eigen-plot.ts';
import { elevation, rideMeasures } from './elevation.ts';
import { foldFigures, lastSteps } from './fold-figures.ts';
import { foldedSection } from './folded-section.ts';
import { frameSection } from './frame-section.ts';
import { candidateLedger } from './ledger-table.ts';
import { peopleSection } from './people-section.ts';
import { absentWords, figure, type Part, table } from './section.ts';
import { plainText, tag } from './svg.ts';
import { titleBlock } from './title-block.ts';
import { candidateName, capital, figureWords, prose, spaced } from './words.ts';

const SPEEDS = Array.from({ length: 101 }, (_, i) => i / 10);
const TABLE_SPEEDS = [0, 2, 4, 6, 8, 10];

function ride(j: Judged): Part {
  const picture = elevation(j);
  const { steer, failures } = j.evaluation.results;
  const rider = steer?.usual;
  const caption = [
    tag('strong', {}, 'Elevation from the drive side, riding posture.'),
    ' Dimensions in mm.',
    rider
      ? plainText(
          ` The outline is the usual rider, ${rider.rider.stature.toFixed(2)} m and ${rider.rider.mass.toFixed(0)} kg; the saddle stands where that rider needs it${rider.saddle.limit === 'none' ? '' : ` (as far as the post goes: its ${rider.saddle.limit === 'minimum insertion' ? 'minimum insertion' : `${rider.saddle.limit} position`})`}.`,
        )
      : plainText(` No rider is shown: ${failures.steer ?? 'steering was not computed'}.`),
  ].join('');
  const measures = rideMeasures(j).map((m) => [m.name, figureWords(m.value, m.unit)]);
  return {
    markup:
      tag('h3', {}, 'Ride') +
      tag(
        'div',
        { class: 'row' },
        figure(picture, `Elevation of ${candidateName(j)} in its riding posture`, caption),
        table('Dimensions of the riding posture', ['what', 'figure'], measures),
      ),
    scale: ['elevation', picture.reduction],
  };
}

function fold(j: Judged): string {
  const figures = foldFigures(j);
  const { failures, fold: result } = j.evaluation.results;
  const head = tag('h3', {}, 'The fold');
  if (figures.length === 0)
    return head + absentWords(failures.fold ?? (result ? 'This bicycle has no fold.' : undefined));
  const last = lastSteps(j);
  return (
    head +
    tag(
      'p',
      { class: 'note' },
      'Seen from the drive side, from ahead and above. The start of what moves is a long-dashed double-dotted outline, its end is picked out; the ring marks where two shapes come nearest.',
    ) +
    tag(
      'ol',
      { class: 'figures' },
      ...figures.map((f) =>
        tag(
          'li',
          {},
          figure(
            f.picture,
            `Figure ${f.number}: ${f.sentence}. ${f.clearance}`,
            tag('strong', {}, plainText(`Fig. ${f.number}. ${f.sentence}.`)) +
              (f.problem ? ` ${tag('span', { class: 'miss' }, prose(`× ${f.problem}.`))}` : '') +
              ' ' +
              (f.clear
                ? plainText(`${capital(f.clearance)}.`)
                : tag('span', { class: 'miss' }, plainText(`× ${capital(f.clearance)}.`))),
          ),
        ),
      ),
    ) +
    (last ? tag('p', {}, plainText(`Then: ${last.charAt(0).toLowerCase()}${last.slice(1)}.`)) : '')
  );
}

function eigenTable(rows: readonly EigenAt[]): string {
  const list = (r: EigenAt): string =>
    r.re
      .map((re, k) =>
        r.im[k]! < -1e-6 ? '' : `${re.toFixed(1)}${r.im[k]! > 1e-6 ? ` ± ${r.im[k]!.toFixed(1)}i` : ''}`,
      )
      .filter(Boolean)
      .join(', ')
      .replaceAll('-', '−');
  return table(
    'Eigenvalues at some speeds, 1/s',
    ['speed', 'eigenvalues'],
    rows.map((r) => [`${r.speed_mps} m/s`, list(r)]),
  );
}

function steering(j: Judged): string {
  const { steer, likeness, failures } = j.evaluation.results;
  const head = tag('h3', {}, 'Steering');
  if (!steer) return head + absentWords(failures.steer);
  const speed = (v: number | null, word: string): string =>
    v === null ? `there is no ${word} speed up to 10 m/s or beyond` : `${word} speed ${v.toFixed(2)} m/s`;
  const plot = figure(
    eigenPlot(eigenRows(steer, SPEEDS), steer.weave, steer.capsize),
    `Growth and frequency of the bicycle's own motions from 0 to 10 m/s for ${candidateName(j)}`,
    tag('strong', {}, 'Motions of the uncontrolled bicycle.') +
      plainText(
        ` Lines: growth; dashed: frequency. ${capital(speed(steer.weave, 'weave'))}; ${speed(steer.capsize, 'capsize')}. Rigid rider, hands off: riders balance it outside the shaded range too.`,
      ),
  );
  const like = likeness
    ? figure(
        likenessBars(likeness),
        `Likeness to the reference bicycle by group: ${likeness.groups.map((g) => `${GROUP_WORDS[g.group] ?? g.group} ${g.similarity.toFixed(2)}`).join(', ')}`,
        tag('strong', {}, 'Likeness to the reference bicycle.') +
          plainText(
            ` Taken together ${likeness.value.toFixed(2)}. ${likeness.caution}${likeness.notes.length ? ` ${likeness.notes.map((n) => `${capital(n)}.`).join(' ')}` : ''}`,
          ),
      )
    : tag('p', { class: 'note' }, plainText(`No likeness: ${failures.likeness ?? 'not computed'}.`));
  return head + tag('div', { class: 'row' }, plot, eigenTable(eigenRows(steer, TABLE_SPEEDS))) + like;
}

function mass(j: Judged): string {
  const { mass: m, failures } = j.evaluation.results;
  const head = tag('h3', {}, 'Mass');
  if (!m) return head + absentWords(failures.mass);
  const rows = m.groups.map((g) => [
    spaced(g.name),
    `${g.mass.toFixed(2)} kg`,
    `± ${g.sigma.toFixed(2)} kg`,
    `${((100 * g.mass) / m.whole.mass).toFixed(0)} %`,
  ]);
  return (
    head +
    tag(
      'div',
      { class: 'row' },
      figure(
        massBars(m),
        `Mass by group of ${candidateName(j)}`,
        tag('strong', {}, 'Mass by group,') + ' the bars to the heaviest.',
      ),
      table(
        'Mass by group',
        ['group', 'mass', 'spread', 'share'],
        [...rows, ['whole', `${m.whole.mass.toFixed(2)} kg`, `± ${m.sigma.toFixed(2)} kg`, '100 %']],
      ),
    )
  );
}

function cautions(j: Judged): string {
  const asked = new Set(j.ledger.rows.map((r) => r.quantity));
  const said = new Map<string, string[]>();
  for (const q of j.evaluation.quantities)
    if (asked.has(q.id) && q.family.caution)
      said.set(q.family.caution, [...(said.get(q.family.caution) ?? []), q.family.title]);
  const outside = j.ledger.rows.filter((r) => r.outside);
  const found = findings(j).map((f) => `${capital(f.message)}${f.hint ? `; ${f.hint}` : ''}`);
  const items = [
    ...new Set(found),
    ...[...said].map(([caution, titles]) => `${capital([...new Set(titles)].join(', '))}: ${caution}`),
    ...outside.map((r) => `${capital(r.title)} lies outside the range in which it means something: ${r.outside}`),
  ];
  return items.length
    ? tag('h3', {}, 'Cautions') + tag('ul', { class: 'caution' }, ...items.map((i) => tag('li', {}, prose(i))))
    : '';
}

export function candidateSheet(j: Judged, project: string, number: number, of: number): string {
  const people = peopleSection(j);
  const frame = frameSection(j);
  const parts = [ride(j), foldedSection(j)];
  return tag(
    'section',
    { class: 'sheet', id: `candidate-${number}`, 'aria-labelledby': `candidate-${number}-name` },
    tag('h2', { id: `candidate-${number}-name` }, plainText(candidateName(j))),
    j.candidate.note ? tag('p', {}, plainText(j.candidate.note)) : '',
    ...parts.map((p) => p.markup),
    fold(j),
    steering(j),
    people.markup,
    frame.markup,
    mass(j),
    tag('h3', {}, 'Ledger'),
    candidateLedger(j),
    cautions(j),
    titleBlock({
      project,
      candidate: candidateName(j),
      file: j.candidate.file,
      scales: [...parts, people, frame].flatMap((p) => (p.scale ? [p.scale] : [])),
      sheet: `${number} of ${of}`,
    }),
  );
}
