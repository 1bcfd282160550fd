/** Small elevations and folded packages of all candidates, to one scale on one ground line: to look at before reading. */
import type { Judged } from '#study';
import { ground, scaleBar } from './dimension.ts';
import { rideScene } from './elevation.ts';
import { boxFrame, standingView } from './package-views.ts';
import { drawSolids } from './solids.ts';
import { type Picture, placed, shortened, text } from './svg.ts';
import { type Extent, extentOf, reductionFor, SIDE, scaleOf, sheetFor } from './view.ts';
import { candidateName } from './words.ts';

const GAP = 34;
const EDGE = 8;
const ABOVE = 8;
const BELOW = 30;

interface Sides {
  readonly ride: Extent;
  readonly folded: Extent | undefined;
}
const sidesOf = (j: Judged): Sides => {
  const folded = standingView(j);
  return { ride: extentOf(rideScene(j).solid, SIDE), folded: folded && extentOf(folded.scene.solid, folded.view) };
};
const wide = (e: Extent | undefined): number => (e ? e.right - e.left : 0);
const high = (e: Extent | undefined): number => (e ? e.top - e.bottom : 0);

/** The longest pair, m, and the room that a plate of `width` px has for it. */
const longest = (judged: readonly Judged[]): number =>
  Math.max(0.1, ...judged.map(sidesOf).map((s) => wide(s.ride) + wide(s.folded)));
const roomIn = (width: number): number => width - GAP - 2 * EDGE;
/** The reduction at which every candidate's pair fits into `width` px. */
export const plateReduction = (judged: readonly Judged[], width: number, least = 15): number =>
  reductionFor(longest(judged), roomIn(width), least);

/** Ridden and folded side by side at `px` per metre. `height` in metres keeps plates of a row alike. */
export function plate(j: Judged, px: number, height_m = 0): Picture {
  const { ride, folded } = sidesOf(j);
  const tall = Math.max(height_m, high(ride), high(folded)) * px;
  const floor = ABOVE + tall;
  const width = EDGE * 2 + wide(ride) * px + (folded ? GAP + wide(folded) * px : 0);
  const stand = standingView(j);
  const body = [
    ground(0, width, floor),
    drawSolids(rideScene(j), SIDE, sheetFor(ride, px, EDGE, floor), { pen: 0.75 }),
    stand && folded
      ? drawSolids(stand.scene, stand.view, sheetFor(folded, px, EDGE + wide(ride) * px + GAP, floor), { pen: 0.75 })
      : '',
  ];
  return { width, height: floor + BELOW, body: body.join('') };
}
export const plateHeight = (judged: readonly Judged[]): number =>
  Math.max(0, ...judged.flatMap((j) => [high(sidesOf(j).ride), high(sidesOf(j).folded)]));

/** `mass 12.31 kg, folded 830 × 300 × 610 mm`. */
export function plateWords(j: Judged): string {
  const { mass } = j.evaluation.results;
  const sides = boxFrame(j)?.sides.map((s) => (s * 1000).toFixed(0));
  return [
    mass ? `${mass.whole.mass.toFixed(1)} kg` : '',
    sides ? `folded ${[...sides].sort((a, b) => Number(b) - Number(a)).join(' × ')} mm` : 'does not fold',
  ]
    .filter(Boolean)
    .join(', ');
}

/** All candidates on one sheet, two in a row, with names and a scale bar: the picture of a README. */
export function platesSheet(judged: readonly Judged[], width = 1000): Picture {
  const columns = judged.length > 1 ? 2 : 1;
  const cell = width / columns;
  // a sheet for a screen: as large as it goes, with a scale bar instead of a named scale
  const px = Math.min(scaleOf(10), roomIn(cell - 24) / longest(judged));
  const tall = plateHeight(judged);
  const parts: string[] = [];
  let y = 10;
  for (let i = 0; i < judged.length; i += columns) {
    let row = 0;
    judged.slice(i, i + columns).forEach((j, k) => {
      const picture = plate(j, px, tall);
      const x = 12 + k * cell;
      parts.push(placed(picture, x, y));
      parts.push(text([x + EDGE, y + picture.height - 2], shortened(candidateName(j), 40), { class: 'name' }));
      parts.push(text([x + EDGE, y + picture.height + 14], plateWords(j), { class: 'figure faint' }));
      row = Math.max(row, picture.height + 34);
    });
    y += row;
  }
  parts.push(scaleBar([24, y + 2], px, 5, 100));
  return { width, height: y + 28, body: parts.join('') };
}
