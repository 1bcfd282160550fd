/**
 * A writer that remembers its last result.
 *
 * Tubes, blocks and hardware cost up to some microseconds each, and while a dimension is dragged or swept most of them stay
 * as they are. The wrapper compares the slots that the writer reads and copies the last result where none has changed. It
 * writes its places on every call, so a state that somebody has altered, or a new one, is complete after `fill`.
 */
import type { State } from '#kernel';
import type { Writer } from './draft.ts';

export interface Place {
  readonly array: 'box' | 'mass' | 'capsule';
  readonly offset: number;
  readonly length: number;
}

/** `reads` are all slots that `write` depends on, and `places` all that it writes. */
export function kept(reads: readonly number[], places: readonly Place[], write: Writer): Writer {
  const slots = Int32Array.from(new Set(reads.filter((slot) => slot >= 0)));
  const last = new Float64Array(slots.length).fill(Number.NaN);
  const results = places.map((place) => new Float64Array(place.length));
  const copy = (s: State, back: boolean): void => {
    for (let p = 0; p < places.length; p++) {
      const { array, offset, length } = places[p]!;
      const here = s[array];
      const there = results[p]!;
      if (back) for (let k = 0; k < length; k++) here[offset + k] = there[k]!;
      else for (let k = 0; k < length; k++) there[k] = here[offset + k]!;
    }
  };
  let filled = false;
  return (s) => {
    let same = filled;
    for (let i = 0; i < slots.length; i++) {
      const now = s.value[slots[i]!]!;
      if (now !== last[i]) {
        last[i] = now;
        same = false;
      }
    }
    if (same) {
      copy(s, true);
      return;
    }
    write(s);
    copy(s, false);
    filled = true;
  };
}
