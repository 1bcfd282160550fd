/** Our solver's answer for a reference frame, and how tables of displacements or reactions are compared. */
import { loadCalcTopic } from '#study';
import type { ReferenceFrame } from './frames.ts';

export type Table = Readonly<Record<string, readonly number[]>>;
export interface Ours {
  readonly displacements: Table;
  readonly reactions: Table;
  readonly members: Readonly<Record<string, { readonly from: readonly number[] }>>;
  readonly buckling_factor?: number;
}

const topic = (await loadCalcTopic('frame'))!;
const known = new Map<string, Ours>();

/** `foldwright calc frame` on the frame: the same schema, the same solver. */
export function ours(frame: ReferenceFrame): Ours {
  const key = JSON.stringify(frame);
  const found = known.get(key) ?? (topic.run(topic.input.parse(JSON.parse(key))) as Ours);
  known.set(key, found);
  return found;
}

export interface Largest {
  readonly node: string;
  readonly component: number;
  readonly value: number;
}

/** Largest entry of one kind: `first` 0 for translations or forces, 3 for rotations or moments. */
export function largest(table: Table, first: 0 | 3): Largest {
  let most: Largest = { node: '', component: first, value: 0 };
  for (const [node, row] of Object.entries(table))
    for (let component = first; component < first + 3; component++) {
      const value = row[component] ?? 0; // the beam element's table has no rotations
      if (Math.abs(value) > Math.abs(most.value)) most = { node, component, value };
    }
  return most;
}

/** Largest difference of one kind over the largest entry of that kind in `reference`; 0 where the kind is empty. */
export function worst(table: Table, reference: Table, first: 0 | 3): number {
  const scale = Math.abs(largest(reference, first).value);
  let most = 0;
  for (const [node, row] of Object.entries(reference))
    for (let c = first; c < first + 3; c++) most = Math.max(most, Math.abs(table[node]![c]! - row[c]!));
  return scale > 0 ? most / scale : 0;
}
