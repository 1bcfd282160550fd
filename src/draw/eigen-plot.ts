/**
 * Eigenvalues against speed: real parts as lines, imaginary parts of oscillating pairs dashed, the range that is steady by
 * itself shaded. Growth above the zero line means that the uncontrolled bicycle leaves the upright.
 */
import type { EigenAt } from '#study';
import { ACCENT, FAINT, INK, NARROW, RULE, WASH } from './ink.ts';
import { element, line, type Picture, type Point2, polyline, text } from './svg.ts';

const WIDTH = 560;
const HEIGHT = 290;
const LEFT = 46;
const RIGHT = 14;
const TOP_EDGE = 34;
const BOTTOM = 40;
const SPAN = 10;
/** What a word beside a mark takes. */
const ROOM = 120;
/** The least frequency that counts as an oscillation, 1/s. */
const OSCILLATES = 1e-6;

/** `rows` with increasing speed, two at least; `weave` and `capsize` in m/s or null where there is none. Values beyond ±10 1/s are cut off. */
export function eigenPlot(rows: readonly EigenAt[], weave: number | null, capsize: number | null): Picture {
  const first = rows[0]!.speed_mps;
  const last = rows.at(-1)!.speed_mps;
  const x = (v: number) => LEFT + ((v - first) / (last - first)) * (WIDTH - LEFT - RIGHT);
  const y = (r: number) => TOP_EDGE + ((SPAN - r) / (2 * SPAN)) * (HEIGHT - TOP_EDGE - BOTTOM);
  const floor = HEIGHT - BOTTOM;
  const parts: string[] = [];
  const mark = (v: number, words: string, side: 'start' | 'end', row: number): void => {
    const pen = { stroke: FAINT, 'stroke-width': NARROW, 'stroke-dasharray': '2 3' };
    const y0 = TOP_EDGE - 8 - 13 * row;
    parts.push(line([x(v), y0 - 8], [x(v), floor], pen));
    parts.push(text([x(v) + (side === 'start' ? 4 : -4), y0], words, { class: 'figure', 'text-anchor': side }));
  };
  const end = capsize === null ? last : Math.min(capsize, last);
  if (weave !== null && weave < end) {
    parts.push(
      element('rect', { x: x(weave), y: TOP_EDGE, width: x(end) - x(weave), height: floor - TOP_EDGE, fill: WASH }),
    );
    if (x(end) - x(weave) > 90)
      parts.push(
        text([(x(weave) + x(end)) / 2, floor - 8], 'steady by itself', {
          class: 'figure faint',
          'text-anchor': 'middle',
        }),
      );
  }
  for (let r = -SPAN; r <= SPAN; r += 5) {
    parts.push(line([LEFT, y(r)], [WIDTH - RIGHT, y(r)], { stroke: r === 0 ? INK : RULE, 'stroke-width': NARROW }));
    parts.push(text([LEFT - 6, y(r) + 4], String(r).replace('-', '−'), { class: 'figure', 'text-anchor': 'end' }));
  }
  for (let v = Math.ceil(first); v <= last; v += 2) {
    parts.push(line([x(v), floor], [x(v), floor + 4], { stroke: INK, 'stroke-width': NARROW }));
    parts.push(text([x(v), floor + 16], String(v), { class: 'figure', 'text-anchor': 'middle' }));
  }
  if (weave !== null && weave < last)
    mark(weave, `weave ends ${weave.toFixed(1)}`, x(weave) - LEFT < ROOM ? 'start' : 'end', 0);
  if (capsize !== null && capsize < last)
    mark(capsize, `capsize from ${capsize.toFixed(1)}`, x(capsize) + ROOM > WIDTH ? 'end' : 'start', 1);
  for (const run of unbroken(rows, (row, k) => row.re[k], x, y))
    parts.push(polyline(run, { fill: 'none', stroke: INK, 'stroke-width': 1.6, 'stroke-linejoin': 'round' }));
  for (const run of unbroken(rows, (row, k) => (row.im[k]! > OSCILLATES ? row.im[k] : undefined), x, y))
    parts.push(polyline(run, { fill: 'none', stroke: ACCENT, 'stroke-width': 1.3, 'stroke-dasharray': '5 3' }));
  parts.push(
    text([(LEFT + WIDTH - RIGHT) / 2, HEIGHT - 4], 'speed, m/s', { class: 'figure', 'text-anchor': 'middle' }),
  );
  const mid = (TOP_EDGE + floor) / 2;
  parts.push(
    text([13, mid], 'growth and frequency, 1/s', {
      class: 'figure',
      'text-anchor': 'middle',
      transform: `rotate(-90 13 ${mid})`,
    }),
  );
  return { width: WIDTH, height: HEIGHT, body: parts.join('') };
}

/**
 * Curves without jumps: the four values at each speed belong to no branch by themselves, so each run goes on with the
 * value nearest to where its last two points lead.
 */
function unbroken(
  rows: readonly EigenAt[],
  pick: (row: EigenAt, k: number) => number | undefined,
  x: (v: number) => number,
  y: (r: number) => number,
): Point2[][] {
  interface Run {
    readonly points: { readonly v: number; readonly r: number }[];
    open: boolean;
  }
  const runs: Run[] = [];
  for (const row of rows) {
    const values = [0, 1, 2, 3].map((k) => pick(row, k)).filter((r): r is number => r !== undefined);
    const pairs = runs
      .filter((run) => run.open)
      .flatMap((run) => {
        const [b, a] = [run.points.at(-1)!, run.points.at(-2)];
        const lead = a ? b.r + ((b.r - a.r) * (row.speed_mps - b.v)) / (b.v - a.v) : b.r;
        return values.map((r, k) => ({ run, k, off: Math.abs(r - lead) }));
      })
      .sort((p, q) => p.off - q.off);
    const used = new Set<number>();
    const grown = new Set<Run>();
    for (const { run, k } of pairs) {
      if (used.has(k) || grown.has(run)) continue;
      used.add(k);
      grown.add(run);
      run.points.push({ v: row.speed_mps, r: values[k]! });
    }
    for (const run of runs) if (!grown.has(run)) run.open = false;
    values.forEach((r, k) => {
      if (!used.has(k)) runs.push({ points: [{ v: row.speed_mps, r }], open: true });
    });
  }
  return runs.flatMap((run) => {
    const out: Point2[][] = [];
    let part: Point2[] = [];
    for (const { v, r } of run.points) {
      if (Math.abs(r) <= SPAN) part.push([x(v), y(r)]);
      else if (part.length) {
        out.push(part);
        part = [];
      }
    }
    out.push(part);
    return out.filter((p) => p.length > 1);
  });
}
