/**
 * Where the grips may be, from the side: for each of three riders the region that trunk and arms reach within the limits of
 * the fit, with the grips of this bicycle marked in it.
 *
 * Outer edge: the shoulder on its circle about the hip, the arm as straight as the limit leaves it, the trunk no lower than the least;
 * inner edge: the trunk upright and the elbow bent as far as the limit allows. Both are circles (law of cosines, as in the fit),
 * cut off above the shoulders and near the hips as the fit does; drawn ahead of the lap only. The sideways part of the arm is that of this bicycle's bar.
 */
import { armSpan2, flexionAt, LEAST_AHEAD, type Vec3 } from '#kernel';
import type { FitResult, Judged } from '#study';
import { scaleBar } from './dimension.ts';
import { raisedScene, type ScaledPicture } from './elevation.ts';
import { ACCENT, INK, MEDIUM, NARROW, PAPER } from './ink.ts';
import { drawSolids } from './solids.ts';
import { element, fixed, type Point2, polyline, text } from './svg.ts';
import { KEY_STEP, lineKey, type SizedRider, threeRiders } from './three-riders.ts';
import { onSheet, reductionFor, SIDE, scaleOf, sheetFor } from './view.ts';

const DEG = Math.PI / 180;
/** The trunk of somebody who sits upright, as in the fit. */
const UPRIGHT = 85 * DEG;
/** Directions from the hip that are drawn: from below the level to head height. */
const LOWEST = -18 * DEG;
const HIGHEST = 58 * DEG;
/** Nearer to the hip than this is the lap, m: nobody puts grips there; not drawn. */
const LAP = 0.22;
const STEPS = 36;

export interface Zone {
  readonly rider: SizedRider;
  /** m, side view; closed. */
  readonly outline: readonly Point2[];
  readonly verdict: 'inside' | 'too far' | 'too near';
  /** Elbow flexion with the trunk upright, rad; undefined where the arm is too short for that. */
  readonly elbow: number | undefined;
}

export function reachOf(fit: FitResult, rider: SizedRider): Zone {
  const { geometry: g, limits } = fit;
  const { links } = rider;
  const { hip } = rider.seated.seat;
  const aside = g.grip.half - links.shoulderHalf;
  const inPlane = (span2: number): number => Math.sqrt(Math.max(0, span2 - aside * aside));
  const far = inPlane(armSpan2(links.upperArm, links.forearm, limits.elbow_reach));
  const near = inPlane(armSpan2(links.upperArm, links.forearm, limits.elbow_most));
  /** From the hip along `a` to a circle of radius r about the shoulder with the trunk at `lean`: both crossings; NaN: none. */
  const along = (a: number, lean: number, r: number): readonly [nearer: number, farther: number] => {
    const c = links.trunk * Math.cos(a - lean);
    const root = r * r - links.trunk * links.trunk + c * c;
    return root < 0 ? [Number.NaN, Number.NaN] : [c - Math.sqrt(root), c + Math.sqrt(root)];
  };
  // beyond the least lean the trunk points along the arm
  const outer = (a: number): number => along(a, Math.max(a, limits.trunk_least), far)[1];
  const at = (a: number, r: number): Point2 => [hip[0] + r * Math.cos(a), hip[2] + r * Math.sin(a)];
  const fan = (from: number, to: number, r: (a: number) => number): Point2[] =>
    Array.from({ length: STEPS + 1 }, (_, i) => from + ((to - from) * i) / STEPS).map((a) => at(a, r(a)));
  // seen from the hip the inner circle begins at a tangent: beside it the lap goes on below its nearer arc
  const tangent = Math.max(LOWEST, UPRIGHT - Math.asin(Math.min(1, near / links.trunk)) + 1e-9);
  const inner = (a: number): number => Math.min(outer(a), Math.max(LAP, along(a, UPRIGHT, near)[1]));
  const below = (a: number): number => Math.min(outer(a), Math.max(LAP, along(a, UPRIGHT, near)[0]));
  const outline = [
    ...fan(LOWEST, HIGHEST, outer),
    ...(tangent < HIGHEST
      ? [...fan(HIGHEST, tangent, inner), ...fan(tangent, HIGHEST, below).filter((p) => beyondLap(p, hip))]
      : []),
    ...fan(Math.min(HIGHEST, tangent), LOWEST, () => LAP),
  ];
  const underShoulders = cut(outline, ([, z]) => hip[2] + links.trunk - z);
  const ahead = cut(underShoulders, ([x]) => x - hip[0] - LEAST_AHEAD);
  const [gx, gz] = [g.grip.x - hip[0], g.grip.z - hip[2]];
  const [dx, dz] = [gx - links.trunk * Math.cos(UPRIGHT), gz - links.trunk * Math.sin(UPRIGHT)];
  const upright = Math.sqrt(dx * dx + dz * dz);
  const arm = Math.sqrt(upright * upright + aside * aside);
  const reach = outer(Math.atan2(gz, gx));
  return {
    rider,
    outline: ahead,
    verdict:
      !(Math.sqrt(gx * gx + gz * gz) <= reach) || gz > links.trunk
        ? 'too far'
        : upright < near || gx < LEAST_AHEAD
          ? 'too near'
          : 'inside',
    elbow: arm > links.upperArm + links.forearm ? undefined : flexionAt(links.upperArm, links.forearm, arm),
  };
}

