/** Tables of the frame's section: stiffness beside what the trade measures, locks as they age, other checks, what the model assumed. */
import { frameCase, STIFFNESS_IDS, type StiffnessId } from '#kernel';
import { CATALOGUE, type JointsResult, type Judged, type Results, TRADE_BANDS } from '#study';
import type { FrameResult } from './frame-sheet.ts';
import { quantityTable, wideTable } from './quantity-table.ts';
import { table } from './section.ts';
import { plainText, tag } from './svg.ts';
import { capital, prose, spaced } from './words.ts';

const PER_DEGREE = (1e-3 * Math.PI) / 180;
/** N/mm or N·mm/rad as the page says it. */
export const stiffnessWords = (value: number, rotates: boolean): string =>
  rotates ? `${(value * PER_DEGREE).toFixed(1)} N·m/deg` : `${value.toFixed(value < 99.95 ? 1 : 0)} N/mm`;

/** `bottom bracket, sideways`. */
export const stiffnessTitle = (id: StiffnessId): string =>
  (CATALOGUE.find((f) => f.id === `frame.${id}`)?.title ?? spaced(id)).replace(/^stiffness: /, '');
const stiffnessMeaning = (id: StiffnessId): string => CATALOGUE.find((f) => f.id === `frame.${id}`)?.meaning ?? '';

export function stiffnessTable(stiffness: NonNullable<Results['stiffness']>): string {
  const rows = STIFFNESS_IDS.flatMap((id) => {
    const s = stiffness.get(id);
    if (!s) return [];
    const band = TRADE_BANDS[id];
    const value = s.test.rotates ? s.value * PER_DEGREE : s.value;
    const place =
      !band || Number.isNaN(band.low)
        ? ''
        : `${value < band.low ? 'below' : value > band.high ? 'above' : 'within'} ${band.low} to ${band.high} ${band.unit.replace('.', '·')}: `;
    return [
      tag(
        'tr',
        {},
        tag(
          'th',
          { scope: 'row' },
          plainText(stiffnessTitle(id)),
          tag('span', { class: 'say' }, plainText(stiffnessMeaning(id))),
        ),
        tag('td', { class: 'num' }, plainText(stiffnessWords(s.value, s.test.rotates))),
        tag(
          'td',
          {},
          plainText(s.softest ? `${spaced(s.softest.name)}, ${(100 * s.softest.share).toFixed(0)} %` : 'none'),
        ),
        tag('td', { class: 'text' }, band ? prose(place + band.says) : '–'),
      ),
    ];
  });
  return wideTable(
    'Stiffness, joints closed; what the trade measures is from memory',
    ['measurement', 'stiffness', 'softest joint, its share', 'beside the trade’s figures'],
    rows,
  );
}

/** A case and its state in words, once where they say the same. */
export function stateWords(title: string, state: string): string {
  const first = title.toLowerCase();
  return state === '' || first.includes(state) ? first : `${first}, ${state}`;
}

/** How a face is opened, by the component that opens it. */
const WAYS = [
  'pulled along the member',
  'pushed across it',
  'pushed along its axis',
  'twisted',
  'bent across its axis',
  'bent about its axis',
] as const;

