/**
 * Names beside points of a drawing, kept off one another and off the lines: each tries places around its point, near ones
 * first, and takes the one that covers least. A thin leader joins them. Greedy and in the given order, so repeatable.
 */

import { wordWidth } from './dimension.ts';
import { INK, NARROW } from './ink.ts';
import { element, line, type Point2, shortened, text } from './svg.ts';

export interface Label {
  readonly at: Point2;
  readonly words: string;
  /** Letters that it may have at most; 28 when missing. */
  readonly most?: number;
}
interface Rect {
  readonly x: number;
  readonly y: number;
  readonly w: number;
  readonly h: number;
}
const HEIGHT = 14;
const DISTANCES = [16, 28, 44, 64, 90, 120] as const;
/** A long label finds room only farther away. */
const FAR = [...DISTANCES, 155, 195, 240] as const;
const DIRECTIONS = 16;

const inside = (r: Rect, [x, y]: Point2): boolean => x > r.x && x < r.x + r.w && y > r.y && y < r.y + r.h;
const overlap = (a: Rect, b: Rect): boolean => a.x < b.x + b.w && b.x < a.x + a.w && a.y < b.y + b.h && b.y < a.y + a.h;

/** How many points of ink lie in each cell of a grid over the picture: looked up some thousand times. */
const CELL = 7;
function inkGrid(ink: readonly Point2[], width: number, height: number): (r: Rect) => number {
  const [nx, ny] = [Math.ceil(width / CELL), Math.ceil(height / CELL)];
  const cells = new Uint16Array(nx * ny);
  for (const [x, y] of ink) {
    const [i, j] = [Math.floor(x / CELL), Math.floor(y / CELL)];
    if (i >= 0 && j >= 0 && i < nx && j < ny) cells[j * nx + i]!++;
  }
  return (r) => {
    let sum = 0;
    for (let j = Math.floor(r.y / CELL); j <= Math.min(ny - 1, Math.floor((r.y + r.h) / CELL)); j++)
      for (let i = Math.floor(r.x / CELL); i <= Math.min(nx - 1, Math.floor((r.x + r.w) / CELL)); i++)
        sum += Math.min(2, cells[j * nx + i]!);
    return sum;
  };
}

/** `ink`: points that labels should not cover; the picture's `width` and `height` keep them in. */
export function placeLabels(labels: readonly Label[], ink: readonly Point2[], width: number, height: number): string {
  const covered = inkGrid(ink, width, height);
  const taken: Rect[] = [];
  const parts: string[] = [];
  for (const label of labels) {
    const words = shortened(label.words, label.most);
    const w = wordWidth(words) + 6;
    let best: { rect: Rect; cost: number } | undefined;
    for (const d of label.most === undefined ? DISTANCES : FAR) {
      // a place costs its distance at least
      if (best && d >= best.cost) break;
      for (let k = 0; k < DIRECTIONS; k++) {
        const a = (2 * Math.PI * (k + 0.5)) / DIRECTIONS;
        const cx = label.at[0] + d * Math.cos(a) + (Math.cos(a) * w) / 2;
        const cy = label.at[1] + d * Math.sin(a);
        const rect = { x: cx - w / 2, y: cy - HEIGHT / 2, w, h: HEIGHT };
        if (rect.x < 2 || rect.y < 2 || rect.x + w > width - 2 || rect.y + HEIGHT > height - 2) continue;
        const cost =
          d +
          8 * covered(rect) +
          (taken.some((t) => overlap(t, rect)) ? 1000 : 0) +
          (labels.some((l) => l !== label && inside({ x: rect.x - 6, y: rect.y - 6, w: w + 12, h: HEIGHT + 12 }, l.at))
            ? 200
            : 0);
        if (!best || cost < best.cost) best = { rect, cost };
      }
    }
    if (!best) continue;
    const { rect } = best;
    taken.push(rect);
    // the leader ends at the middle of the side that faces the point
    const near: Point2 = [
      label.at[0] < rect.x ? rect.x + 1 : label.at[0] > rect.x + w ? rect.x + w - 1 : rect.x + w / 2,
      label.at[0] < rect.x || label.at[0] > rect.x + w
        ? rect.y + HEIGHT / 2
        : label.at[1] < rect.y
          ? rect.y
          : rect.y + HEIGHT,
    ];
    const [dx, dy] = [near[0] - label.at[0], near[1] - label.at[1]];
    const l = Math.sqrt(dx * dx + dy * dy);
    if (l > 14)
      parts.push(
        line([label.at[0] + (8 * dx) / l, label.at[1] + (8 * dy) / l], near, { stroke: INK, 'stroke-width': NARROW }),
      );
    parts.push(text([rect.x + w / 2, rect.y + HEIGHT / 2 + 4], words, { class: 'label', 'text-anchor': 'middle' }));
  }
  return element('g', {}, parts);
}
