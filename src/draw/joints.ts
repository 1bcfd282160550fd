/**
 * Joints by the symbols of ISO 3952-1: a revolute pair seen along its axis is a small open circle; seen from the side it is
 * a short sleeve across its axis line; a prismatic pair is a sleeve along its line. Between, the sleeve is foreshortened.
 */
import { movePoint, slides, turnVector, type Vec3 } from '#kernel';
import { ACCENT, NARROW, PAPER } from './ink.ts';
import type { Scene } from './scene.ts';
import { element, line, type Point2, polyline } from './svg.ts';
import { flat, onSheet, pointAt, type Sheet, type View } from './view.ts';

const RADIUS = 5;
const SLEEVE = 9;

/** Where a joint's point lies on the paper; it rides on the joint's first body. */
export const jointOnSheet = (scene: Scene, joint: number, view: View, sheet: Sheet): Point2 =>
  onSheet(sheet, flat(view, movePoint(scene.bodyT, 12 * scene.top.jointA[joint]!, pointAt(scene.joint, 6 * joint))));

export function drawJoint(scene: Scene, joint: number, view: View, sheet: Sheet, size = 1): string {
  const { top } = scene;
  const at = jointOnSheet(scene, joint, view, sheet);
  const axis: Vec3 = turnVector(scene.bodyT, 12 * top.jointA[joint]!, pointAt(scene.joint, 6 * joint + 3));
  const [ax, up] = flat(view, axis);
  const length = Math.sqrt(ax * ax + up * up);
  const pen = { stroke: ACCENT, 'stroke-width': 1.4, fill: PAPER };
  const sliding = slides(top.kind[joint]!);
  if (length < 0.25 && !sliding) return element('circle', { cx: at[0], cy: at[1], r: RADIUS * size, ...pen });
  const u: Point2 = length > 1e-9 ? [ax / length, -up / length] : [1, 0];
  const half = SLEEVE * size * Math.max(length, 0.4);
  const corner = (a: number, b: number): Point2 => [at[0] + a * u[0] - b * u[1], at[1] + a * u[1] + b * u[0]];
  const reach = half + 9 * size;
  const w = 4 * size;
  return (
    polyline([corner(-half, -w), corner(half, -w), corner(half, w), corner(-half, w)], pen, true) +
    line(corner(-reach, 0), corner(reach, 0), {
      stroke: ACCENT,
      'stroke-width': NARROW * 1.3,
      'stroke-dasharray': sliding ? undefined : '6 2 1 2',
    })
  );
}
