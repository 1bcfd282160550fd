/** The title block of a drawing sheet, with the symbol of first-angle projection (ISO 128-3): the small end of the cone faces its circles' far side. */
import { CENTRE_LINE, INK, NARROW } from './ink.ts';
import { element, plainText, svg, tag } from './svg.ts';

const FIRST_ANGLE = svg(
  {
    width: 64,
    height: 28,
    body:
      element('path', { d: 'M6 9L28 4V24L6 19Z', fill: 'none', stroke: INK, 'stroke-width': 1.2 }) +
      element('circle', { cx: 47, cy: 14, r: 10, fill: 'none', stroke: INK, 'stroke-width': 1.2 }) +
      element('circle', { cx: 47, cy: 14, r: 5, fill: 'none', stroke: INK, 'stroke-width': 1.2 }) +
      element('path', {
        d: 'M2 14H62M47 1V27',
        fill: 'none',
        stroke: INK,
        'stroke-width': NARROW,
        'stroke-dasharray': CENTRE_LINE,
      }),
  },
  'first-angle projection',
);

export interface TitleBlock {
  readonly project: string;
  readonly candidate: string;
  readonly file: string;
  readonly scales: readonly (readonly [what: string, reduction: number])[];
  readonly sheet: string;
}

export function titleBlock(t: TitleBlock): string {
  const row = (name: string, markup: string): string =>
    tag('tr', {}, tag('th', { scope: 'row' }, name), tag('td', {}, markup));
  const scales = new Map<number, string[]>();
  for (const [what, reduction] of t.scales) scales.set(reduction, [...(scales.get(reduction) ?? []), what]);
  return tag(
    'div',
    { class: 'titleblock' },
    tag(
      'table',
      {},
      tag(
        'tbody',
        {},
        row('project', plainText(t.project)),
        row('candidate', plainText(t.candidate)),
        row('file', tag('code', {}, plainText(t.file))),
        row(
          'scale, printed full size',
          plainText([...scales].map(([r, what]) => `1:${r} ${what.join(', ')}`).join('; ')),
        ),
        row('projection', FIRST_ANGLE),
        row('sheet', plainText(t.sheet)),
      ),
    ),
  );
}
