/**
 * Who fits, rider by rider: stature against inseam. A dot fits; whoever is left out has an open shape that says why. A rider who
 * misses several limits has the shape of the one that most people miss. Lines: inseams for which the saddle goes no
 * higher or no lower (limit of the post over 0.883, tolerance included).
 *
 * The first riders of the sample are drawn: they are as random as all. Mass and proportions are not on the map, so fitting and
 * failing riders lie mixed.
 */
import { COLUMN, FIT, FIT_STRIDE, MISS, RIDER_STRIDE, SADDLE_RULE } from '#kernel';
import type { FitResult } from '#study';
import { axisMarks, ticked } from './axis.ts';
import { wordWidth } from './dimension.ts';
import { tenth } from './frame-sheet.ts';
import { ACCENT, INK, MEDIUM, NARROW, RULE } from './ink.ts';
import { element, fixed, line, type Picture, type Point2, text } from './svg.ts';

/** As many riders at most: more would cover one another. */
export const MOST_DOTS = 600;
const SHAPES = 4;
const WIDTH = 470;
const PLOT = { left: 52, right: 14, top: 12, height: 310 } as const;
const KEY_ROW = 18;

export interface FitMap extends Picture {
  readonly shown: number;
  /** Riders drawn by what they are: fits, then the reasons in the key's order. */
  readonly counts: readonly number[];
}

/** Path data of a sign about (x, y): a dot for 0, then one open shape for each reason, a saltire for the others. */
const SIGNS: readonly ((x: number, y: number) => string)[] = [
  // a line of no length with round ends
  (x, y) => `M${tenth(x)} ${tenth(y)}h0`,
  (x, y) => `M${tenth(x)} ${tenth(y - 4.4)}l4.2 7.4h-8.4Z`,
  (x, y) => `M${tenth(x - 3.4)} ${tenth(y - 3.4)}h6.8v6.8h-6.8Z`,
  (x, y) => `M${tenth(x)} ${tenth(y + 4.4)}l4.2 -7.4h-8.4Z`,
  (x, y) => `M${tenth(x)} ${tenth(y - 4.8)}l4.8 4.8l-4.8 4.8l-4.8 -4.8Z`,
  (x, y) => `M${tenth(x - 3.4)} ${tenth(y - 3.4)}l6.8 6.8m0 -6.8l-6.8 6.8`,
];
const OTHER = SIGNS.length - 1;
const penOf = (sign: number) =>
  sign === 0
    ? { stroke: INK, 'stroke-width': 3.4, 'stroke-linecap': 'round' }
    : { fill: 'none', stroke: ACCENT, 'stroke-width': MEDIUM, 'stroke-linejoin': 'round' };

