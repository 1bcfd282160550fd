/**
 * Hand force along one move, folding (continuous) and unfolding (dashed), over the way of its joint. Above zero the hand
 * pushes the part on, below it the part runs away and the hand holds it back. The limits of the weakest users that the brief
 * has in mind stand as two stairs, because the strength that counts changes with the direction of the force: up to the lower one
 * the force is recommended, beyond the upper one it is to be avoided.
 */
import { CONDITIONAL_SHARE, forceCap, RECOMMENDED_SHARE, slides } from '#kernel';
import { type HandledMove, type Judged, strengthAt } from '#study';
import { axisMarks, ticked } from './axis.ts';
import { ACCENT, INK, NARROW, RULE, WASH, WIDE } from './ink.ts';
import { element, fixed, line, type Picture, type Point2, polyline, text } from './svg.ts';

const WIDTH = 340;
const HEIGHT = 190;
const LEFT = 34;
const RIGHT = 8;
const TOP = 16;
const BOTTOM = 36;
const WAYS = ['fold', 'unfold'] as const;
const DASH = { fold: undefined, unfold: '5 3' } as const;

export interface ForceScale {
  readonly low: number;
  readonly high: number;
  readonly step: number;
}
/** One scale for all moves of a bicycle: forces and the limit that they come nearest to. N. */
export function forceScale(moves: readonly HandledMove[]): ForceScale {
  const all = moves.flatMap((m) => WAYS.flatMap((w) => [...m[w].force]));
  const caps = moves.flatMap((m) => [m.hardest.force / m.hardest.risk]);
  const most = Math.max(...all, Math.min(...caps) * 1.1);
  const [low, high, step] = axisMarks([Math.min(0, ...all), most], [0.3, 0]);
  return { low, high, step };
}

/** F_cap of all hands together at each sample, N. */
function capsOf(m: HandledMove, way: 'fold' | 'unfold', users: 'anybody' | 'workers'): number[] {
  return [...m.u.keys()].map((k) => forceCap(strengthAt(m, way, k), users) * m.hardest.hands);
}

export function moveForce(j: Judged, m: HandledMove, { low, high, step }: ForceScale): Picture {
  const { model, setting } = j.evaluation.results;
  const slide = slides(model.top.kind[m.joint]!);
  const value = (k: number): number => (slide ? 1000 * m.q[k]! : (m.q[k]! * 180) / Math.PI);
  const ends = [value(0), value(m.q.length - 1)] as const;
  const unit = slide ? 'mm' : '°';
  const floor = HEIGHT - BOTTOM;
  const x = (k: number): number => LEFT + m.u[k]! * ((WIDTH - LEFT - RIGHT) / m.u[m.u.length - 1]!);
  const y = (f: number): number => floor - ((f - low) / (high - low)) * (floor - TOP);
  const parts: string[] = [];
  const band = limits(m, setting.people.hands, x, y, low, high);
  parts.push(band.area);
  for (let f = low; f <= high + step / 2; f += step) {
    const zero = Math.abs(f) < step / 2;
    parts.push(line([LEFT, y(f)], [WIDTH - RIGHT, y(f)], { stroke: zero ? INK : RULE, 'stroke-width': NARROW }));
    parts.push(text([LEFT - 5, y(f) + 4], ticked(f, step), { class: 'figure small', 'text-anchor': 'end' }));
  }
  parts.push(band.lines);
  for (const way of WAYS) {
    const points = [...m.u.keys()].map((k): Point2 => [x(k), y(Math.max(low, Math.min(high, m[way].force[k]!)))]);
    parts.push(
      polyline(points, {
        fill: 'none',
        stroke: INK,
        'stroke-width': WIDE,
        'stroke-linejoin': 'round',
        'stroke-dasharray': DASH[way],
      }),
    );
  }
  parts.push(...runaways(m, x, y, low));
  parts.push(text([4, 9], 'N', { class: 'figure small' }));
  const tick = (k: number, anchor: string, words: string): void => {
    parts.push(text([x(k), floor + 14], words, { class: 'figure small', 'text-anchor': anchor }));
  };
  const figure = (v: number): string =>
    `${v.toFixed(0).replace(/^-/, '−').replace(/^−0$/, '0')}${slide ? ' mm' : unit}`;
  tick(0, 'start', figure(ends[0]));
  tick(m.q.length - 1, 'end', figure(ends[1]));
  const by = m.place.foot ? 'a foot' : m.hardest.hands === 2 ? 'both hands together' : 'one hand';
  parts.push(
    text([(LEFT + WIDTH - RIGHT) / 2, floor + 14], 'folding →', { class: 'figure small', 'text-anchor': 'middle' }),
    ...WAYS.map((way, i) => key(LEFT + 84 * i, floor + 27, way)),
    line([LEFT + 176, floor + 27], [LEFT + 198, floor + 27], { stroke: ACCENT, 'stroke-width': 1.4 }),
    text([LEFT + 202, floor + 31], 'too much from here', { class: 'figure small' }),
    text([WIDTH - RIGHT, 9], `by ${by}`, { class: 'figure small', 'text-anchor': 'end' }),
  );
  return { width: WIDTH, height: HEIGHT, body: parts.join('') };
}

