/** A model's state: its arrays, and the filling of them from the dimensions. */
import { type Model, type State, scaleMasses, setIdentity } from '#kernel';
import type { Draft, Writer } from './draft.ts';
import { compileRun } from './program.ts';

export interface Sizes {
  readonly bodies: number;
  readonly joints: number;
}

export const newStateOf = (draft: Draft, sizes: Sizes) => (): State => ({
  value: Float64Array.from(draft.reader.program.initial),
  station: new Float64Array(3 * draft.points.names.length),
  joint: new Float64Array(6 * sizes.joints),
  range: new Float64Array(2 * sizes.joints),
  capsule: new Float64Array(7 * draft.counts.capsule),
  disc: new Float64Array(8 * draft.counts.disc),
  box: new Float64Array(15 * draft.counts.box),
  mass: new Float64Array(10 * draft.masses.length),
  q: new Float64Array(sizes.joints),
  bodyT: new Float64Array(12 * sizes.bodies),
});

/** Factors of weighed mass elements, and the wheel slots that must follow their element. */
export interface Scaling {
  readonly factor: Float64Array;
  readonly wheelSlots: readonly { readonly element: number; readonly slots: readonly number[] }[];
}

/** `scaling` is read at each call, so that it may be set after the first look at the masses. */
export function fillOf(draft: Draft, free: readonly number[], scaling: { current?: Scaling }): Model['fill'] {
  const run = compileRun(draft.reader.program, free);
  const slots = Int32Array.from(draft.points.slots);
  const writers: readonly Writer[] = [...draft.writers];
  const count = writers.length;
  return (x, s, instead) => {
    run(x, s.value);
    const { value, station, bodyT } = s;
    if (instead) for (const [slot, given] of instead) value[slot] = given;
    for (let i = 0; i < slots.length; i++) station[i] = value[slots[i]!]!;
    for (let i = 0; i < count; i++) writers[i]!(s);
    s.q.fill(0);
    for (let o = 0; o < bodyT.length; o += 12) setIdentity(bodyT, o);
    const weighed = scaling.current;
    if (!weighed) return;
    scaleMasses(s.mass, weighed.factor);
    for (const wheel of weighed.wheelSlots)
      for (const slot of wheel.slots) value[slot] = value[slot]! * weighed.factor[wheel.element]!;
  };
}
