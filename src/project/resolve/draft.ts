/**
 * A model under construction: shapes, mass elements and the writers that fill a state, in the order of the file.
 *
 * A writer reads slots and stations and writes its own places in the state. Writers keep their scratch in closures made
 * here once, so that `fill` allocates nothing of its own.
 */
import type { State } from '#kernel';
import type { Path } from '../text.ts';
import type { Points } from './points.ts';
import type { Reader } from './reader.ts';

export type Writer = (s: State) => void;
export type ShapeKind = 'capsule' | 'disc' | 'box';

export interface ShapeDraft {
  readonly kind: ShapeKind;
  /** Position among the shapes of its kind. */
  readonly local: number;
  readonly body: number;
  readonly name: string;
  /** Names by which exclusions and `rolls_on` find it: `rear.beam`, `front_wheel`, `main`. */
  readonly groups: readonly string[];
  readonly estimated: boolean;
  readonly path: Path;
}
export interface MassDraft {
  readonly name: string;
  readonly body: number;
  readonly group: string;
  /** Standard uncertainty over the mass. */
  readonly spread: number;
  readonly path: Path;
}
export interface Draft {
  readonly reader: Reader;
  readonly points: Points;
  readonly bodies: readonly string[];
  readonly shapes: ShapeDraft[];
  readonly counts: Record<ShapeKind, number>;
  readonly masses: MassDraft[];
  readonly writers: Writer[];
}
export const newDraft = (reader: Reader, points: Points, bodies: readonly string[]): Draft => ({
  reader,
  points,
  bodies,
  shapes: [],
  counts: { capsule: 0, disc: 0, box: 0 },
  masses: [],
  writers: [],
});

/** Adds a shape and returns its number among its kind: its place in `State.capsule`, `.disc` or `.box`. */
export function addShape(
  draft: Draft,
  kind: ShapeKind,
  shape: Omit<ShapeDraft, 'kind' | 'local' | 'estimated'> & { estimated?: boolean },
): number {
  const local = draft.counts[kind]++;
  draft.shapes.push({ estimated: false, ...shape, kind, local });
  return local;
}
/** Adds a mass element and returns its number. */
export const addMass = (draft: Draft, mass: MassDraft): number => draft.masses.push(mass) - 1;

/** Index of a body by name in `State` order; -1 when unknown. */
export const bodyIndex = (draft: Pick<Draft, 'bodies'>, name: string): number => draft.bodies.indexOf(name);
