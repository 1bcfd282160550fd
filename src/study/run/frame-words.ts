/** Places of a frame in words that people use. */
import type { FrameResult } from './frame.ts';

/** `rear.seat_tube (2)` → `seat tube of rear`. */
export function placeWords(name: string): string {
  const plain = name.replace(/ \(\d+\)$/, '').replace(/ \(not drawn\)$/, '');
  const dot = plain.indexOf('.');
  return dot < 0
    ? plain
    : `${plain.slice(dot + 1).replaceAll('_', ' ')} of ${plain.slice(0, dot).replaceAll('_', ' ')}`;
}

/** `seat tube of rear, 121 mm from its first end`. */
export function pointWords(frame: FrameResult, point: number): string {
  const p = frame.points.points[point];
  if (!p) return 'nowhere';
  return `${placeWords(frame.model.bearing.tubes[p.tube]!.name)}, ${p.s.toFixed(0)} mm from its first end`;
}

/** A joint of the bicycle by its own name: the bearings of the steerer are one joint. */
export const jointOf = (name: string): string => name.replace(/ (lower|upper) bearing$/, '');
