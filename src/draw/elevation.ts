/**
 * The elevation in the ride posture: drive side, to scale, on the ground, with joints by symbol and name, the dimensions that
 * matter, the steer axis drawn down to the ground, and the usual rider as a thin outline. The saddle stands where that rider needs it.
 */
import { slides, type Vec3 } from '#kernel';
import { type Judged, stationAt } from '#study';
import { centreMark, dimension, ground, scaleBar } from './dimension.ts';
import { CENTRE_LINE, INK, NARROW } from './ink.ts';
import { alongLine, inkPoints } from './ink-points.ts';
import { drawJoint, jointOnSheet } from './joints.ts';
import { type Label, placeLabels } from './labels.ts';
import { riderOutline } from './rider-outline.ts';
import { type Scene, sceneAt } from './scene.ts';
import { drawSolids } from './solids.ts';
import { line, type Picture, type Point2, text } from './svg.ts';
import { extentOf, flat, onSheet, pointAt, reductionFor, type Sheet, SIDE, scaleOf, sheetFor } from './view.ts';
import { spaced } from './words.ts';

/** The ride posture with the saddle raised by so many metres from where the file has it. */
export function raisedScene(j: Judged, raise: number): Scene {
  const { model, state } = j.evaluation.results;
  const q = new Float64Array(model.top.kind.length);
  const post = model.roles.seatPost;
  if (post >= 0) {
    const upwards = state.joint[6 * post + 5]! < 0 ? -1 : 1;
    const carries = model.top.jointB[post] === model.roles.saddleBody ? 1 : -1;
    q[post] = raise * upwards * carries;
  }
  return sceneAt(model.top, state, q);
}
/** The ride posture with the saddle at the usual rider's height; without a rider, the file's own posture. */
export const rideScene = (j: Judged): Scene => raisedScene(j, j.evaluation.results.steer?.usual.saddle.raise ?? 0);

export interface Measure {
  readonly name: string;
  readonly value: number;
  readonly unit: 'mm' | 'deg';
}

/** The figures that the elevation carries, for the table beside it. */
export function rideMeasures(j: Judged): Measure[] {
  const { model, state, steer } = j.evaluation.results;
  const { roles, wheels } = model;
  const out: Measure[] = [];
  const mm = (name: string, metres: number): void => {
    if (Number.isFinite(metres)) out.push({ name, value: metres * 1000, unit: 'mm' });
  };
  const height = (i: number): number => (i < 0 ? Number.NaN : stationAt(state, i)[2]);
  mm('wheelbase', stationAt(state, wheels.front.station)[0] - stationAt(state, wheels.rear.station)[0]);
  if (steer) {
    mm('trail', steer.assembled.geometry.trail);
    mm('fork offset', steer.assembled.geometry.offset);
    out.push({ name: 'head angle', value: (steer.assembled.geometry.headAngle * 180) / Math.PI, unit: 'deg' });
  }
  mm('saddle above the ground', steer ? steer.usual.saddle.saddle[2] : height(roles.saddle));
  if (steer) mm('crank to saddle', steer.usual.saddle.reached);
  mm('grip height', height(roles.gripLeft));
  mm('bottom bracket height', height(roles.crank));
  mm('front wheel diameter', 2 * state.value[wheels.front.radius]!);
  mm('rear wheel diameter', 2 * state.value[wheels.rear.radius]!);
  return out;
}

export interface ElevationOptions {
  /** 10 for 1:10; the least that fits the width when missing. */
  readonly reduction?: number;
  readonly width?: number;
  readonly rider?: boolean;
}
export interface ScaledPicture extends Picture {
  readonly reduction: number;
}

/** Width of a page's drawing area, px: 180 mm. */
export const DRAWING_WIDTH = 680;
const EDGE = { left: 44, right: 56, above: 14, below: 92 } as const;

