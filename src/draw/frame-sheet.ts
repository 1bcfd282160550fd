/**
 * The sheet on which pictures of the frame's strength are drawn: the beam model from the drive side or from above, to scale.
 *
 * Members are thin lines along their axes, rigid ties between them dashed, joints the symbols of the elevation, wheels a
 * faint outline. Units: mm for places of the model, px on the paper.
 */
import { add, scale, type Vec3 } from '#kernel';
import { elasticEnds, type Judged, type Results } from '#study';
import { ground, scaleBar } from './dimension.ts';
import { raisedScene } from './elevation.ts';
import { FAINT, HIDDEN_LINE, INK, NARROW } from './ink.ts';
import { alongLine } from './ink-points.ts';
import { drawJoint } from './joints.ts';
import { circlePath, stadium } from './outline.ts';
import type { Scene } from './scene.ts';
import { element, type Point2 } from './svg.ts';
import {
  around,
  type Extent,
  flat,
  onSheet,
  reductionFor,
  type Sheet,
  SIDE,
  scaleOf,
  sheetFor,
  type View,
} from './view.ts';

export type FrameResult = NonNullable<Results['frame']>;

/** From above, front to the right: what lies left of the rider is up on the paper. */
export const PLAN: View = { right: [1, 0, 0], up: [0, 1, 0], toward: [0, 0, 1] };

export interface FrameSheet {
  readonly view: View;
  readonly sheet: Sheet;
  readonly width: number;
  readonly height: number;
  readonly reduction: number;
  /** Paper point of a place in mm. */
  readonly place: (p: Vec3) => Point2;
  /** Wheels, ground, members, ties, joints. */
  readonly base: string;
  /** Points that lettering keeps off. */
  readonly ink: Point2[];
}

/** Width of one picture, px: half a wide page, or an A4 sheet's column. */
const FRAME_WIDTH = 540;
/** Room around the bicycle for ordinates, arrows and words, px. */
const EDGE = { left: 62, right: 62, above: 58, below: 84 } as const;

export const d2 = (a: Point2, b: Point2): number => {
  const [x, y] = [b[0] - a[0], b[1] - a[1]];
  return Math.sqrt(x * x + y * y);
};
/** To a tenth of a pixel: these pictures have thousands of points. */
export const tenth = (n: number): string => String(Math.round(10 * n) / 10);
export const xy = ([x, y]: Point2): string => `${tenth(x)} ${tenth(y)}`;
/** Path data through points. */
export const through = (points: readonly Point2[]): string => `M${points.map(xy).join('L')}`;

interface Laid extends Omit<FrameSheet, 'base'> {
  /** Markup under the members, their path, markup over them. */
  readonly under: string;
  readonly axes: string;
  readonly over: string;
}
/** A frame is drawn several times a page, on the same sheet. */
const laid = new WeakMap<FrameResult, Map<View, Laid>>();

/** @param options.faint members as narrow lines: something else is the subject. */
export function frameSheet(
  j: Judged,
  frame: FrameResult,
  view: View = SIDE,
  options: { readonly faint?: boolean } = {},
): FrameSheet {
  const known = laid.get(frame) ?? new Map<View, Laid>();
  laid.set(frame, known);
  const { under, axes, over, ink, ...sheet } = known.get(view) ?? layOut(j, frame, view);
  known.set(view, { under, axes, over, ink, ...sheet });
  const members = element('path', {
    d: axes,
    fill: 'none',
    stroke: INK,
    'stroke-width': options.faint ? NARROW : 1.1,
    'stroke-linejoin': 'round',
  });
  return { ...sheet, base: under + members + over, ink: ink.slice() };
}

