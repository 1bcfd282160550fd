/**
 * Eigenvalues against speed: real parts as lines, imaginary parts of oscillating pairs dashed, the stable range shaded.
 * Growth above the zero line means that the uncontrolled bicycle leaves the upright.
 */
import { ACCENT, FAINT, INK, NARROW } from './ink.ts';
import { element, line, type Picture, type Point2, polyline, text } from './svg.ts';

export interface EigenRow {
  readonly speed_mps: number;
  readonly re: readonly number[];
  readonly im: readonly number[];
}

const WIDTH = 460;
const HEIGHT = 250;
const LEFT = 44;
const RIGHT = 12;
const TOP_EDGE = 14;
const BOTTOM = 34;
const SPAN = 10;

/** `rows` with increasing speed; `weave` and `capsize` in m/s or null where there is none. Values beyond ±10 1/s are cut off. */
export function eigenPlot(rows: readonly EigenRow[], weave: number | null, capsize: number | null): Picture {
  const first = rows[0]!.speed_mps;
  const last = rows.at(-1)!.speed_mps;
  const x = (v: number) => LEFT + ((v - first) / (last - first)) * (WIDTH - LEFT - RIGHT);
  const y = (r: number) => TOP_EDGE + ((SPAN - r) / (2 * SPAN)) * (HEIGHT - TOP_EDGE - BOTTOM);
  const inside = (r: number) => Math.abs(r) <= SPAN;
  const parts: string[] = [];
  if (weave !== null && weave < last) {
    const end = capsize === null ? last : Math.min(capsize, last);
    if (end > weave) {
      parts.push(
        element('rect', {
          x: x(weave),
          y: TOP_EDGE,
          width: x(end) - x(weave),
          height: HEIGHT - TOP_EDGE - BOTTOM,
          fill: 'var(--wash)',
          stroke: FAINT,
          'stroke-width': 0.5,
          'stroke-dasharray': '2 3',
        }),
      );
      parts.push(
        text([(x(weave) + x(end)) / 2, TOP_EDGE + 12], 'steady by itself', {
          class: 'figure',
          'text-anchor': 'middle',
        }),
      );
    }
  }
  for (let r = -SPAN; r <= SPAN; r += 5) {
    parts.push(
      line([LEFT, y(r)], [WIDTH - RIGHT, y(r)], { stroke: r === 0 ? INK : 'var(--rule)', 'stroke-width': NARROW }),
    );
    parts.push(text([LEFT - 6, y(r) + 4], String(r), { class: 'figure', 'text-anchor': 'end' }));
  }
  for (let v = Math.ceil(first); v <= last; v += 2)
    parts.push(text([x(v), HEIGHT - BOTTOM + 15], String(v), { class: 'figure', 'text-anchor': 'middle' }));
  const runs = (pick: (row: EigenRow, k: number) => number | undefined): Point2[][] => {
    const out: Point2[][] = [];
    for (let k = 0; k < 4; k++) {
      let run: Point2[] = [];
      for (const row of rows) {
        const value = pick(row, k);
        if (value !== undefined && inside(value)) run.push([x(row.speed_mps), y(value)]);
        else if (run.length) {
          out.push(run);
          run = [];
        }
      }
      if (run.length) out.push(run);
    }
    return out.filter((run) => run.length > 1);
  };
  for (const run of runs((row, k) => row.re[k]))
    parts.push(polyline(run, { fill: 'none', stroke: INK, 'stroke-width': 1.6 }));
  for (const run of runs((row, k) => (row.im[k]! > 1e-6 ? row.im[k] : undefined)))
    parts.push(polyline(run, { fill: 'none', stroke: ACCENT, 'stroke-width': 1.2, 'stroke-dasharray': '5 3' }));
  parts.push(
    text([(LEFT + WIDTH - RIGHT) / 2, HEIGHT - 4], 'speed, m/s', { class: 'figure', 'text-anchor': 'middle' }),
  );
  parts.push(
    text([12, HEIGHT / 2 - 10], 'growth (line) and frequency (dashed), 1/s', {
      class: 'figure',
      'text-anchor': 'middle',
      transform: `rotate(-90 12 ${HEIGHT / 2 - 10})`,
    }),
  );
  return { width: WIDTH, height: HEIGHT, body: parts.join('') };
}
