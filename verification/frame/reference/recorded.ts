/** What the reference program said, as kept in `recorded.json`; `compare-live.ts` writes and re-checks it. */
import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beamDeck } from './beam-deck.ts';
import type { Printed } from './ccx.ts';
import { DIRECTIONS, frameNames, loadFrame, type ReferenceFrame, withoutPoisson } from './frames.ts';
import { type Deck, MESH, type Mesh, solidDeck } from './solid-deck.ts';

export type Variant = 'own' | 'no_contraction';

export interface Answer {
  /** SHA-256 of the deck's text. */
  readonly deck: string;
  /** mm, rad: six per node. */
  readonly displacements: Readonly<Record<string, readonly number[]>>;
  /** N, N·mm: six per supported node, zero where nothing holds. */
  readonly reactions: Readonly<Record<string, readonly number[]>>;
  /** N·mm about the member's local axes, acting on its spring end. */
  readonly spring_moments?: Readonly<Record<string, readonly number[]>>;
  readonly buckling_factor?: number;
}
export interface BeamAnswer {
  readonly deck: string;
  /** mm: three per node. */
  readonly displacements: Readonly<Record<string, readonly number[]>>;
  readonly buckling_factor?: number;
}
export interface FrameRecord {
  readonly own: Answer;
  readonly no_contraction: Answer;
  readonly beam_element?: BeamAnswer;
}
export interface Recorded {
  readonly program: string;
  readonly version: string;
  readonly date: string;
  readonly mesh: Mesh;
  readonly beam_elements_per_member: number;
  readonly frames: Readonly<Record<string, FrameRecord>>;
}

export const BEAM_ELEMENTS = 16;
export const RECORDED = join(import.meta.dirname, 'recorded.json');
export const readRecorded = (): Recorded => JSON.parse(readFileSync(RECORDED, 'utf8')) as Recorded;

export const digest = (text: string): string => createHash('sha256').update(text).digest('hex');

export const variantOf = (frame: ReferenceFrame, variant: Variant): ReferenceFrame =>
  variant === 'own' ? frame : withoutPoisson(frame);

export const solidDeckOf = (name: string, variant: Variant, mesh: Mesh = MESH): Deck =>
  solidDeck(`${name}, ${variant}`, variantOf(loadFrame(name), variant), mesh);

/** Frames that the program's beam element can represent: those without springs. */
export const beamNames = frameNames.filter((name) => loadFrame(name).members.every((m) => m.spring_from === undefined));
export const beamDeckOf = (name: string): Deck => beamDeck(`${name}, B32R`, loadFrame(name), BEAM_ELEMENTS);

/** The program prints seven digits: what is smaller than that beside the largest value is noise. */
const NOISE = 1e-7;
/** @param arm length that makes a translation of a rotation, or one over the length that makes a force of a moment. */
function cleaned(table: Record<string, number[]>, arm: number): Record<string, number[]> {
  const most = (first: number): number =>
    Math.max(0, ...Object.values(table).flatMap((row) => row.slice(first, first + 3).map(Math.abs)));
  const [lines, turns] = [most(0), most(3)];
  const all = Math.max(lines, turns * arm);
  for (const row of Object.values(table))
    for (let c = 0; c < row.length; c++) {
      const floor = NOISE * (c < 3 ? lines : Math.max(turns, all / arm));
      if (Math.abs(row[c]!) <= floor) row[c] = 0;
    }
  return table;
}

/** Largest extent of the frame, mm. */
const extent = (frame: ReferenceFrame): number =>
  Math.max(
    ...[0, 1, 2].map((c) => {
      const at = Object.values(frame.nodes).map((p) => p[c]!);
      return Math.max(...at) - Math.min(...at);
    }),
  );

export function answerOf(frame: ReferenceFrame, { text, reference, springs }: Deck, printed: Printed): Answer {
  const six = (from: ReadonlyMap<number, readonly number[]>, name: string): number[] => [
    ...from.get(reference[name]!)!,
    ...from.get(reference[name]! + 1)!,
  ];
  const displacements = Object.fromEntries(
    Object.keys(frame.nodes).map((name) => [name, six(printed.displacement, name)]),
  );
  const reactions = Object.fromEntries(
    Object.entries(frame.supports).map(([name, held]) => {
      const force = six(printed.force, name);
      for (const { node, force_N = [0, 0, 0], moment_Nmm = [0, 0, 0] } of frame.loads)
        if (node === name) for (const [c, value] of [...force_N, ...moment_Nmm].entries()) force[c]! -= value;
      return [name, force.map((value, c) => (held.includes(DIRECTIONS[c]!) ? value : 0))];
    }),
  );
  const moments = Object.entries(springs).map(([id, rotation]) => {
    const m = frame.members.find((member) => member.id === id)!;
    const { rx_Nmm_per_rad: kx, ry_Nmm_per_rad: ky, rz_Nmm_per_rad: kz } = m.spring_from!;
    const own = printed.displacement.get(rotation)!;
    const node = printed.displacement.get(reference[m.from]! + 1)!;
    const d = [0, 1, 2].map((c) => node[c]! - own[c]!);
    // Local y is global z, local z is global −y.
    return [id, [kx * d[0]!, ky * d[2]!, -kz * d[1]!]];
  });
  return {
    deck: digest(text),
    displacements: cleaned(displacements, extent(frame)),
    reactions: cleaned(reactions, 1 / extent(frame)),
    ...(moments.length > 0 ? { spring_moments: Object.fromEntries(moments) } : {}),
    ...(frame.buckling === true ? { buckling_factor: printed.factors[0]! } : {}),
  };
}

export function beamAnswerOf(frame: ReferenceFrame, { text, reference }: Deck, printed: Printed): BeamAnswer {
  const displacements = Object.fromEntries(
    Object.keys(frame.nodes).map((name) => [name, [...printed.displacement.get(reference[name]!)!]]),
  );
  return {
    deck: digest(text),
    displacements: cleaned(displacements, extent(frame)),
    ...(frame.buckling === true ? { buckling_factor: printed.factors[0]! } : {}),
  };
}
