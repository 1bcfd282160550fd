/**
 * Outlines of shapes in parallel projection as SVG path data, exact: a capsule is a stadium, a flat cylinder two half
 * ellipses joined by lines, a box a hull of eight corners. All run the same way round, so that several in one path unite.
 */
import { add, type Numbers, scale, type Vec3 } from '#kernel';
import { fixed, type Point2 } from './svg.ts';
import { flat, hull2, onSheet, pointAt, type Sheet, type View } from './view.ts';

const at = ([x, y]: Point2): string => `${fixed(x)} ${fixed(y)}`;
const place = (view: View, sheet: Sheet, p: Vec3): Point2 => onSheet(sheet, flat(view, p));
const arc = (rx: number, ry: number, turn: number, sweep: 0 | 1, to: Point2): string =>
  `A${fixed(rx)} ${fixed(ry)} ${fixed(turn)} 0 ${sweep} ${at(to)}`;

/** A tube with round ends of paper radius `r` between two paper points. */
export function stadium(p: Point2, q: Point2, r: number): string {
  const [dx, dy] = [q[0] - p[0], q[1] - p[1]];
  const l = Math.sqrt(dx * dx + dy * dy);
  const [ux, uy] = l > 1e-6 ? [dx / l, dy / l] : [1, 0];
  const side = (c: Point2, s: number): Point2 => [c[0] - s * r * uy, c[1] + s * r * ux];
  return `M${at(side(p, 1))}L${at(side(q, 1))}${arc(r, r, 0, 0, side(q, -1))}L${at(side(p, -1))}${arc(r, r, 0, 0, side(p, 1))}Z`;
}

/** Capsule at offset `o` (7 numbers). */
export const capsulePath = (a: Numbers, o: number, view: View, sheet: Sheet): string =>
  stadium(place(view, sheet, pointAt(a, o)), place(view, sheet, pointAt(a, o + 3)), a[o + 6]! * sheet.scale);

/** Flat cylinder at offset `o` (8 numbers), of another radius when given. */
export function discPath(d: Numbers, o: number, view: View, sheet: Sheet): string {
  const n = pointAt(d, o + 3);
  const [radius, half] = [d[o + 6]! * sheet.scale, d[o + 7]! * sheet.scale];
  const c = place(view, sheet, pointAt(d, o));
  const [nx, up] = flat(view, n);
  const tilt = Math.sqrt(nx * nx + up * up);
  // paper directions of the axis, and of the ellipse's long axis square to it
  const [ux, uy] = tilt > 1e-9 ? [nx / tilt, -up / tilt] : [1, 0];
  const short = radius * Math.sqrt(Math.max(0, 1 - tilt * tilt));
  const turn = (Math.atan2(ux, -uy) * 180) / Math.PI;
  const end = (side: number, long: number): Point2 => [
    c[0] + side * half * tilt * ux - long * radius * uy,
    c[1] + side * half * tilt * uy + long * radius * ux,
  ];
  return `M${at(end(1, 1))}${arc(radius, short, turn, 0, end(1, -1))}L${at(end(-1, -1))}${arc(radius, short, turn, 0, end(-1, 1))}Z`;
}

/** A circle in space as an ellipse: centre, unit normal, radius. */
export const circlePath = (c: Vec3, n: Vec3, radius: number, view: View, sheet: Sheet): string =>
  discPath([...c, ...n, radius, 0], 0, view, sheet);

/** Box at offset `o` (15 numbers). */
export function boxPath(b: Numbers, o: number, view: View, sheet: Sheet): string {
  const corners: Point2[] = [];
  for (const x of [-1, 1])
    for (const y of [-1, 1])
      for (const z of [-1, 1]) {
        let p = pointAt(b, o);
        [x, y, z].forEach((sign, k) => {
          p = add(p, scale(pointAt(b, o + 3 + 3 * k), sign * b[o + 12 + k]!));
        });
        corners.push(place(view, sheet, p));
      }
  return `M${hull2(corners).map(at).join('L')}Z`;
}
