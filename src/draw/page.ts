/**
 * The whole result as one self-contained page: no script, no font, no file beside it. The same input gives the same bytes.
 *
 * The answer first, then pictures of all candidates, the ledger, one sheet per candidate, the workings.
 */
import { type Choice, GENERAL_CAUTION, type Judged, type Workspace } from '#study';
import { answer, type Cures } from './answer.ts';
import { candidateSheet } from './candidate-sheet.ts';
import { scaleBar } from './dimension.ts';
import { ledgerTable } from './ledger-table.ts';
import { plate, plateHeight, plateReduction, plateWords } from './plates.ts';
import { PAGE_STYLE } from './style.ts';
import { type Picture, plainText, svg, tag } from './svg.ts';
import { scaleOf } from './view.ts';
import { candidateName, prose } from './words.ts';
import { workings } from './workings.ts';

export interface PageInput {
  readonly workspace: Workspace;
  readonly judged: readonly Judged[];
  /** Missing when candidates were only checked. */
  readonly choice?: Choice;
  /** Edits that cure candidates that miss demands, by candidate. */
  readonly cures?: Cures;
  /** The brief's name when missing. */
  readonly title?: string;
}

const POLICY = "default-src 'none'; style-src 'unsafe-inline'; img-src data:";
/** px: a pair of pictures on half a wide page, and on an A4 sheet. */
const PLATE_WIDTH = 540;

export function page({ workspace, judged, choice, cures = new Map(), title }: PageInput): string {
  const { brief } = workspace;
  const name = title ?? brief.name;
  const project = workspace.project.name;
  const head = [
    '<meta charset="utf-8">',
    `<meta http-equiv="Content-Security-Policy" content="${POLICY}">`,
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    '<meta name="color-scheme" content="light dark">',
    tag('title', {}, plainText(name)),
    `<style>${PAGE_STYLE}</style>`,
  ].join('\n');
  const problems = workspace.problems
    .filter((p) => p.severity === 'caution')
    .map((p) => tag('li', {}, prose(`${p.message}${p.hint ? `; ${p.hint}` : ''}`)));
  const demands = brief.demands.length;
  const wishes = brief.wishes.length;
  const count = (n: number, word: string, many = `${word}s`): string => `${n} ${n === 1 ? word : many}`;
  const body = [
    tag(
      'header',
      {},
      tag('h1', {}, plainText(name)),
      tag(
        'p',
        {},
        plainText(
          `${project}: ${count(judged.length, 'candidate')}, ${count(demands, 'demand')}, ${count(wishes, 'wish', 'wishes')}.`,
        ),
      ),
      brief.note ? tag('p', {}, plainText(brief.note)) : '',
    ),
    tag(
      'main',
      {},
      tag(
        'section',
        { class: 'answer' },
        tag('h2', {}, 'The answer'),
        answer(judged, choice, cures),
        tag('p', { class: 'caution' }, GENERAL_CAUTION),
        problems.length ? tag('ul', {}, ...problems) : '',
      ),
      judged.length ? tag('section', {}, tag('h2', {}, 'Ridden and folded'), plates(judged)) : '',
      judged.length ? tag('section', { class: 'ledger' }, tag('h2', {}, 'Ledger'), ledgerTable(judged)) : '',
      ...judged.map((j, i) => candidateSheet(j, project, i + 1, judged.length)),
      judged.length
        ? tag(
            'section',
            { class: 'workings' },
            tag('h2', {}, 'Workings'),
            tag(
              'p',
              {},
              'How every quantity of the brief comes about. Where a formula is printed, the figures stand in it.',
            ),
            workings(judged),
          )
        : '',
    ),
    tag('footer', {}, tag('p', { class: 'caution' }, GENERAL_CAUTION)),
  ];
  return `<!doctype html>\n<html lang="en">\n<head>\n${head}\n</head>\n<body>\n${body.join('\n')}\n</body>\n</html>\n`;
}

function plates(judged: readonly Judged[]): string {
  const reduction = plateReduction(judged, PLATE_WIDTH);
  const tall = plateHeight(judged);
  const bar: Picture = { width: 260, height: 24, body: scaleBar([10, 4], scaleOf(reduction), 5, 100) };
  return (
    tag(
      'div',
      { class: 'plates' },
      ...judged.map((j, i) =>
        tag(
          'figure',
          {},
          svg(plate(j, scaleOf(reduction), tall), `${candidateName(j)}, ridden and folded: ${plateWords(j)}`),
          tag(
            'figcaption',
            {},
            tag('a', { href: `#candidate-${i + 1}` }, tag('strong', {}, plainText(candidateName(j)))),
            plainText(`. ${plateWords(j)}.`),
            ` ${held(j)}`,
          ),
        ),
      ),
    ) +
    tag(
      'figure',
      {},
      svg(bar, 'Scale bar of 500 mm'),
      tag(
        'figcaption',
        {},
        plainText(
          `All to one scale, 1:${reduction} printed full size; drive side. Folded, each stands as it comes to rest.`,
        ),
      ),
    )
  );
}

function held(j: Judged): string {
  const missed = j.ledger.rows.filter((r) => r.kind === 'demand' && !r.holds).length;
  return missed ? `× Misses ${missed} ${missed === 1 ? 'demand' : 'demands'}.` : 'Holds all demands.';
}