/** The band between recommended and to be avoided, for pushes and for holding back; of the two ways the weaker at each place. */
function limits(
  m: HandledMove,
  users: 'anybody' | 'workers',
  x: (k: number) => number,
  y: (f: number) => number,
  low: number,
  high: number,
): { area: string; lines: string } {
  const caps = WAYS.map((way) => capsOf(m, way, users));
  const cap = [...m.u.keys()].map((k) => Math.min(caps[0]![k]!, caps[1]![k]!));
  const edge = (k: number, side: -1 | 1): number => (x(k) + x(Math.max(0, Math.min(cap.length - 1, k + side)))) / 2;
  const area: string[] = [];
  const lines: string[] = [];
  for (const sign of [1, -1]) {
    for (const [share, width] of [
      [RECOMMENDED_SHARE, NARROW],
      [CONDITIONAL_SHARE, 1.4],
    ] as const) {
      // a limit that lies beyond the scale is not drawn at its edge
      const inside = (k: number): boolean => sign * share * cap[k]! < high && sign * share * cap[k]! > low;
      let d = '';
      for (const [k, c] of cap.entries()) {
        if (!inside(k)) continue;
        const level = fixed(y(sign * share * c));
        d += `${k > 0 && inside(k - 1) ? `V${level}` : `M${fixed(edge(k, -1))} ${level}`}H${fixed(edge(k, 1))}`;
        if (share === CONDITIONAL_SHARE) {
          const from = y(sign * RECOMMENDED_SHARE * c);
          const to = y(sign * share * c);
          area.push(`M${fixed(edge(k, -1))} ${fixed(from)}H${fixed(edge(k, 1))}V${fixed(to)}H${fixed(edge(k, -1))}Z`);
        }
      }
      if (d) lines.push(element('path', { d, fill: 'none', stroke: ACCENT, 'stroke-width': width }));
    }
  }
  return { area: area.length ? element('path', { d: area.join(''), fill: WASH }) : '', lines: lines.join('') };
}

/** The stretches on which the part runs away by itself, named below the curve. */
function runaways(m: HandledMove, x: (k: number) => number, y: (f: number) => number, low: number): string[] {
  return WAYS.flatMap((way) => {
    const { force, backAt, back } = m[way];
    if (!(back > RUNS)) return [];
    const at: Point2 = [x(backAt), y(Math.max(low, force[backAt]!))];
    const right = at[0] > WIDTH / 2;
    return [
      element('circle', { cx: at[0], cy: at[1], r: 3.4, fill: 'none', stroke: ACCENT, 'stroke-width': 1.4 }),
      text([at[0] + (right ? -8 : 8), at[1] + (way === 'fold' ? 10 : -2)], `runs away: hold ${back.toFixed(0)} N`, {
        class: 'label small accent',
        'text-anchor': right ? 'end' : 'start',
      }),
    ];
  });
}
const key = (x: number, y: number, way: (typeof WAYS)[number]): string =>
  line([x, y], [x + 22, y], { stroke: INK, 'stroke-width': WIDE, 'stroke-dasharray': DASH[way] }) +
  text([x + 26, y + 4], `${way}ing`, { class: 'figure small' });
/** Less is not worth a word, N. */
const RUNS = 5;
