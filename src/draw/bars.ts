/** Horizontal bars from 0 to 1 with their figure beside them: length tells, the number says. */
import type { Results } from '#study';
import { FAINT, INK, NARROW } from './ink.ts';
import { element, line, type Picture, shortened, text } from './svg.ts';

export interface Bar {
  readonly label: string;
  /** 0…1; undefined where there is no figure, with `why`. */
  readonly value: number | undefined;
  readonly why?: string;
  /** What stands beside the bar; the value to two decimals when missing. */
  readonly figure?: string;
}

const ROW = 22;
const LENGTH = 240;

export function bars(list: readonly Bar[], endLabels: readonly [string, string] | undefined, label = 130): Picture {
  const height = ROW * list.length + (endLabels ? 26 : 8);
  const parts = list.map((bar, i) => {
    const y = 4 + ROW * i;
    const name = text([label - 8, y + 13], shortened(bar.label, Math.floor(label / 6.4)), {
      class: 'figure',
      'text-anchor': 'end',
    });
    if (bar.value === undefined)
      return name + text([label + 4, y + 13], bar.why ?? 'no figure', { class: 'figure faint' });
    const w = LENGTH * Math.min(1, Math.max(0, bar.value));
    return [
      name,
      element('rect', {
        x: label,
        y: y + 3,
        width: LENGTH,
        height: 12,
        fill: 'none',
        stroke: FAINT,
        'stroke-width': NARROW,
      }),
      element('rect', { x: label, y: y + 3, width: w, height: 12, fill: INK }),
      text([label + LENGTH + 8, y + 13], bar.figure ?? bar.value.toFixed(2), { class: 'figure' }),
    ].join('');
  });
  if (endLabels) {
    const base = height - 20;
    parts.push(line([label, base], [label + LENGTH, base], { stroke: INK, 'stroke-width': NARROW }));
    parts.push(text([label, height - 6], endLabels[0], { class: 'figure small', 'text-anchor': 'start' }));
    parts.push(text([label + LENGTH, height - 6], endLabels[1], { class: 'figure small', 'text-anchor': 'end' }));
  }
  return { width: label + LENGTH + 64, height, body: parts.join('') };
}

/** What each group of handling figures is about. */
export const GROUP_WORDS: Readonly<Record<string, string>> = {
  geometry: 'geometry',
  stability: 'steadiness',
  turn: 'steady bends',
  response: 'answer to the hands',
  lane: 'lane change',
};

/** Likeness to the reference bicycle, group by group. The condensed number is said in the text after it. */
export const likenessBars = (likeness: NonNullable<Results['likeness']>): Picture =>
  bars(
    likeness.groups.map((g) => ({ label: GROUP_WORDS[g.group] ?? g.group, value: g.similarity })),
    ['0 nothing alike', '1 the same'],
  );

/** Mass by group, the heaviest first; bars are shares of the heaviest. */
export function massBars(mass: NonNullable<Results['mass']>): Picture {
  const most = mass.groups[0]?.mass ?? 1;
  return bars(
    mass.groups.map((g) => ({
      label: g.name.replaceAll('_', ' '),
      value: g.mass / most,
      figure: `${g.mass.toFixed(2)} kg`,
    })),
    undefined,
  );
}