export function elevation(j: Judged, options: ElevationOptions = {}): ScaledPicture {
  const { rider = true, width = DRAWING_WIDTH } = options;
  const { steer } = j.evaluation.results;
  const scene = rideScene(j);
  const body = extentOf(scene.solid, SIDE);
  const seat = rider ? steer?.usual.seat : undefined;
  const high = Math.max(body.top, ...(seat?.segments ?? []).map((s) => Math.max(s.from[2], s.to[2]) + 0.02));
  const long = body.right - body.left;
  const reduction = options.reduction ?? reductionFor(long, width - EDGE.left - EDGE.right, 10);
  const scale = scaleOf(reduction);
  const spare = Math.max(0, (width - EDGE.left - EDGE.right - long * scale) / 2);
  const floor = Math.min(0, body.bottom);
  const bottom = EDGE.above + (high - floor) * scale;
  const height = bottom + EDGE.below;
  const sheet = sheetFor({ ...body, bottom: floor, top: high }, scale, EDGE.left + spare, bottom);
  const ink = inkPoints(scene.solid, (p) => onSheet(sheet, flat(SIDE, p)), scale);
  const groundY = onSheet(sheet, [0, 0])[1];
  const parts = [
    seat && steer ? riderOutline(seat, steer.usual.rider.stature, SIDE, sheet) : '',
    ground(4, width - 4, groundY),
    drawSolids(scene, SIDE, sheet),
    dimensions(j, sheet, { left: EDGE.left + spare - 22, right: width - EDGE.right - spare + 30 }, ink),
    joints(j, scene, sheet, ink, width, groundY),
    scaleBar([EDGE.left + spare, height - 20], scale, 5, 100),
  ];
  return { width, height, reduction, body: parts.join('') };
}

/** Dimension lines; what they cover is added to `ink`. */
function dimensions(j: Judged, sheet: Sheet, columns: { left: number; right: number }, ink: Point2[]): string {
  const { model, state, steer } = j.evaluation.results;
  const { roles, wheels } = model;
  const place = (p: Vec3): Point2 => onSheet(sheet, flat(SIDE, p));
  const under = (p: Vec3): Point2 => place([p[0], 0, 0]);
  const groundY = under([0, 0, 0])[1];
  const values = new Map(rideMeasures(j).map((m) => [m.name, m.value]));
  const say = (name: string): string => (values.get(name) ?? Number.NaN).toFixed(0);
  const [rear, front] = [stationAt(state, wheels.rear.station), stationAt(state, wheels.front.station)];
  const parts = [centreMark(place(rear), 9), centreMark(place(front), 9)];
  parts.push(dimension(under(rear), under(front), say('wheelbase'), false, groundY + 62));
  const height = (p: Vec3, name: string, x: number): void => {
    parts.push(dimension(under(p), place(p), say(name), true, x));
    ink.push(...alongLine([x, groundY], [x, place(p)[1]]), ...alongLine([x - 8, groundY], [x - 8, place(p)[1]]));
    ink.push(...alongLine([x, place(p)[1]], place(p)));
  };
  const grip = roles.gripLeft < 0 ? undefined : stationAt(state, roles.gripLeft);
  const saddle = steer?.usual.saddle.saddle ?? (roles.saddle < 0 ? undefined : stationAt(state, roles.saddle));
  if (saddle) height(saddle, 'saddle above the ground', columns.left);
  if (grip) height(grip, 'grip height', columns.right);
  if (roles.crank >= 0) {
    const crank = stationAt(state, roles.crank);
    // between the crank and the front wheel, where the sheet is emptiest
    const x = (crank[0] + 0.2 + front[0] - state.value[wheels.front.radius]!) / 2;
    height(crank, 'bottom bracket height', place([x, 0, 0])[0]);
  }
  if (steer) {
    const o = 6 * roles.steerer;
    const [point, axis] = [pointAt(state.joint, o), pointAt(state.joint, o + 3)];
    const at = (z: number): Point2 => place([point[0] + ((z - point[2]) * axis[0]) / axis[2], 0, z]);
    const upper = at(Math.max(point[2] + 0.25, (grip?.[2] ?? 0) + 0.11));
    const lower = at(-26 / sheet.scale);
    parts.push(line(upper, lower, { stroke: INK, 'stroke-width': NARROW, 'stroke-dasharray': CENTRE_LINE }));
    parts.push(
      text([upper[0] + 6, upper[1] + 8], `${(values.get('head angle') ?? Number.NaN).toFixed(1)}°`, { class: 'label' }),
    );
    parts.push(dimension(at(0), under(front), `trail ${say('trail')}`, false, groundY + 32));
    ink.push(...alongLine(upper, lower));
  }
  return parts.join('');
}

/** Symbols of all joints but the cranks, and their names. */
function joints(j: Judged, scene: Scene, sheet: Sheet, ink: readonly Point2[], width: number, height: number): string {
  const { roles, top } = j.evaluation.results.model;
  const shown = top.names.joints.map((_, k) => k).filter((k) => k !== roles.cranks);
  const labels = shown.map((k): Label => {
    const name = spaced(top.names.joints[k]!);
    const kind = k === roles.steerer && !/steer/.test(name) ? ' (steerer)' : slides(top.kind[k]!) ? ' (slides)' : '';
    return { at: jointOnSheet(scene, k, SIDE, sheet), words: name + kind };
  });
  return shown.map((k) => drawJoint(scene, k, SIDE, sheet)).join('') + placeLabels(labels, ink, width, height);
}
