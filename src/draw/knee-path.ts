/**
 * The way of the knees over one turn of the cranks, beside the bar: from the side and from above. Bar and all that turns
 * with it stand straight (solid) and turned as far as the knees are checked (ghosts). A ring of the knee's radius stands where
 * each rider comes nearest to metal; the tightest is marked with its gap.
 *
 * Hip over the saddle, ankle over the pedal with the heel raised, as in the fit; the exact distance is read from its fields.
 */
import { FAR, sideOf, twoLink, type Vec3 } from '#kernel';
import type { FitResult, Judged } from '#study';
import { nearMark, scaleBar, wordWidth } from './dimension.ts';
import { raisedScene, type ScaledPicture } from './elevation.ts';
import { INK, MEDIUM, NARROW, PAPER } from './ink.ts';
import { stadium } from './outline.ts';
import { type Scene, sceneAt } from './scene.ts';
import { drawSolids } from './solids.ts';
import { element, type Point2, polyline, text } from './svg.ts';
import { KEY_STEP, lineKey, type SizedRider, threeRiders } from './three-riders.ts';
import {
  type Extent,
  flat,
  onSheet,
  reductionFor,
  type Sheet,
  SIDE,
  scaleOf,
  sheetFor,
  type View,
  viewsAlong,
} from './view.ts';
import { shapeWords, typeset } from './words.ts';

export interface KneeTurn {
  readonly rider: SizedRider;
  /** x and z of the knee joint, m; the last point is the first again. */
  readonly path: readonly Point2[];
  /** Skin to metal where it is least, m; `beyond` where nothing is near enough to be told. */
  readonly gap: number;
  readonly beyond: boolean;
  readonly at: Point2;
  /** `bar lever left, bar turned 30°`. */
  readonly to: string;
}

const PLACES = 72;

export function kneeTurn(j: Judged, fit: FitResult, rider: SizedRider): KneeTurn {
  const { geometry: g, limits } = fit;
  const { hip, segments } = rider.seated.seat;
  const ankle = segments.find((s) => s.name === 'shank_right')!.to;
  // level cranks, right one forward
  const [ax, az] = [ankle[0] - (g.crank.x + g.crank.length), ankle[2] - g.crank.z];
  const at: Vec3 = [hip[0], 0, hip[2]];
  const path = Array.from({ length: PLACES + 1 }, (_, i): Point2 => {
    const a = (2 * Math.PI * i) / PLACES;
    const foot: Vec3 = [
      g.crank.x + g.crank.length * Math.sin(a) + ax,
      0,
      g.crank.z + g.crank.length * Math.cos(a) + az,
    ];
    const { middle } = twoLink(at, foot, rider.links.thigh, rider.links.shank, [1, 0, 0]);
    return [middle[0], middle[2]];
  });
  const near = path.map(([x, z]) => {
    const bar = g.bar.exact(x - g.barShift.x, z - g.barShift.z);
    const frame = g.frameAtKnee.exact(x, z);
    return bar.distance <= frame.distance ? bar : frame;
  });
  const least = near.reduce((best, n, i) => (n.distance < near[best]!.distance ? i : best), 0);
  const { distance, shape, angle } = near[least]!;
  const name = shapeWords(j.evaluation.results.model.top.names.shapes[shape] ?? '');
  const turned = angle === 0 ? '' : `, bar turned ${Math.abs((angle * 180) / Math.PI).toFixed(0)}°`;
  return {
    rider,
    path,
    gap: distance - limits.knee_radius,
    beyond: shape < 0 || distance >= FAR,
    at: path[least]!,
    to: `${name}${turned}`,
  };
}

export interface KneePictures {
  readonly side: ScaledPicture;
  /** To the same scale, front to the right. */
  readonly above: ScaledPicture;
  readonly turns: readonly KneeTurn[];
  readonly tightest: KneeTurn;
}

const WIDTH = 560;
const KEY = 34;
const BAR = 30;
/** Room round paths and grips, m. */
const ROUND = 0.09;
const ABOVE = viewsAlong([
  [1, 0, 0],
  [0, 1, 0],
  [0, 0, 1],
]).plan;

/** `20 mm from bar lever left, bar turned 30°`. */
export const gapWords = (t: KneeTurn): string =>
  t.beyond
    ? `more than ${(1000 * t.gap).toFixed(0)} mm from any metal`
    : `${typeset((1000 * t.gap).toFixed(0))} mm from ${t.to}`;

