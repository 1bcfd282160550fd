/** Quantities of fit: who can ride it, who is left out and why. */
import { FIT, FIT_STRIDE, MISSES, type MissKey, ruleSpread, SADDLE_RULE, type Share } from '#kernel';
import { type Absent, absent, type Family, single } from '../family.ts';
import type { Results } from '../results.ts';

const DEG = 180 / Math.PI;
const WHO =
  'a public drawn from the ANSUR II survey (soldiers, 17–58 years) with the brief’s statures and masses laid over it; adults on upright bicycles; limits of the brief or, where it is silent, defaults that say so (docs/methods/fit.md)';
const SURVEY =
  'Gordon et al. 2014, NATICK/TR-15/007 (ANSUR II); saddle 0.883 × inseam (common fitting rule); room for knees, toes, heels and legs: default, from memory or our choice';
const STEPS = [
  'Riders are drawn with the survey’s means, deviations and correlations, so that nobody is made of percentiles.',
  'Each sets the saddle by the rule as far as post and least insertion allow, turns the cranks once, holds the grips, stands over it and puts a foot down.',
  'A rider fits when no limit is missed.',
];
/** 1-sigma of a share: the sample's, and what each room rule moved by its own uncertainty does to it. */
const shareSpread = (r: Results, s: Share, of?: MissKey): number => {
  const sampled = (s.high - s.low) / (2 * 1.96);
  const rules = ruleSpread(r.fit!, r.fit!.limits, r.fit!.people.n, of);
  return Math.sqrt(sampled * sampled + rules * rules);
};
const percent = (x: number): string => `${(100 * x).toFixed(1)} %`;
const interval = (s: Share): string => `95 % of such samples: ${percent(s.low)} to ${percent(s.high)}`;
const present = (s: Share, who: string): number | Absent =>
  Number.isFinite(s.share) ? s.share : absent(`no ${who} in the brief’s public`);

/** Who is left out, and what does it. */
const leftOut = (r: Results): string => {
  const { leftOut: out, misses } = r.fit!;
  if (!out) return 'nobody is left out';
  const most = misses
    .filter((m) => m.all.share > 0)
    .sort((a, b) => b.all.share - a.all.share)
    .slice(0, 3)
    .map((m) => `${percent(m.all.share)} ${m.words}`);
  return `left out on average ${out.stature.toFixed(2)} m, inseam ${(out.inseam * 1000).toFixed(0)} mm, ${out.mass.toFixed(0)} kg: ${most.join('; ')}`;
};

const share = (
  id: string,
  title: string,
  symbol: string,
  meaning: string,
  who: string,
  of: (r: Results) => Share,
): Family => ({
  id,
  title,
  symbol,
  unit: '%',
  meaning,
  tier: 'settle',
  needs: ['fit'],
  slots: single,
  read: (r) => present(of(r), who),
  steps: STEPS,
  source: SURVEY,
  standing: 'memory',
  valid: WHO,
  spread: (r) => shareSpread(r, of(r)),
  note: (r) => `${interval(of(r))}${id === 'fit.share' ? `; ${leftOut(r)}` : ''}`,
});

const missOf = (r: Results, key: string) => r.fit!.misses.find((m) => m.key === (key as MissKey))!;

/** What stands in the way, named at the rider who has least room. */
function culprit(r: Results, key: MissKey): string | undefined {
  const tight = r.fit!.tightest.find((t) => t.key === key);
  if (!tight) return undefined;
  const { shape, angle } = tight.nearest;
  const name = r.model.top.names.shapes[shape];
  if (name === undefined) return undefined;
  const turned = angle === 0 ? '' : `, bar turned ${(Math.abs(angle) * DEG).toFixed(0)}°`;
  return `least room of anybody beside ${name}${turned}`;
}

/** Share of riders whose knee comes nearer than `room` (m) to what turns with the bar, or to the frame. */
function nearerThan(r: Results, room: number): number {
  const { riders, people } = r.fit!;
  let near = 0;
  for (let i = 0; i < people.n; i++) if (riders[i * FIT_STRIDE + FIT.kneeGap]! < room) near++;
  return near / people.n;
}

