/**
 * Cross-sections as the file writes them: `round 50 x 2 mm`, `oval 60 x 35 x 2 mm`, `round 40 x 2 to 30 x 1.5 mm`.
 *
 * Each number may be an expression; a trailing unit serves the bare numbers before it. A bar is a round whose wall is its
 * radius.
 */
import type { SectionSlots } from '#kernel';
import { nearestName } from '../nearest.ts';
import type { Path } from '../text.ts';
import { DIMENSION } from '../units.ts';
import { note, type Reader, readAmount, shareUnit } from './reader.ts';

const SHAPES = ['round', 'oval', 'rectangular'] as const;
const FORM = {
  round: 'round DIAMETER x WALL, as in round 50 x 2 mm',
  oval: 'oval HEIGHT x WIDTH x WALL, as in oval 60 x 35 x 2 mm',
  rectangular: 'rectangular HEIGHT x WIDTH x WALL, as in rectangular 60 x 35 x 2 mm',
} as const;

/** Pieces of a text with the offset at which each begins, trimmed. */
export interface Piece {
  readonly text: string;
  readonly offset: number;
}
/** Splits at a word that stands by itself (` x `, ` to `); `50x2` between digits counts too. */
export function splitAt(text: string, offset: number, separator: RegExp): Piece[] {
  const pieces: Piece[] = [];
  let start = 0;
  const push = (end: number) => {
    const raw = text.slice(start, end);
    const lead = raw.length - raw.trimStart().length;
    pieces.push({ text: raw.trim(), offset: offset + start + lead });
  };
  for (const match of text.matchAll(separator)) {
    push(match.index);
    start = match.index + match[0].length;
  }
  push(text.length);
  return pieces;
}
export const BY = /\s+[x×]\s+|(?<=\d)[x×](?=\d)/g;
const TO = /\s+to\s+/g;

/** Undefined, with problems, where the text is no section. */
export function readSection(reader: Reader, path: Path, text: string): SectionSlots | undefined {
  const word = /^\s*([A-Za-z]+)\s+/.exec(text);
  const shape = SHAPES.find((s) => s === word?.[1]);
  if (!word || !shape) {
    const near = nearestName(word?.[1] ?? '', SHAPES);
    note(reader, path, 'value', 'section.syntax', `\`${text}\` is not a section`, {
      found: text,
      expected: Object.values(FORM).join('; '),
      ...(near ? { hint: `did you mean \`${near}\`?` } : {}),
    });
    return undefined;
  }
  const body = text.slice(word[0].length);
  const ends = splitAt(body, word[0].length, TO).map((end) => splitAt(end.text, end.offset, BY));
  const count = shape === 'round' ? 2 : 3;
  if (ends.length > 2 || ends.some((e) => e.length !== count || e.some((p) => p.text === ''))) {
    note(reader, path, 'value', 'section.syntax', `\`${text}\` is not a complete section`, {
      found: text,
      expected: `${FORM[shape]}${shape === 'round' ? '; round 40 x 2 to 30 x 1.5 mm when tapered' : ''}`,
    });
    return undefined;
  }
  const pieces = ends.flat();
  const shared = shareUnit(pieces.map((p) => p.text));
  const slots = shared.map((raw, i) => readAmount(reader, path, raw, DIMENSION.length, { offset: pieces[i]!.offset }));
  const [a, b] = [slots.slice(0, count), slots.slice(count)];
  const of = (s: readonly number[]) =>
    s.length === 0 ? [-1, -1, -1] : shape === 'round' ? [s[0]!, s[0]!, s[1]!] : [s[0]!, s[1]!, s[2]!];
  const [height, width, wall] = of(a) as [number, number, number];
  const [endHeight, endWidth, endWall] = of(b) as [number, number, number];
  return { shape, height, width, wall, endHeight, endWidth, endWall };
}

/** Three slots of `box 60 x 45 x 70 mm`; undefined with a problem otherwise. */
export function readBox(reader: Reader, path: Path, text: string): [number, number, number] | undefined {
  const word = /^\s*box\s+/.exec(text);
  const pieces = word ? splitAt(text.slice(word[0].length), word[0].length, BY) : [];
  if (pieces.length !== 3) {
    note(reader, path, 'value', 'section.syntax', `\`${text}\` is not a shape`, {
      found: text,
      expected: 'box ALONG x ACROSS x AXIS, as in box 60 x 45 x 70 mm',
    });
    return undefined;
  }
  const shared = shareUnit(pieces.map((p) => p.text));
  return shared.map((raw, i) => readAmount(reader, path, raw, DIMENSION.length, { offset: pieces[i]!.offset })) as [
    number,
    number,
    number,
  ];
}
