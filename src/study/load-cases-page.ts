/** docs/reference/load-cases.md: every load case with its figures, their sources and standing, from the kernel's own table. */
import {
  BIKE_CLASSES,
  CASES_CAUTION,
  type CaseFigure,
  caseFigures,
  FRAME_CASES,
  type FrameCaseKind,
  figureStanding,
  frameCase,
  USE_FIGURES,
  useSpectrum,
} from '#kernel';

const KINDS: Readonly<Record<FrameCaseKind, string>> = {
  service: 'service',
  test_static: 'static test',
  test_fatigue: 'fatigue test',
  screening: 'screening estimate, never a demand by default',
};

const unitOf = ({ unit }: CaseFigure): string => (unit === '1' ? '' : ` ${unit}`);
const shownValue = (figure: CaseFigure): string =>
  `${typeof figure.value === 'number' ? figure.value : figure.value.join(' / ')}${unitOf(figure)}`;

const table = (list: readonly CaseFigure[]): string =>
  [
    '| figure | value | range | meaning | standing |',
    '| --- | --- | --- | --- | --- |',
    ...list.map(
      (figure) =>
        `| \`${figure.key}\` | ${shownValue(figure)} | ${figure.range.join(' to ')}${unitOf(figure)} | ${figure.meaning} | ${figureStanding(figure)} |`,
    ),
  ].join('\n');

export function loadCasesPage(): string {
  const cases = FRAME_CASES.map(
    (one) =>
      `## \`${one.id}\`: ${one.title}\n\n${KINDS[one.kind]}; posture: ${one.postures.join(', ')}. Source: ${one.source}.\n\n` +
      `Holds when: ${one.criterion}.\n\n${one.note}\n\n${table(caseFigures(one.id))}\n`,
  );
  const milder = useSpectrum().map((event) => {
    const figures = Object.entries(event.figures).map(([key, value]) => {
      const unit = caseFigures(event.case).find((figure) => figure.key === key);
      return `${key} ${value}${unit ? unitOf(unit) : ''}`;
    });
    return `* \`${event.key}\`: ${frameCase(event.case).title.toLowerCase()}${figures.length ? ` with ${figures.join(', ')}` : ''}`;
  });
  return [
    '# Load cases',
    '',
    'Written by `npm run docs` from the table that computes them. A brief changes any figure under `loads:` (docs/project-files.md);',
    `how the loads come about is in docs/methods/frame-loads.md. Four values are the columns ${BIKE_CLASSES.join(' / ')}.`,
    '',
    CASES_CAUTION,
    '',
    ...cases,
    '## The use of a life',
    '',
    table(USE_FIGURES),
    '',
    ...milder,
    '',
  ].join('\n');
}