const saddleRange = (r: Results, end: 'low' | 'high'): number => {
  const { crank, saddle, rise } = r.fit!.geometry;
  const x = saddle.x + saddle[end] * rise.x - crank.x;
  const z = saddle.z + saddle[end] * rise.z - crank.z;
  return Math.sqrt(x * x + z * z);
};
const saddle = (end: 'low' | 'high'): Family => ({
  id: `fit.saddle_${end}`,
  title: `${end === 'low' ? 'lowest' : 'highest'} saddle`,
  symbol: end === 'low' ? 's_min' : 's_max',
  unit: 'mm',
  meaning: `crank centre to saddle top with the post as ${end === 'low' ? 'low' : 'high'} as it may be`,
  tier: 'settle',
  needs: ['fit'],
  slots: single,
  read: (r) => saddleRange(r, end),
  formula: 'sqrt((x + t*u) * (x + t*u) + (z + t*w) * (z + t*w))',
  inputs: (r) => {
    const { crank, saddle: at, rise } = r.fit!.geometry;
    return [
      { symbol: 'x', meaning: 'saddle ahead of the crank as drawn', value: (at.x - crank.x) * 1000, unit: 'mm' },
      { symbol: 'z', meaning: 'saddle above the crank as drawn', value: (at.z - crank.z) * 1000, unit: 'mm' },
      { symbol: 't', meaning: 'way of the post', value: at[end] * 1000, unit: 'mm' },
      { symbol: 'u', meaning: 'its direction, ahead', value: rise.x, unit: '' },
      { symbol: 'w', meaning: 'its direction, up', value: rise.z, unit: '' },
    ];
  },
  source: 'geometry; least insertion of two post diameters: 16 CFR 1512.15',
  standing: 'published',
  valid: 'posts that slide along one line',
  spread: () => 0.003,
  note: (r) =>
    `an inseam of ${((saddleRange(r, end) * 1000) / SADDLE_RULE).toFixed(0)} mm by the rule${end === 'high' && r.fit!.marked ? '; the mark of least insertion limits it' : ''}`,
});

const knee = (place: 'bottom' | 'top'): Family => {
  const key = place === 'bottom' ? 'kneeBottom' : 'kneeTop';
  return {
    id: `fit.knee_${place}`,
    title: `knee flexion at the ${place} of the stroke, beside the reference`,
    symbol: 'd_phi',
    unit: 'deg',
    meaning: `mean knee flexion of the public with the crank in line at the ${place}, less that of the same riders on the reference bicycle`,
    tier: 'settle',
    needs: ['fit'],
    slots: single,
    read: (r) =>
      r.fit!.reference
        ? r.fit![key] - r.fit!.reference[key]
        : absent('the brief names no reference bicycle that one can sit on'),
    formula: 'phi - phi_r',
    inputs: (r) => [
      { symbol: 'phi', meaning: 'on this bicycle', value: r.fit![key] * DEG, unit: 'deg' },
      {
        symbol: 'phi_r',
        meaning: 'on the reference',
        value: (r.fit!.reference?.[key] ?? Number.NaN) * DEG,
        unit: 'deg',
      },
    ],
    source: 'planar leg linkage (Liu et al. 2011, Sci. China Tech. Sci. 54:3027)',
    standing: 'published',
    valid:
      'as a difference. Absolute flexion is uncertain by ±10° (hip above the saddle, heel, soles) and is never a miss by itself',
    spread: () => 2 / DEG,
    note: (r) => `absolute ${(r.fit![key] * DEG).toFixed(0)}° ± 10°`,
  };
};

