/**
 * The trip from door to door: every leg a block as wide as it lasts and as high as the body's power, so that its area is the
 * energy. Above the whole way, below it, enlarged, the part on which the bicycle is folded, carried and unfolded. Legs are numbered
 * as in the table; the bicycle's whole weight in the hands is hatched, and each time it is taken up has an arrow.
 */
import type { TripResult } from '#study';
import { axisMarks, ticked } from './axis.ts';
import { arrowhead, wordWidth } from './dimension.ts';
import { ACCENT, FAINT, INK, MEDIUM, NARROW, PAPER, RULE, WASH } from './ink.ts';
import { element, fixed, line, type Picture, polyline, text } from './svg.ts';

type Leg = TripResult['legs'][number];
const WIDTH = 680;
const LEFT = 44;
const RIGHT = 8;
const PLOT = 120;
const TOP = 26;
const AXIS = 34;
const BETWEEN = 30;
/** A leg narrower than this has its number above the others, px. */
const NARROWEST = 9;
const RIDDEN = new Set(['ride', 'push']);
/** The weight is taken up here. */
const TAKEN_UP = new Set(['carry', 'stairs', 'lift']);

/** Undefined for a trip without legs. */
export function tripLine(trip: TripResult): Picture | undefined {
  const { legs } = trip;
  if (legs.length === 0) return undefined;
  const power = (l: Leg): number => l.energy / l.seconds;
  const [, most, step] = axisMarks([0, ...legs.map(power)]);
  const first = legs.findIndex((l) => !RIDDEN.has(l.kind));
  const enlarge = first > 0;
  const scaleY = (floor: number) => (w: number) => floor - (w / most) * PLOT;
  const upper = strip(legs, 0, { from: 0, to: trip.seconds, floor: TOP + PLOT, y: scaleY(TOP + PLOT), most, step });
  const parts = [upper];
  let height = TOP + PLOT + AXIS;
  if (enlarge) {
    const from = legs[first]!.start;
    const floor = height + BETWEEN + TOP + PLOT;
    // from the ends of the part to the ends of its enlargement
    const x = (t: number): number => LEFT + (t / trip.seconds) * (WIDTH - LEFT - RIGHT);
    const pen = { stroke: FAINT, 'stroke-width': NARROW, 'stroke-dasharray': '2 3' };
    parts.push(
      line([x(from), TOP + PLOT + 18], [LEFT, floor - PLOT - 12], pen),
      line([WIDTH - RIGHT, TOP + PLOT + 18], [WIDTH - RIGHT, floor - PLOT - 12], pen),
      strip(legs.slice(first), first, { from, to: trip.seconds, floor, y: scaleY(floor), most, step }),
    );
    height = floor + AXIS;
  }
  parts.push(text([(LEFT + WIDTH - RIGHT) / 2, height - 2], 'time, s', { class: 'figure', 'text-anchor': 'middle' }));
  parts.push(text([0, 12], 'power of the body, W', { class: 'figure' }));
  return { width: WIDTH, height: height + 4, body: parts.join('') };
}

interface Frame {
  readonly from: number;
  readonly to: number;
  readonly floor: number;
  readonly y: (watt: number) => number;
  readonly most: number;
  readonly step: number;
}

function strip(legs: readonly Leg[], before: number, f: Frame): string {
  const x = (t: number): number => LEFT + ((t - f.from) / (f.to - f.from)) * (WIDTH - LEFT - RIGHT);
  const right = WIDTH - RIGHT;
  const parts: string[] = [];
  for (let w = 0; w <= f.most + f.step / 2; w += f.step) {
    parts.push(line([LEFT, f.y(w)], [right, f.y(w)], { stroke: RULE, 'stroke-width': NARROW }));
    parts.push(text([LEFT - 6, f.y(w) + 4], ticked(w, f.step), { class: 'figure small', 'text-anchor': 'end' }));
  }
  const [t0, , dt] = axisMarks([f.from, f.to]);
  for (let t = t0; t <= f.to; t += dt) {
    if (t < f.from) continue;
    parts.push(line([x(t), f.floor], [x(t), f.floor + 4], { stroke: INK, 'stroke-width': NARROW }));
    parts.push(text([x(t), f.floor + 16], ticked(t, dt), { class: 'figure small', 'text-anchor': 'middle' }));
  }
  let raised = 0;
  legs.forEach((leg, i) => {
    const [a, b] = [x(leg.start), x(leg.start + leg.seconds)];
    const top = f.y(leg.energy / leg.seconds);
    const wide = b - a;
    parts.push(
      element('rect', {
        x: a,
        y: top,
        width: wide,
        height: f.floor - top,
        fill: leg.inHand ? PAPER : WASH,
        stroke: INK,
        'stroke-width': Math.min(MEDIUM, Math.max(NARROW, wide / 3)),
      }),
    );
    if (leg.inHand && wide > 3) parts.push(hatch(a, b, top, f.floor));
    // in the whole way the folded part is too narrow for numbers: it has its own strip
    if (before === 0 && wide < NARROWEST) return;
    raised = wide < 2 * NARROWEST ? (raised + 1) % 2 : 0;
    const y = top - 5 - (raised ? 12 : 0);
    const number = String(before + i + 1);
    const named = `${number} ${leg.kind}`;
    const words = wide > wordWidth(named) ? named : number;
    parts.push(text([(a + b) / 2, y], words, { class: 'label', 'text-anchor': 'middle' }));
    if (before > 0 && TAKEN_UP.has(leg.kind) && !(leg.kind === 'stairs' && legs[i - 1]?.kind === 'carry'))
      parts.push(takenUp((a + b) / 2, y - 13));
  });
  parts.push(line([LEFT, f.floor], [right, f.floor], { stroke: INK, 'stroke-width': NARROW }));
  return parts.join('');
}

function hatch(a: number, b: number, top: number, floor: number): string {
  let d = '';
  const tall = floor - top;
  for (let o = 6; o < b - a + tall; o += 6) {
    // strokes under 45° from the left and bottom edges, cut at the block
    const [x0, y0] = o <= tall ? [a, top + o] : [a + o - tall, floor];
    const [x1, y1] = o <= b - a ? [a + o, top] : [b, top + o - (b - a)];
    d += `M${fixed(x0)} ${fixed(y0)}L${fixed(x1)} ${fixed(y1)}`;
  }
  return d ? element('path', { d, stroke: INK, 'stroke-width': NARROW, fill: 'none' }) : '';
}

const takenUp = (x: number, y: number): string =>
  polyline(
    [
      [x, y],
      [x, y - 10],
    ],
    { stroke: ACCENT, 'stroke-width': 1.4, fill: 'none' },
  ) + arrowhead([x, y - 14], [x, y], 7, ACCENT);
