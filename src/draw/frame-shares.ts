/**
 * Whose flexibility makes a deflection: one bar per part, the greatest first, that sum to 100 %. What kind of part it is is
 * told by the bar's filling and by a word: members solid, walls at welds dotted, joints hatched, the fixture open.
 *
 * Parts that are one on the other side (`stay_left`, `stay_right`), pieces of one tube and components of one joint are taken together.
 * A part that bends against the motion has a negative share and runs to the left.
 */
import type { DeflectionShares } from '#kernel';
import { jointOf, placeWords } from '#study';
import { tenth } from './frame-sheet.ts';
import { INK, NARROW } from './ink.ts';
import { element, line, type Picture, shortened, text } from './svg.ts';
import { capital } from './words.ts';

type Kind = DeflectionShares['parts'][number]['kind'];
export interface Share {
  readonly name: string;
  readonly kind: Kind | 'rest';
  /** Per cent, to one decimal; all of a picture sum to 100. */
  readonly percent: number;
}

/** As many parts are named; the others are summed. */
const NAMED = 6;
const KIND_WORDS: Readonly<Record<Share['kind'], string>> = {
  member: 'member',
  wall: 'wall at a weld',
  joint: 'joint',
  fixture: 'test fixture',
  rest: '',
};

const partName = (name: string, kind: Kind): string => {
  if (kind === 'joint' || kind === 'fixture') return jointOf(name).replaceAll('_', ' ');
  if (kind === 'wall') {
    const [chord, at] = name.replace(/^wall of /, '').split(' at ');
    return `${bothSides(placeWords(chord!))} under ${bothSides(placeWords(at ?? '').replace(/ of .*$/, ''))}`;
  }
  return bothSides(placeWords(name));
};
/** `seat stay left of rear` → `seat stays of rear`. */
export const bothSides = (words: string): string => words.replace(/(\w+) (left|right)\b/, '$1s');

/** Named parts and the rest, in per cent with one decimal that sum to 100. */
export function sharesOf({ total, parts }: DeflectionShares): readonly Share[] {
  const sums = new Map<string, { name: string; kind: Kind; value: number }>();
  for (const p of parts) {
    const name = partName(p.name, p.kind);
    const key = `${p.kind} ${name}`;
    const known = sums.get(key);
    sums.set(key, { name, kind: p.kind, value: (known?.value ?? 0) + p.value });
  }
  const round = (x: number): number => Math.round((1000 * x) / total) / 10;
  const sorted = [...sums.values()].sort((a, b) => Math.abs(b.value) - Math.abs(a.value));
  const some = sorted.filter((s) => Math.abs(round(s.value)) > 0);
  const named = some.length <= NAMED + 1 ? some : some.slice(0, NAMED);
  const shares = named.map((s): Share => ({ name: s.name, kind: s.kind, percent: round(s.value) }));
  const rest = Math.round(10 * (100 - shares.reduce((sum, s) => sum + s.percent, 0))) / 10;
  const others = sorted.length - named.length;
  return others > 0 ? [...shares, { name: `${others} others together`, kind: 'rest', percent: rest }] : shares;
}

const WIDTH = 340;
const ROW = 31;
const LONG = 240;

export function frameShares(shares: DeflectionShares): Picture & { readonly shares: readonly Share[] } {
  const list = sharesOf(shares);
  const least = Math.min(0, ...list.map((s) => s.percent));
  const most = Math.max(10, ...list.map((s) => s.percent));
  const px = LONG / (most - least);
  const zero = -least * px;
  const rows = list.map((share, i) => {
    const y = ROW * i;
    const [from, to] = share.percent < 0 ? [zero + px * share.percent, zero] : [zero, zero + px * share.percent];
    const words = `${share.percent.toFixed(1).replace('-', '−')} %`;
    return [
      text([0, y + 11], shortened(capital(share.name), 38), { class: 'figure' }),
      text([WIDTH, y + 11], KIND_WORDS[share.kind], { class: 'figure small faint', 'text-anchor': 'end' }),
      filled(share.kind, from, to, y + 15),
      text([Math.max(to, zero) + 6, y + 23.5], words, { class: 'figure' }),
    ].join('');
  });
  const height = ROW * list.length + 18;
  const body = [
    ...rows,
    line([zero, 14], [zero, height - 16], { stroke: INK, 'stroke-width': NARROW }),
    text([0, height - 4], 'together 100 %', { class: 'figure small' }),
  ];
  return { width: WIDTH, height, body: body.join(''), shares: list };
}

const HEIGHT = 9;
function filled(kind: Share['kind'], from: number, to: number, y: number): string {
  const box = { x: from, y, width: Math.max(0.5, to - from), height: HEIGHT };
  if (kind === 'member') return element('rect', { ...box, fill: INK });
  const pen = { fill: 'none', stroke: INK, 'stroke-width': NARROW * 1.2 };
  let d = '';
  if (kind === 'joint')
    for (let x = from + 4; x < to + 4; x += 4) {
      // strokes end at the box
      const cut = Math.max(0, x - to);
      d += `M${tenth(x - cut)} ${tenth(y + (cut * HEIGHT) / 4)}L${tenth(x - 4)} ${tenth(y + HEIGHT)}`;
    }
  const dots: string[] = [];
  if (kind === 'wall')
    for (let x = from + 3; x < to - 1; x += 5)
      dots.push(`M${tenth(x)} ${tenth(y + 2.6)}h1.4M${tenth(x + 2)} ${tenth(y + 6.2)}h1.4`);
  return (
    element('rect', { ...box, ...pen, 'stroke-dasharray': kind === 'rest' ? '2 2' : undefined }) +
    (d ? element('path', { d, ...pen }) : '') +
    (dots.length ? element('path', { d: dots.join(''), ...pen, 'stroke-width': 1.4 }) : '')
  );
}
