/**
 * A seated rider as a thin outline: each segment a round-ended bar between its joints, near and far limbs united with the
 * trunk. Widths are for the eye only (shares of stature, from memory); the computation uses the segments' masses.
 */
import type { SeatedRider } from '#kernel';
import { FAINT, MEDIUM, PAPER } from './ink.ts';
import { stadium } from './outline.ts';
import { element } from './svg.ts';
import { flat, onSheet, type Sheet, type View } from './view.ts';

/** Half widths as shares of stature; the head takes this share of the way from its top to the neck's root. */
const HEAD_SHARE = 0.76;
const NECK = 0.027;
const HALF: Readonly<Record<string, number>> = {
  head: 0.048,
  trunk: 0.062,
  upper_arm: 0.026,
  forearm: 0.022,
  hand: 0.02,
  thigh: 0.042,
  shank: 0.029,
  foot: 0.02,
};
const ENDS_INSIDE = new Set(['foot', 'trunk']);

export interface OutlinePen {
  readonly stroke: string;
  readonly dash?: string | undefined;
  /** Half of it lies under the fill. */
  readonly width?: number;
}

export function riderOutline(
  seat: SeatedRider,
  stature: number,
  view: View,
  sheet: Sheet,
  { stroke, dash, width = MEDIUM }: OutlinePen = { stroke: FAINT },
): string {
  const layer = (names: (name: string) => boolean): string => {
    const d = seat.segments
      .filter((s) => names(s.name))
      .map((s) => {
        const half = (HALF[s.name.replace(/_(left|right)$/, '')] ?? 0.03) * stature;
        const [a, b] = [flat(view, s.from), flat(view, s.to)];
        const l = Math.sqrt((b[0] - a[0]) * (b[0] - a[0]) + (b[1] - a[1]) * (b[1] - a[1]));
        const on = (t: number) => onSheet(sheet, [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]);
        if (s.name === 'head') {
          // from the top of the head to the neck's root, and the neck from there into the shoulders
          const r = half * sheet.scale;
          const shoulder = onSheet(sheet, flat(view, seat.shoulder));
          return (
            stadium(on(half / l), on(HEAD_SHARE - half / l), r) +
            stadium(on(HEAD_SHARE), shoulder, NECK * stature * sheet.scale)
          );
        }
        // a foot ends at its end point; a limb's round ends lie about its joints
        const inset = ENDS_INSIDE.has(s.name.replace(/_(left|right)$/, '')) && l > 2.2 * half ? half / l : 0;
        return stadium(on(inset), on(s.name === 'trunk' ? 1 : 1 - inset), half * sheet.scale);
      })
      .join('');
    return element('path', {
      d,
      fill: PAPER,
      stroke,
      'stroke-dasharray': dash,
      'stroke-width': width,
      'paint-order': 'stroke',
    });
  };
  const far = (name: string): boolean => name.endsWith('_left');
  return element('g', {}, [layer(far), layer((name) => !far(name))]);
}
