/** Small pieces that the sections of a candidate's sheet share. */
import { type Picture, plainText, svg, tag } from './svg.ts';
import { capital, prose } from './words.ts';

/** A picture with its caption; `caption` is markup. */
export const figure = (picture: Picture, title: string, caption: string): string =>
  tag('figure', {}, svg(picture, title), tag('figcaption', {}, caption));
/** Why something is not there. */
export const absentWords = (why: string | undefined): string =>
  tag('p', { class: 'note' }, prose(`${capital(why ?? 'it was not computed')}.`.replace(/\.\.$/, '.')));
/** Names to the left, figures to the right; `words`: columns that hold words. */
export const table = (
  caption: string,
  head: readonly string[],
  rows: readonly (readonly string[])[],
  words: readonly number[] = [],
): string =>
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
        ...head.map((h, i) =>
          tag('th', { scope: 'col', class: i && !words.includes(i) ? 'num' : undefined }, plainText(h)),
        ),
      ),
    ),
    tag(
      'tbody',
      {},
      ...rows.map((r) =>
        tag(
          'tr',
          {},
          ...r.map((c, i) =>
            i
              ? tag('td', { class: words.includes(i) ? 'text' : 'num' }, plainText(c))
              : tag('th', { scope: 'row' }, plainText(c)),
          ),
        ),
      ),
    ),
  );

/** A part of a sheet, and the scale of its drawing for the title block. */
export interface Part {
  readonly markup: string;
  readonly scale?: readonly [string, number];
}