export function kneePath(j: Judged, fit: FitResult): KneePictures {
  const { model, state } = j.evaluation.results;
  const { geometry: g, limits } = fit;
  const turns = threeRiders(j, fit).map((r) => kneeTurn(j, fit, r));
  const tightest = turns.reduce((a, b) => (b.gap < a.gap ? b : a));
  const all = turns.flatMap((t) => t.path);
  const swing = g.grip.half * Math.sin(limits.steer_knee);
  const xs = [...all.map((p) => p[0]), g.grip.x];
  const zs = [...all.map((p) => p[1]), g.grip.z];
  const half = Math.max(g.grip.half, limits.knee_out) + ROUND;
  const window = {
    left: Math.min(...xs) - ROUND,
    right: Math.max(Math.max(...xs) + ROUND, g.grip.x + swing + ROUND / 2),
    bottom: Math.min(...zs) - ROUND,
    top: Math.max(...zs) + ROUND,
  };
  const reduction = reductionFor(window.right - window.left, WIDTH, 5);
  const px = scaleOf(reduction);
  const width = Math.max((window.right - window.left) * px, 3 * KEY_STEP);
  const sideHeight = KEY + (window.top - window.bottom) * px;
  const aboveHeight = 2 * half * px;
  const side = sheetFor(window, px, 0, sideHeight);
  const floor = { ...window, bottom: -half, top: half };
  const plan = sheetFor(floor, px, 0, aboveHeight);

  const { steerer, gripBody } = model.roles;
  const turnedTo = (angle: number): Scene => {
    const q = new Float64Array(model.top.kind.length);
    q[steerer] = Math.min(state.range[2 * steerer + 1]!, Math.max(state.range[2 * steerer]!, angle));
    return sceneAt(model.top, state, q);
  };
  const straight = raisedScene(j, turns[1]!.rider.seated.saddle.raise);
  const ghosts = [turnedTo(-limits.steer_knee), turnedTo(limits.steer_knee)];
  const steered = Uint8Array.from(sideOf(model.top, steerer));
  const grips = new Uint8Array(model.top.bodyCount);
  if (gripBody >= 0) grips[gripBody] = 1;
  const ghostly = (view: View, sheet: Sheet, bodies: Uint8Array, within: Extent): string =>
    ghosts.map((s) => drawSolids(s, view, sheet, { ghost: true, bodies, within })).join('');
  const sideParts = [
    ghostly(SIDE, side, steered, window),
    drawSolids(straight, SIDE, side, { pen: 0.6, within: window }),
    ...turns.map((t) => ring(side, t.at, limits.knee_radius, t.rider.dash)),
    ...turns.map((t) =>
      polyline(
        t.path.map((p) => onSheet(side, p)),
        { fill: 'none', stroke: INK, 'stroke-width': 1.6, 'stroke-dasharray': t.rider.dash },
        true,
      ),
    ),
    element('rect', { x: 0, y: 0, width, height: KEY - 8, fill: PAPER }),
    lineKey(
      turns.map((t) => t.rider),
      [4, 13],
      KEY_STEP,
      INK,
    ),
    gapMark(onSheet(side, tightest.at), limits.knee_radius * px, gapWords(tightest)),
  ];
  const aboveParts = [
    ghostly(ABOVE, plan, grips, floor),
    drawSolids(straight, ABOVE, plan, { bodies: grips, pen: 0.8, within: floor }),
    ...turns.map((t) => swept(t, limits.knee_out, limits.knee_radius, plan)),
    scaleBar([16, aboveHeight + 8], px, 2, 100),
  ];
  return {
    side: { width, height: sideHeight, reduction, body: sideParts.join('') },
    above: { width, height: aboveHeight + BAR, reduction, body: aboveParts.join('') },
    turns,
    tightest,
  };
}

function ring(sheet: Sheet, p: Point2, radius: number, dash: string | undefined): string {
  const [cx, cy] = onSheet(sheet, p);
  const pen = { fill: 'none', stroke: INK, 'stroke-width': NARROW, 'stroke-dasharray': dash };
  return element('circle', { cx, cy, r: radius * sheet.scale, ...pen });
}

/** The nearest place; its words to the left of the ring, away from the bar, or where there is no room, to its right. */
function gapMark(at: Point2, radius: number, words: string): string {
  const lines = words.split(/(?<=\bfrom) |, /);
  const left = at[0] - radius - 8 >= Math.max(...lines.map((l) => wordWidth(l)));
  const x = left ? at[0] - radius - 8 : at[0] + radius + 8;
  const y = left ? at[1] - 12 : at[1] + 4;
  return (
    nearMark(at) +
    lines
      .map((l, i) => text([x, y + 15 * i], l, { class: 'label accent', 'text-anchor': left ? 'end' : 'start' }))
      .join('')
  );
}

/** Both knees from above: what they sweep over a turn. */
function swept(t: KneeTurn, out: number, radius: number, sheet: Sheet): string {
  const xs = t.path.map((p) => p[0]);
  const d = [out, -out]
    .map((y) => {
      const end = (x: number): Point2 => onSheet(sheet, flat(ABOVE, [x, y, 0]));
      return stadium(end(Math.min(...xs)), end(Math.max(...xs)), radius * sheet.scale);
    })
    .join('');
  return element('path', { d, fill: 'none', stroke: INK, 'stroke-width': MEDIUM, 'stroke-dasharray': t.rider.dash });
}
