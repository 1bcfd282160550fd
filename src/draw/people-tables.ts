/** Tables of who fits: three riders, reasons, sizes, rooms, changes. Figures to the right with their units. */
import { COLUMN, FIT, FIT_STRIDE, MISS, type MissKey, RIDER_STRIDE } from '#kernel';
import type { FitResult, Results } from '#study';
import type { KneeTurn } from './knee-path.ts';
import type { Zone } from './reach-zone.ts';
import { table } from './section.ts';
import { sizeWords } from './three-riders.ts';
import { shapeWords, typeset } from './words.ts';

const DEG = 180 / Math.PI;
const mm = (m: number): string => typeset(`${(1000 * m).toFixed(0)} mm`);
const deg = (rad: number): string => `${(rad * DEG).toFixed(0)}°`;
export const percent = (share: number): string => `${(100 * share).toFixed(1)} %`;
/** A share of users that is all but everybody says so: strength has no certain end. */
export const ableWords = (share: number): string => (share > 0.9995 ? '> 99.9 %' : percent(share));

/** Measures of the three riders as they sit, one column each. */
export function threeTable(turns: readonly KneeTurn[], zones: readonly Zone[]): string {
  const row = (name: string, say: (t: KneeTurn, z: Zone) => string): string[] => [
    name,
    ...turns.map((t, i) => say(t, zones[i]!)),
  ];
  const seat = (t: KneeTurn) => t.rider.seated;
  const sex = { female: 'woman', male: 'man', mixed: 'halfway' } as const;
  return table(
    'Three riders as they sit',
    ['', ...turns.map((t) => sizeWords(t.rider))],
    [
      row('body', (t) => sex[t.rider.rider.sex]),
      row('mass, mean of that stature', (t) => `${t.rider.rider.mass.toFixed(0)} kg`),
      row('crank to saddle, by the rule', (t) => mm(seat(t).saddle.wanted)),
      row('crank to saddle, as it can be set', (t) => mm(seat(t).saddle.reached)),
      row('saddle limited by', (t) => (seat(t).saddle.limit === 'none' ? 'nothing' : `its ${seat(t).saddle.limit}`)),
      row('trunk to the ground', (t) => deg(seat(t).seat.angles.trunk)),
      row('elbow bent', (t) => deg(seat(t).seat.angles.elbowRight)),
      row('elbow bent with the trunk at 85°', (_, z) => (z.elbow === undefined ? 'no reach' : deg(z.elbow))),
      row('grips in reach', (_, z) => (z.verdict === 'inside' ? 'yes' : `× ${z.verdict}`)),
      row('knee bent at the bottom (±10°)', (t) => deg(seat(t).seat.angles.kneeBottom)),
      row('knee bent at the top (±10°)', (t) => deg(seat(t).seat.angles.kneeTop)),
      row('knee to metal, least', (t) => `${t.beyond ? '> ' : ''}${mm(t.gap)}`),
      row('of riders so tall, fit', (t) => percent(t.rider.fits)),
    ],
  );
}

/** Reasons that leave somebody out; '' where nobody is. */
export function missTable(fit: FitResult): string {
  const rows = fit.misses.filter((m) => m.all.share > 0).sort((a, b) => b.all.share - a.all.share);
  if (rows.length === 0) return '';
  return table(
    'What leaves riders out',
    ['limit', 'riders', '95 % interval', 'this alone'],
    rows.map((m) => [
      m.words,
      percent(m.all.share),
      `${percent(m.all.low)} to ${percent(m.all.high)}`,
      percent(m.only.share),
    ]),
  );
}

const BAND = 0.1;
/** Bands with fewer riders say nothing. */
const LEAST = 20;

