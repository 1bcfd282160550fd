/**
 * The bicycle's shapes in a view, true to scale: capsules as tubes with their widths, discs as wheels, boxes as hardware.
 *
 * Painter's order by the middle of each piece: the farther first, each filled with paper so that it hides what lies behind
 * it. Wheels stay open between hub and rim, as spokes would leave them. Long pieces that pass through one another can come
 * out in the wrong order: it is a drawing, the clearances are computed from the shapes.
 */
import { add, norm, scale, sub, type Vec3 } from '#kernel';
import { ACCENT, FAINT, GHOST_LINE, INK, MEDIUM, NARROW, PAPER, WASH, WIDE } from './ink.ts';
import { boxPath, capsulePath, circlePath, discPath } from './outline.ts';
import { pieces, type Scene } from './scene.ts';
import { element } from './svg.ts';
import { depth, type Extent, flat, pointAt, type Sheet, type View } from './view.ts';

export interface DrawOptions {
  /** Long-dashed double-dotted and faint: a position of a moving part (ISO 128). */
  readonly ghost?: boolean;
  /** Bodies to draw, 1 per body; all when missing. */
  readonly bodies?: Uint8Array;
  /** Bodies to pick out, 1 per body. */
  readonly marked?: Uint8Array | undefined;
  /** Share of the usual line widths: small drawings take thinner lines. */
  readonly pen?: number;
  /** What the picture shows, m in the view plane: pieces that lie outside are left out. */
  readonly within?: Extent;
}

/** Whether a shape may reach into the extent: by its ball. */
function reaches({ top, solid }: Scene, i: number, view: View, e: Extent): boolean {
  const ball = (p: Vec3, r: number): boolean => {
    const [x, y] = flat(view, p);
    return x + r > e.left && x - r < e.right && y + r > e.bottom && y - r < e.top;
  };
  if (i < top.nCapsule) {
    const [p, q] = [pointAt(solid.capsule, 7 * i), pointAt(solid.capsule, 7 * i + 3)];
    return ball(scale(add(p, q), 0.5), norm(sub(p, q)) / 2 + solid.capsule[7 * i + 6]!);
  }
  const d = 8 * (i - top.nCapsule);
  if (i < top.nCapsule + top.nDisc) return ball(pointAt(solid.disc, d), solid.disc[d + 6]! + solid.disc[d + 7]!);
  const b = 15 * (i - top.nCapsule - top.nDisc);
  return ball(pointAt(solid.box, b), norm(pointAt(solid.box, b + 12)));
}

/** Wheels larger than this are drawn open; smaller discs are chainrings and the like, m. */
const OPEN_WHEEL = 0.12;

/** Every shape, back to front. */
export function drawSolids(scene: Scene, view: View, sheet: Sheet, options: DrawOptions = {}): string {
  const { top, solid } = scene;
  const { ghost = false, pen: share = 1 } = options;
  const items: { depth: number; markup: string }[] = [];
  const style = (body: number, width: number) => {
    const marked = !ghost && options.marked?.[body] === 1;
    return {
      ...(marked ? { fill: WASH, stroke: ACCENT } : {}),
      // half of it lies under the fill
      'stroke-width': 2 * share * (ghost ? NARROW : marked ? Math.max(width, MEDIUM) * 1.25 : width),
    };
  };
  for (const group of pieces(top)) {
    const first = group[0]!;
    const body = top.shapeBody[first]!;
    if (options.bodies && options.bodies[body] !== 1) continue;
    const { within } = options;
    if (within && !group.some((i) => reaches(scene, i, view, within))) continue;
    if (first < top.nCapsule) {
      const d = group.map((i) => capsulePath(solid.capsule, 7 * i, view, sheet)).join('');
      const middles = group.map(
        (i) => (depth(view, pointAt(solid.capsule, 7 * i)) + depth(view, pointAt(solid.capsule, 7 * i + 3))) / 2,
      );
      const thin = solid.capsule[7 * first + 6]! < 0.006;
      items.push({
        depth: middles.reduce((a, b) => a + b, 0) / middles.length,
        markup: element('path', { d, ...style(body, thin ? NARROW : MEDIUM) }),
      });
      continue;
    }
    const i = first - top.nCapsule;
    if (i < top.nDisc) {
      items.push({
        depth: depth(view, pointAt(solid.disc, 8 * i)),
        markup: disc(scene, i, view, sheet, style(body, WIDE * 0.8)),
      });
      continue;
    }
    const o = 15 * (i - top.nDisc);
    const small = solid.box[o + 12]! * solid.box[o + 13]! * solid.box[o + 14]! < 0.0002;
    items.push({
      depth: depth(view, pointAt(solid.box, o)),
      markup: element('path', { d: boxPath(solid.box, o, view, sheet), ...style(body, small ? NARROW : MEDIUM) }),
    });
  }
  items.sort((a, b) => a.depth - b.depth);
  return element(
    'g',
    // what most pieces have in common is said once: there are dozens of pieces in dozens of drawings
    {
      fill: PAPER,
      stroke: ghost ? FAINT : INK,
      'stroke-dasharray': ghost ? GHOST_LINE : undefined,
      'stroke-linejoin': 'round',
      'paint-order': 'stroke',
    },
    items.map((item) => item.markup),
  );
}

function disc(
  { solid }: Scene,
  i: number,
  view: View,
  sheet: Sheet,
  pen: Readonly<Record<string, string | number | undefined>>,
): string {
  const o = 8 * i;
  const c: Vec3 = pointAt(solid.disc, o);
  const n: Vec3 = pointAt(solid.disc, o + 3);
  const radius = solid.disc[o + 6]!;
  const facing = Math.abs(depth(view, n));
  const outline = discPath(solid.disc, o, view, sheet);
  if (facing < 0.3 || radius < OPEN_WHEEL) return element('path', { d: outline, ...pen });
  // a tyre is as tall as it is wide (ISO 5775 section height); the rim goes a little further in
  const tyre = radius - 2 * solid.disc[o + 7]!;
  const hole = circlePath(c, n, tyre - 0.018, view, sheet);
  const rim = circlePath(c, n, tyre, view, sheet);
  const whole = Number(pen['stroke-width']) / 2;
  return (
    element('path', {
      d: outline + hole,
      ...pen,
      'paint-order': 'normal',
      'stroke-width': whole,
      'fill-rule': 'evenodd',
    }) + element('path', { d: rim, ...pen, 'paint-order': 'normal', fill: 'none', 'stroke-width': whole * 0.5 })
  );
}
