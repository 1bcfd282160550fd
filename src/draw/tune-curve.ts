/**
 * Least mass against stiffness: one mark per level, joined by a line that rises only where the next level asks for it, with the
 * frame as its file draws it beside them. Below the line nothing was found.
 */
import { figureText, type Tuned } from '#study';
import { axisMarks, ticked } from './axis.ts';
import { ACCENT, FAINT, INK, MEDIUM, NARROW, PAPER, RULE, WASH } from './ink.ts';
import { element, line, type Picture, type Point2, polyline, text } from './svg.ts';

const WIDTH = 560;
const HEIGHT = 330;
const LEFT = 58;
const RIGHT = 20;
const HIGH = 40;
const BOTTOM = 46;
/** What the words beside the drawn frame take. */
const NAME = 130;
/** Parts of a step that stay free below and above the marks. */
const ROOM = [0.6, 0.2] as const;

/** Undefined where the sizing has no curve. */
export function tuneCurve(t: Tuned): { readonly picture: Picture; readonly title: string } | undefined {
  const { curve } = t;
  if (!curve || curve.points.length < 2) return undefined;
  const { unit, title } = curve.quantity.family;
  const drawn: Point2 | undefined = Number.isNaN(t.stiffnessNow) ? undefined : [t.stiffnessNow, t.mass.now];
  const points = curve.points.map((p): Point2 => [p.value, p.mass]);
  const all = drawn ? [...points, drawn] : points;
  const [x0, x1, dx] = axisMarks(
    all.map((p) => p[0]),
    ROOM,
  );
  const [y0, y1, dy] = axisMarks(
    all.map((p) => p[1]),
    ROOM,
  );
  const x = (v: number): number => LEFT + ((v - x0) / (x1 - x0)) * (WIDTH - LEFT - RIGHT);
  const y = (m: number): number => HEIGHT - BOTTOM - ((m - y0) / (y1 - y0)) * (HEIGHT - HIGH - BOTTOM);
  const floor = HEIGHT - BOTTOM;
  const parts: string[] = [];
  // a stiffness between two marks needs the mass of the next
  const stairs = points.flatMap(([v, m], i): Point2[] =>
    i === 0
      ? [[x(v), y(m)]]
      : [
          [x(points[i - 1]![0]), y(m)],
          [x(v), y(m)],
        ],
  );
  parts.push(
    polyline(
      [[x(x0), y(points[0]![1])], ...stairs, [stairs.at(-1)![0], floor], [x(x0), floor]],
      { fill: WASH, stroke: 'none' },
      true,
    ),
  );
  for (let m = y0; m <= y1 + dy / 2; m += dy) {
    parts.push(line([LEFT, y(m)], [WIDTH - RIGHT, y(m)], { stroke: RULE, 'stroke-width': NARROW }));
    parts.push(text([LEFT - 7, y(m) + 4], ticked(m, dy), { class: 'figure', 'text-anchor': 'end' }));
  }
  for (let v = x0; v <= x1 + dx / 2; v += dx) {
    parts.push(line([x(v), floor], [x(v), floor + 4], { stroke: INK, 'stroke-width': NARROW }));
    parts.push(text([x(v), floor + 17], ticked(v, dx), { class: 'figure', 'text-anchor': 'middle' }));
  }
  parts.push(line([LEFT, floor], [WIDTH - RIGHT, floor], { stroke: INK, 'stroke-width': NARROW }));
  parts.push(
    polyline([[x(x0), y(points[0]![1])], ...stairs], {
      fill: 'none',
      stroke: INK,
      'stroke-width': MEDIUM,
      'stroke-linejoin': 'round',
    }),
  );
  points.forEach(([v, m], i) => {
    parts.push(element('circle', { cx: x(v), cy: y(m), r: 3.4, fill: i === 0 ? ACCENT : INK }));
  });
  if (drawn)
    parts.push(
      element('circle', { cx: x(drawn[0]), cy: y(drawn[1]), r: 4, fill: PAPER, stroke: INK, 'stroke-width': MEDIUM }),
    );
  // the curve rises to the right: below it on the right and above it on the left there is room
  const [v0, m0] = points[0]!;
  parts.push(text([x(v0) + 9, y(m0) + 14], `lightest that holds, ${m0.toFixed(2)} kg`, { class: 'figure accent' }));
  if (drawn) {
    const [v, m] = drawn;
    const left = x(v) > LEFT + NAME;
    const at: Point2 = [x(v) + (left ? -9 : 9), y(m) - 7];
    parts.push(text(at, `as drawn, ${m.toFixed(2)} kg`, { class: 'figure', 'text-anchor': left ? 'end' : 'start' }));
  }
  parts.push(
    text([WIDTH - RIGHT - 6, floor - 8], 'nothing lighter was found', {
      class: 'figure small faint',
      'text-anchor': 'end',
      fill: FAINT,
    }),
  );
  parts.push(text([LEFT, 18], `${t.candidate.name}: least mass against ${title}`, { class: 'name' }));
  parts.push(
    text([(LEFT + WIDTH - RIGHT) / 2, HEIGHT - 8], `${title}, at least, ${unit}`, {
      class: 'figure',
      'text-anchor': 'middle',
    }),
  );
  const middle = (HIGH + floor) / 2;
  parts.push(
    text([14, middle], 'bicycle, kg', {
      class: 'figure',
      'text-anchor': 'middle',
      transform: `rotate(-90 14 ${middle})`,
    }),
  );
  const words = `Least mass of ${t.candidate.name} against ${title}: ${curve.points
    .map((p) => `${figureText(p.level, unit)} ${p.mass.toFixed(2)} kg`)
    .join(', ')}`;
  return { picture: { width: WIDTH, height: HEIGHT, body: parts.join('') }, title: words };
}
