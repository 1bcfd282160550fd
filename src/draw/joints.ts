/**
 * Joints by the symbols of ISO 3952-1: a revolute pair seen along its axis is a small open circle; seen from the side it is
 * a short sleeve across its axis line; a prismatic pair is a sleeve along its line. Between, the sleeve is foreshortened.
 */
import { movePoint, type Numbers, slides, type Topology, turnVector, type Vec3 } from '#kernel';
import { ACCENT, NARROW, PAPER } from './ink.ts';
import { element, line, type Point2, polyline, text } from './svg.ts';
import { flat, onSheet, pointAt, type Sheet, type View } from './view.ts';

const RADIUS = 5;
const SLEEVE = 9;

export interface JointMark {
  readonly joint: number;
  readonly label?: string;
}

/** The marks of the given joints in a posture: `joint` as in State (6 per joint, ride posture), carried by each joint's first body. */
export function drawJoints(
  top: Topology,
  joint: Numbers,
  bodyT: Numbers,
  marks: readonly JointMark[],
  view: View,
  sheet: Sheet,
): string {
  return element(
    'g',
    { class: 'joints' },
    marks.map((mark) => one(top, joint, bodyT, mark, view, sheet)),
  );
}

function one(top: Topology, joint: Numbers, bodyT: Numbers, mark: JointMark, view: View, sheet: Sheet): string {
  const o = 12 * top.jointA[mark.joint]!;
  const at = onSheet(sheet, flat(view, movePoint(bodyT, o, pointAt(joint, 6 * mark.joint))));
  const axis: Vec3 = turnVector(bodyT, o, pointAt(joint, 6 * mark.joint + 3));
  const [ax, up] = flat(view, axis);
  const length = Math.sqrt(ax * ax + up * up);
  const pen = { stroke: ACCENT, 'stroke-width': 1.4, fill: PAPER };
  const label = mark.label ? text([at[0] + 9, at[1] - 8], mark.label, { class: 'joint-name' }) : '';
  if (length < 0.25 && !slides(top.kind[mark.joint]!))
    return element('circle', { cx: at[0], cy: at[1], r: RADIUS, ...pen }) + label;
  const u: Point2 = length > 1e-9 ? [ax / length, -up / length] : [1, 0];
  const n: Point2 = [-u[1], u[0]];
  const half = SLEEVE * Math.max(length, 0.4);
  const corner = (a: number, b: number): Point2 => [at[0] + a * u[0] + b * n[0], at[1] + a * u[1] + b * n[1]];
  const reach = half + 10;
  const sleeve = polyline([corner(-half, -4), corner(half, -4), corner(half, 4), corner(-half, 4)], pen, true);
  const centre = line(corner(-reach, 0), corner(reach, 0), {
    stroke: ACCENT,
    'stroke-width': NARROW,
    'stroke-dasharray': slides(top.kind[mark.joint]!) ? undefined : '6 2 1 2',
  });
  return sleeve + centre + label;
}