/** The part of a closed outline where `inside` is not negative (I. E. Sutherland, G. W. Hodgman 1974); straight edges. */
function cut(outline: readonly Point2[], inside: (p: Point2) => number): Point2[] {
  return outline.flatMap((p, i): Point2[] => {
    const q = outline[(i + 1) % outline.length]!;
    const [a, b] = [inside(p), inside(q)];
    const kept: Point2[] = a >= 0 ? [p] : [];
    if (a >= 0 === b >= 0) return kept;
    const t = a / (a - b);
    return [...kept, [p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])]];
  });
}

const beyondLap = ([x, z]: Point2, hip: Vec3): boolean =>
  (x - hip[0]) * (x - hip[0]) + (z - hip[2]) * (z - hip[2]) > LAP * LAP * (1 + 1e-9);

export interface ReachPicture extends ScaledPicture {
  readonly zones: readonly Zone[];
}

const WIDTH = 540;
const KEY = 34;
const BELOW = 32;
const ROUND = 0.05;

export function reachZone(j: Judged, fit: FitResult): ReachPicture {
  const { geometry: g } = fit;
  const riders = threeRiders(j, fit);
  const zones = riders.map((r) => reachOf(fit, r));
  const hips = riders.map((r) => r.seated.seat.hip);
  const points = zones.flatMap((z) => z.outline);
  const xs = [...points.map((p) => p[0]), ...hips.map((h) => h[0] - 0.12), g.grip.x];
  const zs = [...points.map((p) => p[1]), ...hips.map((h) => h[2] - 0.12), g.grip.z];
  const window = {
    left: Math.min(...xs) - ROUND,
    right: Math.max(...xs) + ROUND,
    bottom: Math.min(...zs) - ROUND,
    top: Math.max(...zs) + ROUND,
  };
  const reduction = reductionFor(window.right - window.left, WIDTH, 10);
  const px = scaleOf(reduction);
  const width = Math.max((window.right - window.left) * px, 3 * KEY_STEP);
  const bottom = KEY + (window.top - window.bottom) * px;
  const height = bottom + BELOW;
  const sheet = sheetFor(window, px, (width - (window.right - window.left) * px) / 2, bottom);
  const [cx, cy] = onSheet(sheet, [g.grip.x, g.grip.z]);
  const parts = [
    drawSolids(raisedScene(j, riders[1]!.seated.saddle.raise), SIDE, sheet, { pen: 0.5, within: window }),
    element('rect', { x: 0, y: bottom + 1, width, height: BELOW, fill: PAPER }),
    ...zones.map((z) =>
      polyline(
        z.outline.map((p) => onSheet(sheet, p)),
        {
          fill: INK,
          'fill-opacity': '0.07',
          stroke: INK,
          'stroke-width': MEDIUM,
          'stroke-dasharray': z.rider.dash,
          'stroke-linejoin': 'round',
        },
        true,
      ),
    ),
    ...zones.map((z) => trunk(z.rider, (p) => onSheet(sheet, p))),
    element('path', {
      d: `M${fixed(cx - 9)} ${fixed(cy)}H${fixed(cx + 9)}M${fixed(cx)} ${fixed(cy - 9)}V${fixed(cy + 9)}`,
      stroke: ACCENT,
      'stroke-width': 1.6,
    }),
    element('circle', { cx, cy, r: 5, fill: 'none', stroke: ACCENT, 'stroke-width': 1.6 }),
    text([cx + 12, cy - 8], 'grips', { class: 'label accent' }),
    lineKey(riders, [4, 13], KEY_STEP, INK),
    scaleBar([16, height - 22], px, 5, 100),
  ];
  return { width, height, reduction, zones, body: parts.join('') };
}

/** Hip and shoulder as the rider sits. */
function trunk(r: SizedRider, place: (p: Point2) => Point2): string {
  const { hip, shoulder } = r.seated.seat;
  const [a, b] = [place([hip[0], hip[2]]), place([shoulder[0], shoulder[2]])];
  const pen = { stroke: INK, 'stroke-width': NARROW, fill: 'none' };
  return (
    polyline([a, b], { ...pen, 'stroke-dasharray': r.dash }) +
    element('circle', { cx: a[0], cy: a[1], r: 3, ...pen }) +
    element('circle', { cx: b[0], cy: b[1], r: 3, ...pen })
  );
}