export function fitMap(fit: FitResult): FitMap {
  const { people, riders } = fit;
  const shown = Math.min(MOST_DOTS, people.n);
  const reasons = fit.misses.filter((m) => m.all.share > 0).sort((a, b) => b.all.share - a.all.share);
  const named = reasons.slice(0, SHAPES);
  const others = reasons.length > SHAPES;
  const signOf = (mask: number): number => {
    if (mask === 0) return 0;
    const k = named.findIndex((m) => (mask & MISS[m.key]) !== 0);
    return k < 0 ? OTHER : 1 + k;
  };
  const at = (i: number, c: number): number => people.value[i * RIDER_STRIDE + c]!;
  const points = Array.from({ length: shown }, (_, i) => ({
    stature: at(i, COLUMN.stature),
    inseam: 1000 * at(i, COLUMN.inseam),
    sign: signOf(riders[i * FIT_STRIDE + FIT.mask]!),
  }));
  const [x0, x1, dx] = axisMarks(points.map((p) => p.stature));
  const [y0, y1, dy] = axisMarks(points.map((p) => p.inseam));
  const floor = PLOT.top + PLOT.height;
  const right = WIDTH - PLOT.right;
  const x = (v: number): number => PLOT.left + ((v - x0) / (x1 - x0)) * (right - PLOT.left);
  const y = (v: number): number => floor - ((v - y0) / (y1 - y0)) * PLOT.height;
  const parts: string[] = [];
  for (let v = y0; v <= y1 + dy / 2; v += dy) {
    parts.push(line([PLOT.left, y(v)], [right, y(v)], { stroke: RULE, 'stroke-width': NARROW }));
    parts.push(text([PLOT.left - 6, y(v) + 4], ticked(v, dy), { class: 'figure', 'text-anchor': 'end' }));
  }
  for (let v = x0; v <= x1 + dx / 2; v += dx) {
    parts.push(line([x(v), floor], [x(v), floor + 4], { stroke: INK, 'stroke-width': NARROW }));
    parts.push(text([x(v), floor + 17], ticked(v, dx), { class: 'figure', 'text-anchor': 'middle' }));
  }
  parts.push(line([PLOT.left, floor], [right, floor], { stroke: INK, 'stroke-width': NARROW }));
  const counts = SIGNS.map((_, k) => points.filter((p) => p.sign === k).length);
  SIGNS.forEach((sign, k) => {
    const d = points
      .filter((p) => p.sign === k)
      .map((p) => sign(x(p.stature), y(p.inseam)))
      .join('');
    if (d) parts.push(element('path', { d, ...penOf(k) }));
  });
  for (const limit of saddleLimits(fit)) {
    const v = 1000 * limit.inseam;
    if (!(v > y0 && v < y1)) continue;
    const up = limit.end === 'high';
    parts.push(line([PLOT.left, y(v)], [right, y(v)], { stroke: ACCENT, 'stroke-width': MEDIUM }));
    // long legs are to the right, so the upper line has room on the left and the lower on the right
    const where: Point2 = up ? [PLOT.left + 6, y(v) - 6] : [right - 6, y(v) + 15];
    parts.push(text(where, limit.words, { class: 'label accent', 'text-anchor': up ? 'start' : 'end' }));
  }
  const middle = PLOT.top + PLOT.height / 2;
  parts.push(
    text([(PLOT.left + right) / 2, floor + 36], 'stature, m', { class: 'figure', 'text-anchor': 'middle' }),
    text([13, middle], 'inseam, mm', {
      class: 'figure',
      'text-anchor': 'middle',
      transform: `rotate(-90 13 ${fixed(middle)})`,
    }),
  );
  const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;
  const key: { readonly sign: number; readonly words: string }[] = [
    { sign: 0, words: `fits: ${percent(fit.fits.share)}` },
    ...named.map((m, k) => ({ sign: 1 + k, words: `${m.words}: ${percent(m.all.share)}` })),
    ...(others ? [{ sign: OTHER, words: 'something else only' }] : []),
  ];
  // two columns where every word fits into one
  const wide = Math.max(...key.map((k) => wordWidth(k.words))) + 30;
  const columns = 2 * wide <= WIDTH ? 2 : 1;
  const rows = Math.ceil(key.length / columns);
  key.forEach(({ sign, words }, i) => {
    const [column, row] = [Math.floor(i / rows), i % rows];
    const at2: Point2 = [PLOT.left + column * wide, floor + 60 + KEY_ROW * row];
    parts.push(element('path', { d: SIGNS[sign]!(at2[0], at2[1] - 4), ...penOf(sign) }));
    parts.push(text([at2[0] + 12, at2[1]], words, { class: 'figure' }));
  });
  return { width: WIDTH, height: floor + 60 + KEY_ROW * rows, shown, counts, body: parts.join('') };
}

/** Inseams beyond which the post's ends leave the saddle too low or too high, m. */
export function saddleLimits(fit: FitResult): { end: 'low' | 'high'; inseam: number; words: string }[] {
  const { crank, saddle, rise } = fit.geometry;
  const slack = fit.limits.saddle_tolerance;
  return (['high', 'low'] as const).map((end) => {
    const dx = saddle.x + saddle[end] * rise.x - crank.x;
    const dz = saddle.z + saddle[end] * rise.z - crank.z;
    const reach = Math.sqrt(dx * dx + dz * dz) / SADDLE_RULE;
    return end === 'high'
      ? { end, inseam: reach / (1 - slack), words: 'longer legs: the saddle cannot go high enough' }
      : { end, inseam: reach / (1 + slack), words: 'shorter legs: the saddle cannot go low enough' };
  });
}
