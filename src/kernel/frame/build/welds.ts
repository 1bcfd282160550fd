/**
 * Where tubes are welded, and how much of them the weld takes up: heat-affected zones are measured from there.
 *
 * Units: mm. Source: EN 1999-1-1, 6.1.6 measures a zone from where welded surfaces meet (from memory).
 * Not here: what the wall gives (`wall-flex.ts`), strengths.
 */
import type { Mark, Ties, Weld } from './connect.ts';
import { directionAt, sineBetween, sizeAt } from './line.ts';

/** A welded place of a tube: distance along it, and from where to where the weld and what it holds take it up. */
export interface WeldPlace {
  readonly s: number;
  readonly from: number;
  readonly to: number;
}

/**
 * Where something is welded to a tube or it is welded to something. A welded tube that ends at a pivot or pin is welded to the
 * lug there, which its cut-out stands for; in sleeves and clamps (slide, post) it is not.
 */
export function weldedPlaces(ties: Ties, t: number, lugs: ReadonlySet<Mark>): WeldPlace[] {
  const others = new Set<number>();
  ties.marksOf.forEach((marks, o) => {
    for (const m of marks) if (o !== t && ties.tubes[o]!.welded) others.add(ties.group(m.id));
  });
  for (const item of ties.blockItem) others.add(ties.group(item));
  return ties.marksOf[t]!.filter((m) => others.has(ties.group(m.id)) || lugs.has(m)).map((m): WeldPlace => {
    const foot = Math.max(0, ...ties.welds.flatMap((w) => (w.chord === t && w.s === m.s ? [halfFoot(ties, w)] : [])));
    const { length } = ties.lines[t]!;
    return {
      s: m.s,
      from: Math.max(m.s - Math.max(m.before, foot), 0),
      to: Math.min(m.s + Math.max(m.after, foot), length),
    };
  });
}

/** Half the length that a tube's end takes up along the tube on whose side it stands. */
function halfFoot(ties: Ties, weld: Weld): number {
  const line = ties.lines[weld.tube]!;
  const s = weld.end === 0 ? 0 : line.length;
  const { height, width } = sizeAt(ties.tubes[weld.tube]!, line, s);
  const sine = sineBetween(directionAt(line, s), directionAt(ties.lines[weld.chord]!, weld.s));
  return Math.min(height, width) / 2 / Math.max(sine, STEEPEST);
}
/** Sine of the flattest angle at which one tube stands on another; flatter ones lie along it. */
const STEEPEST = 0.3;