/** Share that fits by stature: the map in figures. */
export function bandTable(fit: FitResult): string {
  const { people, riders } = fit;
  const bands = new Map<number, { n: number; women: number; womenFit: number; fit: number; masks: number[] }>();
  for (let i = 0; i < people.n; i++) {
    const k = Math.floor(people.value[i * RIDER_STRIDE + COLUMN.stature]! / BAND + 1e-9);
    const band = bands.get(k) ?? { n: 0, women: 0, womenFit: 0, fit: 0, masks: [] };
    const mask = riders[i * FIT_STRIDE + FIT.mask]!;
    const woman = people.female[i] === 1;
    band.n++;
    if (woman) band.women++;
    if (mask === 0) band.fit++;
    else band.masks.push(mask);
    if (mask === 0 && woman) band.womenFit++;
    bands.set(k, band);
  }
  const of = (count: number, n: number): string => (n < LEAST ? 'too few' : `${((100 * count) / n).toFixed(0)} %`);
  const rows = [...bands]
    .sort((a, b) => a[0] - b[0])
    .filter(([, b]) => b.n >= LEAST)
    .map(([k, b]) => [
      `${(k * BAND).toFixed(1)} to ${((k + 1) * BAND).toFixed(1)} m`,
      percent(b.n / people.n),
      of(b.fit, b.n),
      of(b.womenFit, b.women),
      of(b.fit - b.womenFit, b.n - b.women),
      oftenest(fit, b.masks),
    ]);
  return table('Who fits, by stature', ['stature', 'of all', 'fit', 'women', 'men', 'left out mostly by'], rows, [5]);
}

function oftenest(fit: FitResult, masks: readonly number[]): string {
  const counts = fit.misses.map((m) => masks.filter((mask) => (mask & MISS[m.key]) !== 0).length);
  const most = Math.max(...counts);
  return most === 0 ? 'nobody is' : fit.misses[counts.indexOf(most)]!.words;
}

const ROOMS = [
  { key: 'knee', column: FIT.kneeGap, limit: 'knee_gap', words: 'knee to bar, levers and frame' },
  { key: 'toe', column: FIT.toeGap, limit: 'toe_gap', words: 'shoe to front wheel and guard' },
  { key: 'heel', column: FIT.heelGap, limit: 'heel_gap', words: 'heel to stays, hub and locks' },
  { key: 'leg', column: FIT.legGap, limit: 'leg_gap', words: 'calf and trouser to frame and locks' },
] as const;

/** Least room of anybody, skin to metal, beside what is asked, and what is nearest. */
export function roomTable(fit: FitResult, top: Results['model']['top']): string {
  const rows = ROOMS.map(({ key, column, limit, words }) => {
    const tight = fit.tightest.find((t) => t.key === key)!;
    let least = Number.POSITIVE_INFINITY;
    for (let i = 0; i < fit.people.n; i++) least = Math.min(least, fit.riders[i * FIT_STRIDE + column]!);
    const name = top.names.shapes[tight.nearest.shape];
    const miss = fit.misses.find((m) => m.key === (key as MissKey))!;
    return [
      words,
      name === undefined ? 'plenty' : mm(least),
      mm(fit.limits[limit]),
      name === undefined
        ? 'nothing near'
        : `${shapeWords(name)}${tight.nearest.angle === 0 ? '' : `, bar turned ${Math.abs(tight.nearest.angle * DEG).toFixed(0)}°`}`,
      percent(miss.all.share),
    ];
  });
  return table(
    'Room round the legs; negative: they touch',
    ['', 'least of anybody', 'asked', 'nearest', 'too little for'],
    rows,
    [3],
  );
}

/** Changes that would win riders, the best first; '' where none does. */
export function gainTable(change: NonNullable<Results['fitChange']>): string {
  const rows = change.gains.filter((g) => g.won - g.lost > 0).slice(0, 6);
  if (rows.length === 0) return '';
  const signed = (x: number): string => `${x < 0 ? '−' : '+'}${(100 * Math.abs(x)).toFixed(1)} %`;
  return table(
    `Which one change wins most riders (${change.sample} of them fitted again)`,
    ['change', 'won', 'lost', 'net'],
    rows.map((g) => [g.words, percent(g.won), percent(g.lost), signed(g.won - g.lost)]),
  );
}
