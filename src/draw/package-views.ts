/**
 * The folded package: side, end and plan, first angle, to one scale, in the attitude in which it is stowed, its box dimensioned;
 * and the package inside each space of the brief, seen from the opening and from above.
 */
import { cross, dot, type PlaceFit, type Solid, scale, type Topology, unit, type Vec3 } from '#kernel';
import type { Judged, SpaceSetting } from '#study';
import { dimension, ground, scaleBar } from './dimension.ts';
import { DRAWING_WIDTH, type ScaledPicture } from './elevation.ts';
import { CENTRE_LINE, FAINT, HIDDEN_LINE, INK, NARROW } from './ink.ts';
import type { Scene } from './scene.ts';
import { drawSolids } from './solids.ts';
import { element, line, text } from './svg.ts';
import { extentOf, reductionFor, scaleOf, sheetFor, type View, viewFrom, viewsAlong } from './view.ts';

/** The folded posture as a scene; undefined for a bicycle that does not fold. */
export function foldedScene(j: Judged): Scene | undefined {
  const { model, state, box } = j.evaluation.results;
  if (!box) return undefined;
  return sceneOf(model.top, state.joint, box.solids.nominal);
}
const sceneOf = (top: Topology, joint: Float64Array, solid: Solid): Scene => ({
  top,
  solid,
  bodyT: new Float64Array(12 * top.bodyCount),
  joint,
});

/** The fit of the first space to stow in that has one, with the space. */
export function stowedFit(
  j: Judged,
  name?: string,
): { readonly space: SpaceSetting; readonly fit: PlaceFit } | undefined {
  const { setting, stow } = j.evaluation.results;
  for (const space of setting.spaces) {
    if (name !== undefined && space.name !== name) continue;
    const fit = stow?.get(space.name);
    if (fit?.margin !== undefined) return { space, fit };
  }
  return undefined;
}

const negative = (v: Vec3): Vec3 => scale(v, -1);

/**
 * Directions of the box as the views take them: length to the right, height up. Stowed flat, the axle stands upright; else
 * the package stands as its box does.
 */
export function boxFrame(
  j: Judged,
): { readonly axes: readonly [Vec3, Vec3, Vec3]; readonly sides: Vec3; readonly attitude: string } | undefined {
  const { box } = j.evaluation.results;
  if (!box) return undefined;
  const [l, w, h] = box.axes;
  const stowed = stowedFit(j);
  const flatUp =
    stowed && Math.abs(dot(stowed.fit.up, w)) > 0.99 ? (dot(stowed.fit.up, w) > 0 ? w : negative(w)) : undefined;
  const right = l[0] < 0 ? negative(l) : l;
  if (flatUp) {
    const across = cross(flatUp, right);
    return {
      axes: [right, across, flatUp],
      sides: [box.size[0], box.size[2], box.size[1]],
      attitude: stowed!.fit.attitude,
    };
  }
  const up = h[2] < 0 ? negative(h) : h;
  return { axes: [right, cross(up, right), up], sides: box.size, attitude: 'as its box stands' };
}

/** Side, end and plan with the box around them. Undefined for a bicycle that does not fold. */
export function packageViews(
  j: Judged,
  options: { readonly reduction?: number; readonly width?: number } = {},
): ScaledPicture | undefined {
  const scene = foldedScene(j);
  const frame = boxFrame(j);
  if (!scene || !frame) return undefined;
  const [length, depth, high] = frame.sides;
  const views = viewsAlong(frame.axes);
  const [left, gap, top, foot] = [40, 64, 26, 30];
  const reduction =
    options.reduction ?? reductionFor(length + depth, (options.width ?? DRAWING_WIDTH) - left - gap - 50, 10);
  const px = scaleOf(reduction);
  const parts: string[] = [];
  const one = (view: View, w: number, h: number, x: number, y: number, title: string): void => {
    const sheet = sheetFor(extentOf(scene.solid, view), px, x, y + h * px);
    parts.push(text([x, y - 8], title, { class: 'figure faint' }));
    parts.push(drawSolids(scene, view, sheet, { pen: 0.8 }));
    parts.push(
      element('rect', {
        class: 'box',
        x,
        y,
        width: w * px,
        height: h * px,
        fill: 'none',
        stroke: INK,
        'stroke-width': NARROW,
        'stroke-dasharray': CENTRE_LINE,
      }),
    );
  };
  const mm = (m: number): string => (m * 1000).toFixed(0);
  const xEnd = left + length * px + gap;
  const yPlan = top + high * px + 56;
  one(views.side, length, high, left, top, 'side');
  one(views.end, depth, high, xEnd, top, 'end, from the left');
  one(views.plan, length, depth, left, yPlan, 'plan, from above');
  const yBase = top + high * px;
  parts.push(dimension([left, yBase], [left + length * px, yBase], mm(length), false, yBase + 18));
  parts.push(dimension([left, top], [left, yBase], mm(high), true, left - 18));
  parts.push(dimension([xEnd, yBase], [xEnd + depth * px, yBase], mm(depth), false, yBase + 18));
  parts.push(scaleBar([xEnd, yPlan + depth * px - 22], px, 5, 100));
  return {
    width: xEnd + depth * px + 40,
    height: yPlan + depth * px + foot,
    reduction,
    body: parts.join(''),
  };
}

