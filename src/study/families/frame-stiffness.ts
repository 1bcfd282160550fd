/** Quantities of stiffness, drag tier, and the screen for a soft front end. */
import { STIFFNESS_IDS, type StiffnessId } from '#kernel';
import { absent, type Family, single } from '../family.ts';
import type { Results } from '../results.ts';
import { placeWords } from '../run/frame-words.ts';
import { STIFFNESS_SPREAD } from './frame-shared.ts';

const STIFFNESS_WORDS: Readonly<Record<StiffnessId, { title: string; meaning: string; turns: boolean }>> = {
  bb_lateral: {
    title: 'bottom bracket, sideways',
    meaning: 'sideways force at the bottom bracket over its motion; axles held, bar straight',
    turns: false,
  },
  bb_pedal: {
    title: 'bottom bracket under a pedal',
    meaning: 'force on one pedal over the sideways motion of the bottom bracket; axles held, bar straight',
    turns: false,
  },
  head_torsion: {
    title: 'head tube, torsion',
    meaning: 'torque along the bicycle on the head tube over its turn; rear axle clamped',
    turns: true,
  },
  bar_fore_aft: {
    title: 'bar, fore and aft',
    meaning: 'force at both grips over their forward motion; head tube clamped',
    turns: false,
  },
  bar_twist: {
    title: 'bar, twist',
    meaning: 'opposite forces at the grips: their couple over the turn of the bar; head tube clamped',
    turns: true,
  },
  saddle_vertical: {
    title: 'saddle, up and down',
    meaning: 'load on the saddle over its motion; axles held, no tyres',
    turns: false,
  },
  front_lateral: {
    title: 'front wheel, sideways',
    meaning: 'sideways force where the front tyre touches over the motion there; rear axle clamped, wheel rigid',
    turns: false,
  },
};

const stiffness = (id: StiffnessId): Family => {
  const { title, meaning, turns } = STIFFNESS_WORDS[id];
  const of = (r: Results) => r.stiffness!.get(id);
  return {
    id: `frame.${id}`,
    title: `stiffness: ${title}`,
    symbol: turns ? 'k_t' : 'k',
    unit: turns ? 'N.m/deg' : 'N/mm',
    meaning,
    tier: 'drag',
    needs: ['frame', 'stiffness'],
    slots: single,
    read: (r) => {
      const s = of(r);
      return s ? s.value * (turns ? 1e-3 : 1e3) : absent('the bicycle lacks a place that this measurement needs');
    },
    steps: [
      'Beam model with the supports of the measurement; force over motion in the direction of the force.',
      "Each part's share by unit-load virtual work; the shares sum to the motion.",
    ],
    source: 'definition of docs/methods/frame-model.md, after bench practice (no source)',
    standing: 'practice',
    valid: 'joints closed; rigs differ: compare bicycles by one definition only',
    spread: (r) => STIFFNESS_SPREAD * (of(r)?.value ?? 0) * (turns ? 1e-3 : 1e3),
    note: (r) => shareWords(r, id),
  };
};
/** Softest joint and the three parts that give most. */
function shareWords(r: Results, id: StiffnessId): string | undefined {
  const s = r.stiffness!.get(id);
  if (!s) return undefined;
  const { total, parts } = s.shares;
  const first = [...parts].sort((a, b) => b.value - a.value).slice(0, 3);
  const percent = (x: number): string => `${(100 * x).toFixed(0)} %`;
  const most = first.map((p) => `${placeWords(p.name)} ${percent(p.value / total)}`).join(', ');
  return s.softest
    ? `gives most: ${most}; softest joint ${s.softest.name}, ${percent(s.softest.share)}`
    : `gives most: ${most}`;
}

/** Under this frequency the frame's own mode lies among those at which shimmy is observed, Hz; from memory. */
const WOBBLE_BAND = 10;

export const FRAME_STIFFNESS_FAMILIES: readonly Family[] = [
  ...STIFFNESS_IDS.map(stiffness),
  {
    id: 'frame.wobble',
    title: 'front-end frequency',
    symbol: 'f_w',
    unit: '1/s',
    meaning:
      'lower of two frequencies of the steered parts on the frame: in torsion at the head, and sideways at the tyre',
    tier: 'drag',
    needs: ['frame', 'stiffness'],
    slots: single,
    read: (r) => r.wobble?.frequency ?? absent('the head tube, the steerer or the front wheel was not found'),
    formula: 'sqrt(k / I) / 6.283185307179586',
    inputs: (r) => [
      {
        symbol: 'k',
        meaning: `stiffness, ${r.wobble!.mode}`,
        value: r.wobble!.k,
        unit: r.wobble!.mode === 'torsion' ? 'N.m/rad' : 'N/m',
      },
      {
        symbol: 'I',
        meaning: 'what it carries',
        value: r.wobble!.inertia,
        unit: r.wobble!.mode === 'torsion' ? 'kg.m2' : 'kg',
      },
    ],
    source:
      'own screening; shimmy is seen at 4–10 Hz (from memory, Plöchl, Edelmann, Angrosch, Ott 2012, Vehicle System Dynamics 50 Suppl.)',
    standing: 'definition',
    valid: 'a caution, no forecast: tyres, rider and speed decide whether a bicycle wobbles',
    outside: (r) =>
      r.wobble && r.wobble.frequency < WOBBLE_BAND ? 'the frame’s own motion lies where shimmy is seen' : undefined,
    spread: (r) => 0.15 * (r.wobble?.frequency ?? 0),
    caution: 'A soft front end lets a bicycle shake at speed with hands off the bar. Try it with care, slowly first.',
  },
];
