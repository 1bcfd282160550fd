/**
 * Three riders on one elevation, to scale: the tallest behind, the shortest in front, told by their lines and named at their
 * heads. Saddle and post stand where each of them sets it: solid for the middle one, ghosts for the others.
 */
import type { Vec3 } from '#kernel';
import type { FitResult, Judged } from '#study';
import { dimension, ground, scaleBar } from './dimension.ts';
import { DRAWING_WIDTH, raisedScene, type ScaledPicture } from './elevation.ts';
import { INK, MEDIUM } from './ink.ts';
import { alongLine, inkPoints } from './ink-points.ts';
import { placeLabels } from './labels.ts';
import { riderOutline } from './rider-outline.ts';
import { drawSolids } from './solids.ts';
import { element, type Point2 } from './svg.ts';
import { type SizedRider, sizeWords, threeRiders } from './three-riders.ts';
import { around, extentOf, flat, onSheet, reductionFor, SIDE, scaleOf, sheetFor } from './view.ts';

const EDGE = { left: 66, right: 8, above: 30, below: 40 } as const;
/** Between the dimension lines of the saddle heights. */
const COLUMN_STEP = 19;

export interface RidersPicture extends ScaledPicture {
  readonly riders: readonly SizedRider[];
}

/** Half the height of a head as it is drawn, as a share of stature. */
const HEAD = 0.05;
const crown = (r: SizedRider): Vec3 => r.seated.seat.segments.find((s) => s.name === 'head')!.from;
/** Points round a head, that names should not cover. */
function headInk(r: SizedRider, place: (p: Vec3) => Point2, px: number): Point2[] {
  const [x, y] = place(crown(r));
  const radius = HEAD * r.rider.stature * px;
  return Array.from({ length: 40 }, (_, i): Point2 => {
    const a = (2 * Math.PI * i) / 40;
    return [x + radius * Math.cos(a), y + radius * (1 + Math.sin(a))];
  });
}

/** `most`: room that there is, px; the picture takes what its scale needs. */
export function ridersElevation(j: Judged, fit: FitResult, most = DRAWING_WIDTH): RidersPicture {
  const riders = threeRiders(j, fit);
  const { model } = j.evaluation.results;
  const scenes = riders.map((r) => raisedScene(j, r.seated.saddle.raise));
  const body = around(scenes.map((s) => extentOf(s.solid, SIDE)));
  const reach = riders.flatMap((r) => r.seated.seat.segments).flatMap((s) => [s.from, s.to]);
  const extent = {
    left: Math.min(body.left, ...reach.map((p) => p[0] - 0.1)),
    right: body.right,
    bottom: Math.min(0, body.bottom),
    top: Math.max(body.top, ...reach.map((p) => p[2] + 0.02)),
  };
  const reduction = reductionFor(extent.right - extent.left, most - EDGE.left - EDGE.right, 10);
  const px = scaleOf(reduction);
  const width = EDGE.left + EDGE.right + (extent.right - extent.left) * px;
  const bottom = EDGE.above + (extent.top - extent.bottom) * px;
  const height = bottom + EDGE.below;
  const sheet = sheetFor(extent, px, EDGE.left, bottom);
  const place = (p: Vec3): Point2 => onSheet(sheet, flat(SIDE, p));
  const middle = scenes[1]!;
  const saddle = new Uint8Array(model.top.bodyCount);
  if (model.roles.saddleBody >= 0) saddle[model.roles.saddleBody] = 1;
  const groundY = place([0, 0, 0])[1];
  const ink = [
    ...inkPoints(middle.solid, place, px),
    ...riders.flatMap((r) => r.seated.seat.segments.flatMap((s) => alongLine(place(s.from), place(s.to)))),
    ...riders.flatMap((r) => headInk(r, place, px)),
  ];
  const heads = riders.map((r) => ({ at: place(crown(r)), words: sizeWords(r) }));
  const parts = [
    ...[...riders]
      .reverse()
      .map((r) =>
        element('g', { class: 'rider' }, [
          riderOutline(r.seated.seat, r.rider.stature, SIDE, sheet, { stroke: INK, dash: r.dash, width: 2 * MEDIUM }),
        ]),
      ),
    ground(4, width - 4, groundY),
    ...[0, 2].map((i) => drawSolids(scenes[i]!, SIDE, sheet, { ghost: true, bodies: saddle })),
    drawSolids(middle, SIDE, sheet, { pen: 0.8 }),
    ...riders.map((r, i) => {
      const at = r.seated.saddle.saddle;
      const x = EDGE.left - 14 - COLUMN_STEP * (2 - i);
      return dimension(place([at[0], 0, 0]), place(at), (1000 * at[2]).toFixed(0), true, x);
    }),
    placeLabels(heads, ink, width, height),
    scaleBar([EDGE.left, height - 22], px, 5, 100),
  ];
  return { width, height, reduction, riders, body: parts.join('') };
}
