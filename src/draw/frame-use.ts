/**
 * How much of the strength is used: one bar per load case or per tube, the greatest first, with a line at the limit. The
 * name stands above its bar, so that long ones fit. Up to the limit a bar is solid; what goes beyond is hatched and its
 * figure carries the sign of a miss. Reserves of fatigue rank only: their line says where the code's own range lies.
 */
import { tenth } from './frame-sheet.ts';
import { ACCENT, INK, NARROW } from './ink.ts';
import { element, line, type Picture, shortened, text } from './svg.ts';

export interface UseBar {
  readonly label: string;
  /** Beside the label, smaller: the case that does it, the place. */
  readonly say?: string;
  readonly value: number;
}
export interface UseChart {
  /** What the line at 1 means. */
  readonly limit: string;
  /** True where more than 1 is a miss; false where less than 1 only ranks. */
  readonly misses: boolean;
}

const WIDTH = 340;
const ROW = 31;
const TOP = 20;
const LONG = 278;
/** Room that a figure takes, px. */
const FIGURE = 26;
/** Bars longer than this many times the limit are cut off, with a break mark. */
const MOST = 3;

export function useBars(list: readonly UseBar[], { limit, misses }: UseChart): Picture {
  const end = Math.min(MOST, Math.max(1.2, ...list.map((b) => b.value)));
  const px = LONG / end;
  const height = TOP + ROW * list.length + 6;
  const rows = list.map((bar, i) => {
    const y = TOP + ROW * i;
    const shown = Math.min(bar.value, end);
    const over = misses && bar.value > 1;
    const figure = `${over ? '× ' : ''}${Number.isFinite(bar.value) ? bar.value.toFixed(2) : '> 100'}`;
    // a figure that would lie across the limit stands beyond it
    const after = px * shown + 6;
    const name = shortened(bar.label, 46);
    const said = bar.say ? shortened(bar.say, Math.max(0, 56 - [...name].length)) : '';
    return [
      text([0, y + 11], name, { class: 'figure' }),
      said ? text([WIDTH, y + 11], said, { class: 'figure small faint', 'text-anchor': 'end' }) : '',
      element('rect', { x: 0, y: y + 15, width: px * (over ? 1 : shown), height: 9, fill: INK }),
      over ? beyond(px, px * shown, y + 15) : '',
      bar.value > end
        ? element('path', {
            d: `M${tenth(px * shown - 8)} ${tenth(y + 26)}l4 -13m3 0l-4 13`,
            stroke: INK,
            fill: 'none',
          })
        : '',
      line([px, y + 14.5], [px, y + 26.5], { stroke: ACCENT, 'stroke-width': 1.6 }),
      text([after < px && after + FIGURE > px ? px + 6 : after, y + 23.5], figure, { class: 'label' }),
    ].join('');
  });
  const mark = line([px, TOP - 6], [px, TOP - 1], { stroke: ACCENT, 'stroke-width': 1.6 });
  const words = text([px, 11], `1: ${limit}`, {
    class: 'figure small',
    'text-anchor': px < WIDTH / 2 ? 'start' : 'end',
  });
  return { width: WIDTH, height, body: rows.join('') + mark + words };
}

/** What lies beyond the limit: open, hatched. */
function beyond(from: number, to: number, y: number): string {
  let d = `M${tenth(from)} ${tenth(y + 0.5)}H${tenth(to)}V${tenth(y + 8.5)}H${tenth(from)}`;
  for (let x = from + 5; x < to; x += 5) d += `M${tenth(x)} ${tenth(y + 0.5)}l-5 8`;
  return element('path', { d, fill: 'none', stroke: ACCENT, 'stroke-width': NARROW * 1.3 });
}
