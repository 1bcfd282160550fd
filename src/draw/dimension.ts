/** Dimension lines as on a drawing sheet: narrow line, slim arrowheads, the figure above the line, in millimetres. */
import { INK, NARROW } from './ink.ts';
import { element, line, type Point2, polyline, text } from './svg.ts';

const HEAD = 7;

const arrow = (tip: Point2, toward: Point2): string => {
  const dx = toward[0] - tip[0];
  const dy = toward[1] - tip[1];
  const l = Math.sqrt(dx * dx + dy * dy) || 1;
  const [ux, uy] = [dx / l, dy / l];
  const back: Point2 = [tip[0] + HEAD * ux, tip[1] + HEAD * uy];
  return polyline(
    [tip, [back[0] - 2 * uy, back[1] + 2 * ux], [back[0] + 2 * uy, back[1] - 2 * ux]],
    { fill: INK },
    true,
  );
};

/** A horizontal or vertical dimension between two points, its line `offset` px away (down or left positive). */
export function dimension(a: Point2, b: Point2, label: string, vertical: boolean, offset: number): string {
  const pen = { stroke: INK, 'stroke-width': NARROW, fill: 'none' };
  if (vertical) {
    const x = Math.min(a[0], b[0]) - offset;
    const [p, q]: [Point2, Point2] = [
      [x, a[1]],
      [x, b[1]],
    ];
    const mid = (a[1] + b[1]) / 2;
    return element('g', {}, [
      line(a, [x - 3, a[1]], pen),
      line(b, [x - 3, b[1]], pen),
      line(p, q, pen),
      arrow(p, q),
      arrow(q, p),
      text([x - 4, mid], label, { class: 'figure', 'text-anchor': 'middle', transform: `rotate(-90 ${x - 4} ${mid})` }),
    ]);
  }
  const y = Math.max(a[1], b[1]) + offset;
  const [p, q]: [Point2, Point2] = [
    [a[0], y],
    [b[0], y],
  ];
  return element('g', {}, [
    line(a, [a[0], y + 3], pen),
    line(b, [b[0], y + 3], pen),
    line(p, q, pen),
    arrow(p, q),
    arrow(q, p),
    text([(a[0] + b[0]) / 2, y - 4], label, { class: 'figure', 'text-anchor': 'middle' }),
  ]);
}
