/**
 * A seated rider as a thin outline: each segment a round-ended bar between its joints, near and far limbs united with the
 * trunk. Widths are for the eye only (shares of stature, from memory); the computation uses the segments' masses.
 */
import type { SeatedRider } from '#kernel';
import { FAINT, MEDIUM, PAPER } from './ink.ts';
import { stadium } from './outline.ts';
import { element } from './svg.ts';
import { flat, onSheet, type Sheet, type View } from './view.ts';

/** Half widths as shares of stature. */
const HALF: Readonly<Record<string, number>> = {
  head: 0.052,
  trunk: 0.062,
  upper_arm: 0.026,
  forearm: 0.022,
  hand: 0.02,
  thigh: 0.042,
  shank: 0.029,
  foot: 0.02,
};
const ENDS_INSIDE = new Set(['head', 'foot', 'trunk']);

export function riderOutline(seat: SeatedRider, stature: number, view: View, sheet: Sheet): string {
  const layer = (names: (name: string) => boolean): string => {
    const d = seat.segments
      .filter((s) => names(s.name))
      .map((s) => {
        const half = (HALF[s.name.replace(/_(left|right)$/, '')] ?? 0.03) * stature;
        const [a, b] = [flat(view, s.from), flat(view, s.to)];
        const l = Math.sqrt((b[0] - a[0]) * (b[0] - a[0]) + (b[1] - a[1]) * (b[1] - a[1]));
        // a head or a foot ends at its end point; a limb's round ends lie about its joints
        const inset = ENDS_INSIDE.has(s.name.replace(/_(left|right)$/, '')) && l > 2.2 * half ? half / l : 0;
        const at = (t: number) => onSheet(sheet, [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1])]);
        return stadium(at(inset), at(s.name === 'trunk' ? 1 : 1 - inset), half * sheet.scale);
      })
      .join('');
    return element('path', {
      d,
      fill: PAPER,
      stroke: FAINT,
      'stroke-width': MEDIUM,
      'paint-order': 'stroke',
    });
  };
  const far = (name: string): boolean => name.endsWith('_left');
  return element('g', {}, [layer(far), layer((name) => !far(name))]);
}
