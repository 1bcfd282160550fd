/** Dimension lines as on a drawing sheet: narrow line, slim arrowheads, the figure beside the line, in millimetres. */
import { ACCENT, FAINT, INK, NARROW } from './ink.ts';
import { element, fixed, line, type Point2, polyline, text } from './svg.ts';

const HEAD = 7;
const LETTER = 6.4;
const PEN = { stroke: INK, 'stroke-width': NARROW, fill: 'none' };

/** Slim filled arrowhead at `tip`, coming from `from`. */
export function arrowhead(tip: Point2, from: Point2, size = HEAD, colour = INK): string {
  const [dx, dy] = [from[0] - tip[0], from[1] - tip[1]];
  const l = Math.sqrt(dx * dx + dy * dy) || 1;
  const [ux, uy] = [dx / l, dy / l];
  const back: Point2 = [tip[0] + size * ux, tip[1] + size * uy];
  const half = size * 0.26;
  return polyline(
    [tip, [back[0] - half * uy, back[1] + half * ux], [back[0] + half * uy, back[1] - half * ux]],
    { fill: colour },
    true,
  );
}

/** Room that a word takes in the drawing's lettering, px, about. */
export const wordWidth = (word: string, size = 12): number => ([...word].length * LETTER * size) / 12;

/**
 * A dimension between two points of the drawing, its line at the paper coordinate `at` (y of a horizontal one, x of a vertical
 * one). Where the figure does not fit between the arrows, they point inwards from outside and the figure stands beside.
 */
export function dimension(a: Point2, b: Point2, label: string, vertical: boolean, at: number, after = true): string {
  const along = vertical ? 1 : 0;
  const point = (t: number, across = at): Point2 => (vertical ? [across, t] : [t, across]);
  const [low, high] = a[along]! <= b[along]! ? [a[along]!, b[along]!] : [b[along]!, a[along]!];
  const span = high - low;
  const tight = span < wordWidth(label) + 6;
  const outside = span < 2 * HEAD + 6;
  const over = (from: Point2): string => {
    const across = from[vertical ? 0 : 1]!;
    const gap = Math.sign(at - across) * 3;
    return Math.abs(at - across) < 4 ? '' : line(point(from[along]!, across + gap), point(from[along]!, at + gap), PEN);
  };
  const reach = outside ? HEAD + 6 : 0;
  const parts = [over(a), over(b), line(point(low - reach), point(high + reach), PEN)];
  parts.push(
    arrowhead(point(low), point(outside ? low - 9 : high), HEAD),
    arrowhead(point(high), point(outside ? high + 9 : low), HEAD),
  );
  const middle = (low + high) / 2;
  if (vertical) {
    const where: Point2 = tight ? [at + 4, after ? high + reach + 12 : low - reach - 4] : [at - 4, middle];
    parts.push(
      tight
        ? text([where[0] - 4, where[1]], label, { class: 'label', 'text-anchor': 'middle' })
        : text(where, label, {
            class: 'label',
            'text-anchor': 'middle',
            transform: `rotate(-90 ${fixed(where[0])} ${fixed(where[1])})`,
          }),
    );
  } else if (tight)
    parts.push(
      after
        ? text([high + reach + 4, at + 4], label, { class: 'label' })
        : text([low - reach - 4, at + 4], label, { class: 'label', 'text-anchor': 'end' }),
    );
  else parts.push(text([middle, at - 4], label, { class: 'label', 'text-anchor': 'middle' }));
  return element('g', {}, parts);
}

/** Ground or floor: a line with short strokes under it. */
export function ground(from: number, to: number, y: number): string {
  let d = '';
  for (let x = from + 8; x <= to; x += 12) d += `M${fixed(x)} ${fixed(y)}l-5 5`;
  return (
    line([from, y], [to, y], { stroke: INK, 'stroke-width': NARROW * 1.5 }) +
    element('path', { d, stroke: FAINT, 'stroke-width': NARROW, fill: 'none' })
  );
}

/** A scale bar of so many millimetres in the given steps, its left end at `at`. */
export function scaleBar(at: Point2, pxPerMetre: number, steps: number, step_mm: number): string {
  const step = (pxPerMetre * step_mm) / 1000;
  const parts: string[] = [];
  for (let i = 0; i < steps; i++)
    parts.push(
      element('rect', {
        x: at[0] + i * step,
        y: at[1],
        width: step,
        height: 4,
        fill: i % 2 ? 'none' : INK,
        stroke: INK,
        'stroke-width': NARROW,
      }),
    );
  for (const i of [0, steps])
    parts.push(
      text([at[0] + i * step, at[1] + 16], i === 0 ? '0' : `${i * step_mm} mm`, {
        class: 'figure small',
        'text-anchor': 'middle',
      }),
    );
  return element('g', {}, parts);
}

/** Two short crossing centre lines. */
export const centreMark = ([x, y]: Point2, reach: number): string =>
  element('path', {
    d: `M${fixed(x - reach)} ${fixed(y)}H${fixed(x + reach)}M${fixed(x)} ${fixed(y - reach)}V${fixed(y + reach)}`,
    stroke: FAINT,
    'stroke-width': NARROW,
    fill: 'none',
  });

/** Where two shapes come nearest: a ring with a dot. */
export const nearMark = ([x, y]: Point2): string =>
  element('circle', { cx: x, cy: y, r: 7, fill: 'none', stroke: ACCENT, 'stroke-width': 1.4 }) +
  element('circle', { cx: x, cy: y, r: 1.6, fill: ACCENT });
