/** Horizontal bars from 0 to 1 with their figure beside them: length tells, the number says. */
import { FAINT, INK, NARROW } from './ink.ts';
import { element, line, type Picture, text } from './svg.ts';

export interface Bar {
  readonly label: string;
  /** 0…1; undefined where there is no figure, with `why`. */
  readonly value: number | undefined;
  readonly why?: string;
}

const ROW = 20;
const LABEL = 190;
const LENGTH = 200;

export function bars(list: readonly Bar[], endLabels: readonly [string, string]): Picture {
  const height = ROW * list.length + 26;
  const parts = list.map((bar, i) => {
    const y = 6 + ROW * i;
    const label = text([LABEL - 8, y + 12], bar.label, { class: 'figure', 'text-anchor': 'end' });
    if (bar.value === undefined)
      return label + text([LABEL + 4, y + 12], bar.why ?? 'no figure', { class: 'figure faint' });
    const w = LENGTH * Math.min(1, Math.max(0, bar.value));
    return [
      label,
      element('rect', {
        x: LABEL,
        y: y + 3,
        width: LENGTH,
        height: 11,
        fill: 'none',
        stroke: FAINT,
        'stroke-width': NARROW,
      }),
      element('rect', { x: LABEL, y: y + 3, width: w, height: 11, fill: INK }),
      text([LABEL + LENGTH + 8, y + 13], bar.value.toFixed(2), { class: 'figure' }),
    ].join('');
  });
  const base = height - 20;
  parts.push(line([LABEL, base], [LABEL + LENGTH, base], { stroke: INK, 'stroke-width': NARROW }));
  parts.push(text([LABEL, height - 6], endLabels[0], { class: 'figure', 'text-anchor': 'start' }));
  parts.push(text([LABEL + LENGTH, height - 6], endLabels[1], { class: 'figure', 'text-anchor': 'end' }));
  return { width: LABEL + LENGTH + 50, height, body: parts.join('') };
}