function layOut(j: Judged, frame: FrameResult, view: View): Laid {
  const { model } = frame;
  const { structure } = model.built;
  const { context } = model;
  const side = view === SIDE;
  const scene = raisedScene(j, model.seated?.saddle.raise ?? 0);
  const metres = (p: Vec3): Point2 => flat(view, scale(p, 1e-3));
  const wheels = (
    [
      ['rearAxle', context.rearRadius, context.rearTyre],
      ['frontAxle', context.frontRadius, context.frontTyre],
    ] as const
  ).flatMap(([place, r, w]) => {
    const node = context.places[place];
    return node < 0 ? [] : [{ at: structure.nodes[node]!.at, r, w }];
  });
  const spots: Point2[] = [
    ...structure.nodes.map((n) => metres(n.at)),
    ...structure.members.flatMap((m) => m.pieces.map((p) => metres(p.to))),
    ...wheels.flatMap((w) =>
      [-1, 1].map((s) => metres(add(w.at, side ? [s * w.r, 0, s * w.r] : [s * w.r, s * w.w, 0]))),
    ),
  ];
  const extent: Extent = around(spots.map(([x, y]) => ({ left: x, right: x, bottom: y, top: y })));
  const long = extent.right - extent.left;
  const reduction = reductionFor(long, FRAME_WIDTH - EDGE.left - EDGE.right, 10);
  const px = scaleOf(reduction);
  const above = side ? EDGE.above : 30;
  const bottom = above + (extent.top - extent.bottom) * px;
  const height = bottom + (side ? EDGE.below : 26);
  const left = (FRAME_WIDTH - long * px) / 2;
  const sheet = sheetFor(extent, px, left, bottom);
  const place = (p: Vec3): Point2 => onSheet(sheet, metres(p));
  const ink: Point2[] = [];
  const axes: string[] = [];
  const ties: string[] = [];
  for (const m of structure.members) {
    const path = [m.pieces[0]!.from, ...m.pieces.map((p) => p.to)].map(place);
    axes.push(through(path));
    for (let i = 0; i + 1 < path.length; i++) ink.push(...alongLine(path[i]!, path[i + 1]!));
    const [from, to] = elasticEnds(m);
    for (const [node, end] of [
      [m.from, from],
      [m.to, to],
    ] as const) {
      const tie = [place(structure.nodes[node]!.at), place(end)] as const;
      if (d2(...tie) > 1.5) ties.push(through(tie));
    }
  }
  for (const joint of structure.joints) {
    // its symbol
    const [x, y] = place(joint.at);
    for (const d of [-7, 0, 7]) ink.push([x + d, y], [x + d, y], [x, y + d], [x, y + d]);
    for (const node of [joint.from, joint.to]) {
      if (node < 0) continue;
      const tie = [place(structure.nodes[node]!.at), place(joint.at)] as const;
      if (d2(...tie) > 1.5) ties.push(through(tie));
    }
  }
  const floor = side && wheels[0] ? place(add(wheels[0].at, [0, 0, -wheels[0].r]))[1] : undefined;
  const under = [
    ...wheels.map((w) => wheel(w, view, sheet, ink)),
    floor === undefined ? '' : ground(20, FRAME_WIDTH - 20, floor),
    ties.length
      ? element('path', {
          d: ties.join(''),
          fill: 'none',
          stroke: FAINT,
          'stroke-width': NARROW,
          'stroke-dasharray': HIDDEN_LINE,
        })
      : '',
  ];
  const bar = side ? scaleBar([24, height - 22], px, 2, 100) : '';
  for (const y of [height - 22, height - 10]) ink.push(...alongLine([24, y], [24 + 0.26 * px, y]));
  if (floor !== undefined) ink.push(...alongLine([20, floor], [FRAME_WIDTH - 20, floor]));
  return {
    view,
    sheet,
    width: FRAME_WIDTH,
    height,
    reduction,
    place,
    ink,
    under: under.join(''),
    axes: axes.join(''),
    over: bar + jointMarks(frame, scene, view, sheet),
  };
}

function wheel(w: { at: Vec3; r: number; w: number }, view: View, sheet: Sheet, ink: Point2[]): string {
  const pen = { fill: 'none', stroke: FAINT, 'stroke-width': NARROW };
  const c = scale(w.at, 1e-3);
  const r = 1e-3 * w.r;
  if (view !== SIDE) {
    const ends = [-1, 1].map((s) => onSheet(sheet, flat(view, add(c, [s * (r - 5e-4 * w.w), 0, 0])))) as [
      Point2,
      Point2,
    ];
    return element('path', { d: stadium(...ends, 5e-4 * w.w * sheet.scale), ...pen });
  }
  const hub = onSheet(sheet, flat(view, c));
  for (let i = 0; i < 60; i++) {
    const a = (Math.PI * i) / 30;
    ink.push([hub[0] + r * sheet.scale * Math.cos(a), hub[1] + r * sheet.scale * Math.sin(a)]);
  }
  const d = circlePath(c, [0, 1, 0], r, view, sheet) + circlePath(c, [0, 1, 0], r - 1e-3 * w.w, view, sheet);
  return element('path', { d, ...pen });
}

/** Joints that bear load in the model: hinges, posts, the steerer; not what only moves (cranks, pedals). */
function jointMarks({ model }: FrameResult, scene: Scene, view: View, sheet: Sheet): string {
  const { hingeJoint } = model.bearing;
  return hingeJoint
    .map((k, i) => (model.built.hingeJoints[i]!.length > 0 ? drawJoint(scene, k, view, sheet, 0.75) : ''))
    .join('');
}

/** 1, 2 or 5 times a power of ten, at most as large. */
export function roundDown(x: number): number {
  const power = Number(`1e${Math.floor(Math.log10(x))}`);
  return ([5, 2, 1].find((k) => k * power <= x * (1 + 1e-9)) ?? 1) * power;
}
