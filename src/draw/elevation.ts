/**
 * The elevation in the ride posture: drive side, to scale, on the ground, with joints by symbol and name, the dimensions that
 * matter, the steer axis drawn down to the ground, and the usual rider as a thin outline. The saddle stands where that rider needs it.
 */
import { type Solid, slides, type Vec3 } from '#kernel';
import { type Judged, stationAt } from '#study';
import { centreMark, dimension, ground, scaleBar } from './dimension.ts';
import { CENTRE_LINE, INK, NARROW } from './ink.ts';
import { drawJoint, jointOnSheet } from './joints.ts';
import { type Label, placeLabels } from './labels.ts';
import { riderOutline } from './rider-outline.ts';
import { type Scene, sceneAt } from './scene.ts';
import { drawSolids } from './solids.ts';
import { line, type Picture, type Point2, text } from './svg.ts';
import { extentOf, flat, onSheet, pointAt, reductionFor, SIDE, scaleOf, sheetFor } from './view.ts';

/** Joint names as people read them. */
export const spaced = (name: string): string => name.replaceAll('_', ' ');

/** The ride posture with the saddle at the usual rider's height, and that rider; without a rider, the file's own posture. */
export function rideScene(j: Judged): Scene {
  const { model, state, steer } = j.evaluation.results;
  const q = new Float64Array(model.top.kind.length);
  const post = model.roles.seatPost;
  if (steer && post >= 0) {
    const upwards = state.joint[6 * post + 5]! < 0 ? -1 : 1;
    const carries = model.top.jointB[post] === model.roles.saddleBody ? 1 : -1;
    q[post] = steer.usual.saddle.raise * upwards * carries;
  }
  return sceneAt(model.top, state, q);
}

export interface Measure {
  readonly name: string;
  readonly value: number;
  readonly unit: 'mm' | 'deg';
}
const named = (list: readonly Measure[]) => new Map(list.map((m) => [m.name, m.value]));

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
  mm('saddle height above the ground', steer ? steer.usual.saddle.saddle[2] : height(roles.saddle));
  if (steer) mm('crank to saddle', steer.usual.saddle.reached);
  mm('grip height', height(roles.gripLeft));
  mm('bottom bracket height', height(roles.crank));
  mm('front wheel diameter', 2 * state.value[wheels.front.radius]!);
  mm('rear wheel diameter', 2 * state.value[wheels.rear.radius]!);
  return out;
}

/** Points that lettering should not cover: along tubes and around wheels. */
export function inkPoints(solid: Solid, place: (p: Vec3) => Point2): Point2[] {
  const out: Point2[] = [];
  for (let o = 0; o < solid.capsule.length; o += 7) {
    const [p, q] = [place(pointAt(solid.capsule, o)), place(pointAt(solid.capsule, o + 3))];
    const steps = Math.max(1, Math.ceil((Math.abs(q[0] - p[0]) + Math.abs(q[1] - p[1])) / 8));
    for (let i = 0; i <= steps; i++) out.push([p[0] + ((q[0] - p[0]) * i) / steps, p[1] + ((q[1] - p[1]) * i) / steps]);
  }
  for (let o = 0; o < solid.disc.length; o += 8) {
    const c = place(pointAt(solid.disc, o));
    const edge = place([solid.disc[o]! + solid.disc[o + 6]!, solid.disc[o + 1]!, solid.disc[o + 2]!]);
    const r = Math.abs(edge[0] - c[0]);
    for (let i = 0; i < 64; i++) {
      const a = (2 * Math.PI * i) / 64;
      for (const share of [1, 0.85]) out.push([c[0] + share * r * Math.cos(a), c[1] + share * r * Math.sin(a)]);
    }
  }
  for (let o = 0; o < solid.box.length; o += 15) out.push(place(pointAt(solid.box, o)));
  return out;
}

export interface ElevationOptions {
  /** 10 for 1:10; the least that fits the width when missing. */
  readonly reduction?: number;
  readonly width?: number;
  readonly rider?: boolean;
  readonly dimensions?: boolean;
}

/** Width of a page's drawing area, px: 180 mm. */
export const DRAWING_WIDTH = 680;

export interface ScaledPicture extends Picture {
  readonly reduction: number;
}

