/** Directions as the file writes them: `x`, `-y`, `[0.06, 0, 1]`, `{to: station}`. */
import type { State } from '#kernel';
import type { AxisData } from '../schema/candidate-schema.ts';
import type { Amount } from '../schema/values.ts';
import type { Path } from '../text.ts';
import { DIMENSION } from '../units.ts';
import type { Draft } from './draft.ts';
import { slotsOf, stationAt } from './points.ts';
import { defaultAmount, readAmounts } from './reader.ts';

/** Three slots of a direction; the slots of the origin are subtracted where the file names a station to point to. */
export interface Axis {
  readonly slots: readonly number[];
  readonly origin: readonly number[] | undefined;
}

export function readAxis(draft: Draft, path: Path, axis: AxisData, from: number): Axis {
  const { reader, points } = draft;
  if (typeof axis === 'string') {
    const sign = axis.startsWith('-') ? -1 : 1;
    const slots = ['x', 'y', 'z'].map((name) =>
      defaultAmount(reader, path, axis.endsWith(name) ? sign : 0, DIMENSION.number),
    );
    return { slots, origin: undefined };
  }
  if (Array.isArray(axis)) {
    const raw = axis as Amount[];
    // A direction may be given in lengths ([30 mm, 0, 400 mm]) or as plain numbers; only its ratios count.
    const lengths = raw.some((item) => typeof item === 'string' && /\d\s*(mm|cm|m|in)\s*$/.test(item));
    return {
      slots: readAmounts(reader, path, raw, lengths ? DIMENSION.length : DIMENSION.number),
      origin: undefined,
    };
  }
  const to = stationAt(reader, points, (axis as { to: string }).to, [...path, 'to']);
  if (to < 0 || from < 0) {
    const none = defaultAmount(reader, path, Number.NaN, DIMENSION.length);
    reader.broken.add(none);
    return { slots: [none, none, none], origin: undefined };
  }
  return { slots: slotsOf(points, to), origin: slotsOf(points, from) };
}

/** Writes the unit vector; NaN where the direction has no length. */
export function writeAxis(axis: Axis, s: State, out: Float64Array, o: number): void {
  const v = s.value;
  const { slots, origin } = axis;
  let x = v[slots[0]!]!;
  let y = v[slots[1]!]!;
  let z = v[slots[2]!]!;
  if (origin) {
    x -= v[origin[0]!]!;
    y -= v[origin[1]!]!;
    z -= v[origin[2]!]!;
  }
  const k = 1 / Math.sqrt(x * x + y * y + z * z);
  out[o] = x * k;
  out[o + 1] = y * k;
  out[o + 2] = z * k;
}
export const axisBroken = (draft: Draft, axis: Axis): boolean =>
  [...axis.slots, ...(axis.origin ?? [])].some((slot) => draft.reader.broken.has(slot));