/** The package in a space, seen through the opening and from above; walls as solid lines, the package resting on the floor. */
export function spaceViews(
  j: Judged,
  name: string,
  options: { readonly reduction?: number } = {},
): ScaledPicture | undefined {
  const scene = foldedScene(j);
  const found = stowedFit(j, name);
  if (!scene || !found) return undefined;
  const { space, fit } = found;
  const [deep, wide, high] =
    space.kind === 'opening' ? [space.depth!, space.opening![0], space.opening![1]] : space.box!;
  const up = fit.up;
  // either end may go in first; drawn with the ride's front ahead
  const along = unit(fit.entry === 'straight' && fit.along[0] < 0 ? negative(fit.along) : fit.along);
  const across = cross(up, along);
  // rolled about the push axis while passing: shown as it passes
  const c = Math.cos(fit.roll);
  const s = Math.sin(fit.roll);
  const turned = (v: Vec3, w: Vec3): Vec3 => [c * v[0] + s * w[0], c * v[1] + s * w[1], c * v[2] + s * w[2]];
  const rolledUp = turned(up, negative(across));
  const rolledAcross = turned(across, up);
  // the eye stands before the opening: the way in runs away from it
  const front: View = { right: negative(rolledAcross), up: rolledUp, toward: negative(along) };
  const plan: View = { right: along, up: rolledAcross, toward: rolledUp };
  const reduction = options.reduction ?? reductionFor(deep + wide, DRAWING_WIDTH - 150, 10);
  const px = scaleOf(reduction);
  const e = extentOf(scene.solid, front);
  const p = extentOf(scene.solid, plan);
  // what sticks out of a space that is too small must not meet the lettering
  const over = Math.max(0, e.top - e.bottom - high, (p.top - p.bottom - wide) / 2) * px;
  const out = Math.max(0, (e.right - e.left - wide) / 2) * px;
  const [left, top, gap] = [40 + out, 26 + over, 70 + out];
  const parts: string[] = [];
  const wall = { fill: 'none', stroke: INK, 'stroke-width': 1.6 };
  const frontX = left;
  const frontFloor = top + high * px;
  const planX = left + wide * px + gap;
  const size = (x: { left: number; right: number; bottom: number; top: number }) =>
    [x.right - x.left, x.top - x.bottom] as const;
  const [fw] = size(e);
  const [pw, ph] = size(p);
  const mm = (m: number): string => (m * 1000).toFixed(0);
  parts.push(
    text([frontX, top - over - 8], space.kind === 'opening' ? 'through the opening' : 'end', { class: 'figure faint' }),
  );
  parts.push(drawSolids(scene, front, sheetFor(e, px, frontX + ((wide - fw) / 2) * px, frontFloor), { pen: 0.8 }));
  parts.push(element('rect', { x: frontX, y: top, width: wide * px, height: high * px, ...wall }));
  parts.push(ground(frontX - 12, frontX + wide * px + 12, frontFloor));
  parts.push(dimension([frontX, frontFloor], [frontX + wide * px, frontFloor], mm(wide), false, frontFloor + 22));
  parts.push(dimension([frontX, top], [frontX, frontFloor], mm(high), true, frontX - out - 18));
  const planFloor = top + wide * px;
  parts.push(text([planX, top - over - 8], 'plan; the way in is at the left', { class: 'figure faint' }));
  const inset = deep - pw >= 0 ? deep - pw : 0;
  parts.push(
    drawSolids(scene, plan, sheetFor(p, px, planX + inset * px, planFloor - ((wide - ph) / 2) * px), { pen: 0.8 }),
  );
  parts.push(
    element('path', {
      d: `M${planX} ${top}h${(deep * px).toFixed(2)}v${(wide * px).toFixed(2)}h${(-deep * px).toFixed(2)}`,
      ...wall,
    }),
  );
  parts.push(
    line([planX, top], [planX, planFloor], { stroke: FAINT, 'stroke-width': NARROW, 'stroke-dasharray': HIDDEN_LINE }),
  );
  parts.push(dimension([planX, planFloor], [planX + deep * px, planFloor], mm(deep), false, planFloor + over + 22));
  const height = Math.max(frontFloor, planFloor + over) + 36;
  return { width: planX + deep * px + 24, height, reduction, body: parts.join('') };
}

/** The folded bicycle as it stands: the side view of its rest, or of the folded posture where it finds none. */
export function standingView(j: Judged): { readonly scene: Scene; readonly view: View } | undefined {
  const scene = foldedScene(j);
  if (!scene) return undefined;
  const rest = j.evaluation.results.handling?.standing.rest;
  const up: Vec3 = rest?.converged ? rest.up : [0, 0, 1];
  const drive: Vec3 = [0, -1, 0];
  const level = (v: Vec3): Vec3 => [v[0] - dot(v, up) * up[0], v[1] - dot(v, up) * up[1], v[2] - dot(v, up) * up[2]];
  const toward = level(drive);
  return { scene, view: Math.sqrt(dot(toward, toward)) > 0.3 ? viewFrom(toward, up) : viewFrom(level([0, 0, 1]), up) };
}