export function elevation(j: Judged, options: ElevationOptions = {}): ScaledPicture {
  const { dimensions = true, rider = true, width: room = DRAWING_WIDTH } = options;
  const { model, state, steer } = j.evaluation.results;
  const scene = rideScene(j);
  const { top, solid } = scene;
  const body = extentOf(solid, SIDE);
  const seat = rider ? steer?.usual.seat : undefined;
  const high = seat ? Math.max(body.top, ...seat.segments.map((s) => Math.max(s.from[2], s.to[2]) + 0.02)) : body.top;
  const [left, right] = dimensions ? [44, 56] : [8, 8];
  const [above, below] = dimensions ? [14, 92] : [6, 30];
  const reduction = options.reduction ?? reductionFor(body.right - body.left, room - left - right, 10);
  const scale = scaleOf(reduction);
  const width = Math.max((body.right - body.left) * scale + left + right, dimensions ? room : 0);
  const spare = (width - left - right - (body.right - body.left) * scale) / 2;
  const floor = Math.min(0, body.bottom);
  const bottom = above + (high - floor) * scale;
  const height = bottom + below;
  const sheet = sheetFor({ ...body, bottom: floor, top: high }, scale, left + spare, bottom);
  const place = (p: Vec3): Point2 => onSheet(sheet, flat(SIDE, p));
  const groundY = place([0, 0, 0])[1];
  const parts: string[] = [];
  if (seat && steer) parts.push(riderOutline(seat, steer.usual.rider.stature, SIDE, sheet));
  parts.push(ground(4, width - 4, groundY));
  parts.push(drawSolids(scene, SIDE, sheet));
  if (!dimensions) {
    const y = height - 8;
    parts.push(scaleBar([left, y - 12], scale, 5, 100));
    return { width, height, reduction, body: parts.join('') };
  }

  const [rear, front] = [stationAt(state, model.wheels.rear.station), stationAt(state, model.wheels.front.station)];
  for (const hub of [rear, front]) parts.push(centreMark(place(hub), 9));
  const values = named(rideMeasures(j));
  const say = (name: string): string => (values.get(name) ?? 0).toFixed(0);
  const contact = (p: Vec3): Point2 => place([p[0], 0, 0]);
  parts.push(dimension(contact(rear), contact(front), say('wheelbase'), false, groundY + 62));
  const ink: Point2[] = inkPoints(solid, place);
  const gripAt = model.roles.gripLeft < 0 ? undefined : stationAt(state, model.roles.gripLeft);
  if (steer) {
    const o = 6 * model.roles.steerer;
    const [point, axis] = [pointAt(state.joint, o), pointAt(state.joint, o + 3)];
    const on = (z: number): Vec3 => [point[0] + ((z - point[2]) * axis[0]) / axis[2], 0, z];
    const upper = place(on(Math.max(point[2] + 0.25, (gripAt?.[2] ?? 0) + 0.06)));
    const foot = place(on(0));
    const lower = place(on(-26 / scale));
    parts.push(line(upper, lower, { stroke: INK, 'stroke-width': NARROW, 'stroke-dasharray': CENTRE_LINE }));
    parts.push(dimension(foot, contact(front), `trail ${say('trail')}`, false, groundY + 32, true));
    for (let i = 0; i <= 60; i++)
      ink.push([upper[0] + ((lower[0] - upper[0]) * i) / 60, upper[1] + ((lower[1] - upper[1]) * i) / 60]);
    parts.push(
      text([upper[0] + 5, upper[1] + 2], `${(values.get('head angle') ?? 0).toFixed(1)}°`, { class: 'label' }),
    );
  }
  const saddle = steer
    ? steer.usual.saddle.saddle
    : model.roles.saddle >= 0
      ? stationAt(state, model.roles.saddle)
      : undefined;
  if (saddle)
    parts.push(
      dimension(contact(saddle), place(saddle), say('saddle height above the ground'), true, left + spare - 22),
    );
  if (gripAt)
    parts.push(dimension(contact(gripAt), place(gripAt), say('grip height'), true, width - right - spare + 30));
  if (model.roles.crank >= 0) {
    const crank = stationAt(state, model.roles.crank);
    // between the crank and the front wheel, where the sheet is empty
    const x = place([(crank[0] + 0.2 + front[0] - state.value[model.wheels.front.radius]!) / 2, 0, 0])[0];
    parts.push(dimension(contact(crank), place(crank), say('bottom bracket height'), true, x));
    const y = place(crank)[1];
    for (let yy = y; yy < groundY; yy += 8) ink.push([x, yy], [x - 8, yy]);
  }
  const labels: Label[] = [];
  const shown = top.names.joints.map((_, k) => k).filter((k) => k !== model.roles.cranks);
  for (const k of shown) parts.push(drawJoint(scene, k, SIDE, sheet));
  for (const k of shown) {
    const kind = k === model.roles.steerer ? ' (steerer)' : slides(top.kind[k]!) ? ' (slides)' : '';
    labels.push({ at: jointOnSheet(scene, k, SIDE, sheet), words: `${spaced(top.names.joints[k]!)}${kind}` });
  }
  parts.push(placeLabels(labels, ink, width, groundY));
  parts.push(scaleBar([left + spare, height - 20], scale, 5, 100));
  return { width, height, reduction, body: parts.join('') };
}