export const FIT_FAMILIES: readonly Family[] = [
  share(
    'fit.share',
    'riders who fit',
    'p',
    'share of the brief’s public whom no limit leaves out',
    'riders',
    (r) => r.fit!.fits,
  ),
  share(
    'fit.share_women',
    'women who fit',
    'p_f',
    'share of the women whom no limit leaves out',
    'women',
    (r) => r.fit!.women,
  ),
  share('fit.share_men', 'men who fit', 'p_m', 'share of the men whom no limit leaves out', 'men', (r) => r.fit!.men),
  {
    id: 'fit.miss.{limit}',
    title: 'riders left out by one limit',
    symbol: 'p_i',
    unit: '%',
    meaning: 'share of the public that misses this limit, whatever else it misses',
    tier: 'settle',
    needs: ['fit'],
    slots: () => MISSES.map((m) => m.key),
    read: (r, slot) => missOf(r, slot).all.share,
    steps: STEPS,
    source: SURVEY,
    standing: 'memory',
    valid: WHO,
    spread: (r, slot) => shareSpread(r, missOf(r, slot).all, slot as MissKey),
    note: (r, slot) => {
      const m = missOf(r, slot);
      const where = culprit(r, m.key);
      const recalled = m.key === 'knee' ? `; with 50 mm of room, as recalled, ${percent(nearerThan(r, 0.05))}` : '';
      return `${m.words}; ${percent(m.only.share)} miss nothing else${recalled}${where ? `; ${where}` : ''}`;
    },
  },
  saddle('low'),
  saddle('high'),
  knee('bottom'),
  knee('top'),
  {
    id: 'fit.stand_over',
    title: 'height to stand over',
    symbol: 'h_o',
    unit: 'mm',
    meaning: 'lowest place of the frame between saddle and bar over which one can stand, and step',
    tier: 'settle',
    needs: ['fit'],
    slots: single,
    read: (r) =>
      Number.isFinite(r.fit!.geometry.over) ? r.fit!.geometry.over : absent('no room to stand between saddle and bar'),
    steps: [
      'Highest metal within a leg’s length (±60 mm) of a place, between the legs; the least over all places from saddle nose to bar.',
    ],
    source: 'our definition; at most 450 mm is easy for older riders, 350 mm comfortable (default, from memory)',
    standing: 'definition',
    valid: 'tubes, blocks and hardware as drawn; cables and bags are not in it',
    spread: () => 0.005,
  },
  {
    id: 'fit.toe_room',
    title: 'pedal to front wheel',
    symbol: 's_t',
    unit: 'mm',
    meaning: 'from the pedal’s middle straight ahead to tyre or guard, at the worst steering angle',
    tier: 'settle',
    needs: ['fit'],
    slots: single,
    read: (r) => {
      const { toe } = r.fit!;
      if (!toe) return absent('this candidate has no pedals');
      return Number.isFinite(toe.gap) ? toe.gap : absent('no steering angle brings the wheel before a pedal');
    },
    steps: [
      'The wheel as a flat cylinder of tyre and guard, turned about the steering axis; its rearmost point, at whatever height, in the pedal’s plane beside the bicycle; the least over the steering angles of the toe check.',
    ],
    source:
      '16 CFR 1512.17(d) asks for 89 mm without foot retention; ISO 4210-2 for 100 mm on city bicycles (from memory)',
    standing: 'published',
    valid: 'flat pedals, right or left crank forward',
    spread: () => 0.004,
    caution: 'A shoe that meets the turned front wheel can throw the rider.',
    note: (r) => (r.fit!.toe ? `at ${(Math.abs(r.fit!.toe.angle) * DEG).toFixed(0)}° of steering` : undefined),
  },
  {
    id: 'fit.lean',
    title: 'lean until a pedal touches',
    symbol: 'lambda',
    unit: 'deg',
    meaning: 'lean of the bicycle at which the lower pedal touches the ground',
    tier: 'settle',
    needs: ['fit'],
    slots: single,
    read: (r) => r.fit!.lean ?? absent('this candidate has no pedals'),
    formula: 'atan((h_b - l_c - e) / q)',
    inputs: (r) => {
      const { crank } = r.fit!.geometry;
      const p = r.fit!.pedal;
      return [
        { symbol: 'h_b', meaning: 'bottom bracket height', value: crank.z * 1000, unit: 'mm' },
        { symbol: 'l_c', meaning: 'crank length', value: crank.length * 1000, unit: 'mm' },
        { symbol: 'e', meaning: 'underside below the axle', value: (p?.below ?? Number.NaN) * 1000, unit: 'mm' },
        { symbol: 'q', meaning: 'outer edge from the mid-plane', value: (p?.edge ?? Number.NaN) * 1000, unit: 'mm' },
      ];
    },
    source: '16 CFR 1512.17(c): 25° at least; ISO 4210-2 the same for city bicycles (from memory)',
    standing: 'published',
    valid: 'thin tyres; a tyre’s own width adds about a degree',
    spread: () => 1 / DEG,
    caution: 'A pedal that strikes in a bend throws its rider.',
  },
  {
    id: 'fit.change_gain',
    title: 'riders that the best single change wins',
    symbol: 'd_p',
    unit: '%',
    meaning: 'net share of the public that the most useful of some small changes would add',
    tier: 'settle',
    needs: ['fit', 'fit_change'],
    slots: single,
    read: (r) => r.fitChange!.gains[0]!.won - r.fitChange!.gains[0]!.lost,
    steps: [
      'The same riders on bicycles that differ in one thing: post, grips, cranks, bottom bracket, frame beside the legs, rating.',
    ],
    source: 'our choice of changes; the riders as for fit.share',
    standing: 'definition',
    valid: 'one change at a time; whether tubes, package and fold allow it is not asked',
    spread: () => 0.02,
    note: (r) =>
      r
        .fitChange!.gains.filter((g) => g.won > g.lost)
        .slice(0, 3)
        .map((g) => `${g.words}: +${percent(g.won - g.lost)}`)
        .join('; ') || 'none of them wins anybody',
  },
];
