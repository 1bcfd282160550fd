/**
 * Folding as a stair of bars along time: one bar a step, as long as a trained hand takes, beginning where the last ended. Hands,
 * foot and bends stand beside each step as a sign and a word. Below, on a scale of its own, the whole beside the range of
 * somebody who does it for the first time. Steps that take no hand (a detent gives way by itself) have no bar.
 */
import type { HandledStep, HandledTime } from '#kernel';
import { axisMarks, ticked } from './axis.ts';
import { ACCENT, INK, MEDIUM, NARROW, RULE } from './ink.ts';
import { element, fixed, line, type Picture, shortened, text } from './svg.ts';
import { capital } from './words.ts';

const WIDTH = 340;
const ROW = 30;
const TOP = 6;
const AXIS = 34;
const WHOLE = 58;
/** Room for seconds beside a bar. */
const FIGURE = 38;
/** Where the columns of hands and bends begin; letters that fit before them. */
const HANDS = 208;
const BENDS = 288;
const ROOM = 32;

export type Holds = 'one hand' | 'both hands' | 'foot' | 'no hand';
export function holdsOf(step: HandledStep): Holds {
  const has = (hand: string): boolean => step.elements.some((e) => e.hand === hand);
  return has('both') ? 'both hands' : has('one') ? 'one hand' : has('foot') ? 'foot' : 'no hand';
}
export const bendWords = (bends: number): string => (bends === 0 ? '' : bends === 1 ? 'bend' : `${bends} bends`);

export const foldSteps = (way: HandledTime): readonly HandledStep[] => way.steps.filter((s) => s.seconds > 0);

/** Undefined where nothing is done by hand. */
export function foldTime(way: HandledTime): Picture | undefined {
  const steps = foldSteps(way);
  if (steps.length === 0) return undefined;
  const [, last, mark] = axisMarks([0, way.seconds]);
  const px = (WIDTH - 4) / last;
  const floor = TOP + ROW * steps.length;
  const parts: string[] = [];
  for (let t = 0; t <= last + mark / 2; t += mark) {
    const x = 2 + px * t;
    parts.push(line([x, TOP], [x, floor], { stroke: RULE, 'stroke-width': NARROW }));
    const anchor = t === 0 ? 'start' : t > last - mark / 2 ? 'end' : 'middle';
    parts.push(text([x, floor + 14], `${ticked(t, mark)} s`, { class: 'figure small', 'text-anchor': anchor }));
  }
  let start = 0;
  steps.forEach((step, i) => {
    const y = TOP + ROW * i;
    const [x, w] = [2 + px * start, px * step.seconds];
    start += step.seconds;
    const after = x + w + 5 + FIGURE < WIDTH;
    parts.push(
      text([0, y + 11], shortened(capital(step.words), ROOM), { class: 'label' }),
      signs(step, y + 11),
      element('rect', { x, y: y + 16, width: Math.max(w, 1), height: 9, fill: INK }),
      text([after ? x + w + 5 : x - 5, y + 24.5], `${step.seconds.toFixed(1)} s`, {
        class: 'label',
        'text-anchor': after ? 'start' : 'end',
      }),
    );
  });
  parts.push(line([2, floor], [2 + px * last, floor], { stroke: INK, 'stroke-width': NARROW }));
  parts.push(whole(way, floor + AXIS));
  return { width: WIDTH, height: floor + AXIS + WHOLE, body: parts.join('') };
}

/** Hands or foot, then bends, of a step: in columns of their own. */
function signs(step: HandledStep, y: number): string {
  const holds = holdsOf(step);
  const bends = bendWords(step.bends);
  const say = (x: number, words: string): string => text([x, y], words, { class: 'figure small faint' });
  return [
    holds === 'foot' ? sole(HANDS, y) : hands(HANDS, y, holds === 'both hands' ? 2 : holds === 'one hand' ? 1 : 0),
    holds === 'no hand' ? '' : say(HANDS + 18, holds),
    bends ? stooped(BENDS, y) + say(BENDS + 14, bends) : '',
  ].join('');
}
const hands = (x: number, y: number, n: number): string =>
  Array.from({ length: n }, (_, i) =>
    element('circle', { cx: x + 3 + 8 * i, cy: y - 4, r: 2.8, fill: 'none', stroke: INK, 'stroke-width': MEDIUM }),
  ).join('');
/** A sole seen from above. */
const sole = (x: number, y: number): string =>
  element('rect', {
    x,
    y: y - 6.2,
    width: 11,
    height: 4.4,
    rx: 2.2,
    fill: 'none',
    stroke: INK,
    'stroke-width': MEDIUM,
  });
/** Legs upright, trunk level, head ahead. */
const stooped = (x: number, y: number): string =>
  element('path', {
    d: `M${fixed(x + 1)} ${fixed(y + 1)}V${fixed(y - 6)}L${fixed(x + 7)} ${fixed(y - 7)}V${fixed(y - 3)}`,
    fill: 'none',
    stroke: INK,
    'stroke-width': MEDIUM,
  }) + element('circle', { cx: x + 9.4, cy: y - 8, r: 1.9, fill: INK });

/** Trained time as a bar and the first-time range as a line with ends, both from one zero. */
function whole(way: HandledTime, y: number): string {
  const [low, high] = way.firstTime;
  const label = 72;
  const px = (WIDTH - label - 62) / high;
  const x = (t: number): number => label + px * t;
  const range = `${low.toFixed(0)}–${high.toFixed(0)} s`;
  const mid = y + 33;
  return [
    text([0, y + 14], 'trained', { class: 'figure' }),
    element('rect', { x: label, y: y + 5, width: px * way.seconds, height: 9, fill: INK }),
    text([x(way.seconds) + 6, y + 14], `${way.seconds.toFixed(0)} s`, { class: 'figure' }),
    text([0, mid + 4], 'first time', { class: 'figure' }),
    line([x(low), mid], [x(high), mid], { stroke: ACCENT, 'stroke-width': 1.6 }),
    ...[low, high].map((t) => line([x(t), mid - 5], [x(t), mid + 5], { stroke: ACCENT, 'stroke-width': 1.6 })),
    text([x(high) + 6, mid + 4], range, { class: 'figure' }),
    line([label, y], [label, mid + 8], { stroke: INK, 'stroke-width': NARROW }),
  ].join('');
}