/** Opening margins, new and after thousands of folds: the preload that is left scales what opens the face. */
export function lockTable(joints: JointsResult): string {
  const seen = new Set<string>();
  const rows = joints.openings.flatMap((o) => {
    if (seen.has(o.joint)) return [];
    seen.add(o.joint);
    const turns = o.component > 2;
    const size = (n: number): string => (turns ? `${(n / 1000).toFixed(0)} N·m` : `${n.toFixed(0)} N`);
    const mark = (m: number): string => `${m < 1 ? '× ' : ''}${m.toFixed(2)}`;
    const margin = (left: number): string => mark(o.margin * left);
    const ages = joints.ages.find((a) => a.joint === o.joint);
    const at = (list: 'usual' | 'hard', folds: number): string => {
      const age = ages?.[list].find((a) => a.folds === folds);
      return age ? `${margin(age.preloadLeft)}, ${(100 * age.preloadLeft).toFixed(0)} %` : '–';
    };
    const degrees = (rad: number): string => `${((rad * 180) / Math.PI).toFixed(2)}°`;
    const play = ages ? `${degrees(ages.usual[0]!.freeAngle)}, ${degrees(ages.usual.at(-1)!.freeAngle)}` : '–';
    return [
      [
        `${spaced(o.joint)}, ${WAYS[o.component]}`,
        `${stateWords(frameCase(o.frameCase).title, o.state)}: ${size(o.asked)} of ${size(o.opensAt)}`,
        margin(1),
        Number.isFinite(o.blowMargin) ? mark(o.blowMargin) : '–',
        at('usual', 5000),
        at('usual', 20000),
        at('hard', 20000),
        play,
      ],
    ];
  });
  if (rows.length === 0)
    return tag('p', { class: 'note' }, 'No joint of this bicycle has a face that service could open.');
  return tag(
    'div',
    { class: 'wide broad' },
    table(
      'Locks: what opens each face over what riding asks, and what is left of its preload after so many folds',
      [
        'lock',
        'asked of what it bears',
        'margin, new',
        'under a blow',
        '5000 folds',
        '20000 folds',
        '20000, hard use',
        'play, new and 20000',
      ],
      rows,
    ),
  );
}

const OTHERS =
  /^frame\.(buckling|use_damage|wobble|folded_seat\.use|lost_motion\.\w+|(falling_mass|falling_frame|fork_impact)\.set)$/;

/** Checks without a picture: buckling, a life of use, blows, the folded bicycle under somebody, looseness, wobble. */
export const otherChecks = (j: Judged): string =>
  quantityTable(j, OTHERS, 'Other checks of the frame', {
    slotWords: (slot) => (/^[a-z_]+$/.test(slot) ? caseOrPlace(slot) : slot),
  });
const caseOrPlace = (slot: string): string =>
  slot === 'grips' || slot === 'wheel' ? slot : frameCase(slot as Parameters<typeof frameCase>[0]).title.toLowerCase();

/** As many gaps that the model bridged are listed. */
const GAPS = 6;

/** What the model tied although the file leaves a gap, cases that do not apply, ranges that a formula left. */
export function modelNotes(frame: FrameResult): string[] {
  const { bridges, outside } = frame.model.built;
  const name = (s: string): string => spaced(s);
  const gaps = [...bridges].sort((a, b) => b.gap - a.gap);
  const notes = gaps
    .slice(0, GAPS)
    .map(
      (b) =>
        `The file leaves ${b.gap.toFixed(0)} mm between ${name(b.a)} and ${name(b.b)}; the model ties them rigidly.`,
    );
  if (gaps.length > GAPS) notes.push(`${gaps.length - GAPS} smaller gaps are tied likewise.`);
  const byReason = new Map<string, string[]>();
  for (const words of new Set([...outside, ...frame.points.outside])) {
    const cut = words.indexOf(': ');
    const reason = cut < 0 ? words : words.slice(cut + 2).replace(/ -?\d+(\.\d+)? outside /, ' outside ');
    byReason.set(reason, [...(byReason.get(reason) ?? []), cut < 0 ? '' : words.slice(0, cut)]);
  }
  for (const [reason, places] of byReason) {
    const [first] = places.filter(Boolean);
    const where = first ? ` (${name(first)}${places.length > 1 ? ` and ${places.length - 1} more` : ''})` : '';
    notes.push(`Outside the range of a published formula: ${reason}${where}.`);
  }
  const why = new Map<string, string[]>();
  for (const [id, reason] of frame.left)
    why.set(reason, [...(why.get(reason) ?? []), frameCase(id).title.toLowerCase()]);
  for (const [reason, cases] of why) notes.push(`${capital(cases.join(', '))}: not run, ${reason}.`);
  return notes;
}
