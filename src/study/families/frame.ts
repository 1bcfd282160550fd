/** Quantities of strength, stiffness and fatigue. */
import {
  CASE_IDS,
  CASES_CAUTION,
  type CaseId,
  type CaseResult,
  FATIGUE_CAUTION,
  frameCase,
  STIFFNESS_IDS,
  type StiffnessId,
} from '#kernel';
import type { Family, Input, SlotNames } from '../family.ts';
import { absent, single } from '../family.ts';
import type { Results } from '../results.ts';
import type { OpenedCase } from '../run/frame-settle.ts';
import { placeWords, pointWords } from '../run/frame-words.ts';

/** One standard deviation, as a share: beam models of welded frames against strain gauges; default, from memory. */
const STRESS_SPREAD = 0.15;
/** Stiffness of joints is guessed; default, from memory. */
const STIFFNESS_SPREAD = 0.2;
/** Range allowed against range borne, scatter of welds at one life; default, from memory. */
const FATIGUE_SPREAD = 0.25;

const idsOf = (kinds: readonly string[], posture = 'ride'): readonly CaseId[] =>
  CASE_IDS.filter((id) => {
    const c = frameCase(id);
    return kinds.includes(c.kind) && c.postures.some((p) => p === posture);
  });
export const LINEAR = idsOf(['service', 'test_static', 'test_fatigue']);
export const FATIGUE = idsOf(['test_fatigue']);
export const SERVICE = idsOf(['service']);
const SCREENING = idsOf(['screening']);

const FRAME_VALID =
  'beams with rigid blocks, welded walls that give, closed joints; no local stress but at welds: expect ± 15 % on a tube, more beside lugs';
const caseOf = (r: Results, id: string): CaseResult | undefined => r.frame!.cases.get(id as CaseId);
const whyNot = (r: Results, id: string) => absent(r.frame!.left.get(id as CaseId) ?? 'this case does not apply');

const useInputs = (r: Results, id: string): readonly Input[] => {
  const c = caseOf(r, id)!;
  const p = r.frame!.points.points[c.worst.point]!;
  const breaking = c.loads.fracture?.includes(c.worst.state) ?? false;
  return [
    {
      symbol: 'sigma',
      meaning: `stress (von Mises) in ${pointWords(r.frame!, c.worst.point)}`,
      value: c.worst.stress,
      unit: 'MPa',
    },
    {
      symbol: 'f',
      meaning: `${breaking ? 'ultimate' : 'yield'} strength there${p.haz ? ', in the heat-affected zone' : ''}`,
      value: breaking ? p.ultimate : p.strength,
      unit: 'MPa',
    },
  ];
};

/** The case that uses most among some. */
export function worstOf(r: Results, ids: readonly CaseId[]): CaseId | undefined {
  let worst: CaseId | undefined;
  for (const id of ids) {
    const c = caseOf(r, id);
    if (c && (!worst || c.worst.use > caseOf(r, worst)!.worst.use)) worst = id;
  }
  return worst;
}
/** The service case that uses most with its joints as they open. */
function worstOpened(r: Results) {
  let worst: ({ readonly id: CaseId } & OpenedCase) | undefined;
  for (const [id, c] of r.framePlay!.opened) if (!worst || c.use > worst.use) worst = { id, ...c };
  return worst;
}
export function leastReserve(r: Results): CaseId | undefined {
  let worst: CaseId | undefined;
  for (const id of FATIGUE) {
    const f = caseOf(r, id)?.fatigue;
    if (f && f.point >= 0 && (!worst || f.reserve < caseOf(r, worst)!.fatigue!.reserve)) worst = id;
  }
  return worst;
}
const useNote = (r: Results, id: string): string => {
  const c = caseOf(r, id)!;
  return `${c.loads.labels[c.worst.state] ?? ''}: ${pointWords(r.frame!, c.worst.point)}`;
};
const reserveNote = (r: Results, id: string): string => {
  const f = caseOf(r, id)!.fatigue!;
  const p = r.frame!.points.points[f.point]!;
  return `${f.label}: ${pointWords(r.frame!, f.point)}, ${p.detail!.name}`;
};

const overall = (id: string, title: string, ids: readonly CaseId[], meaning: string): Family => ({
  id,
  title,
  symbol: 'u',
  unit: '',
  meaning,
  tier: 'drag',
  needs: ['frame'],
  slots: single,
  read: (r) => {
    const worst = worstOf(r, ids);
    return worst ? caseOf(r, worst)!.worst.use : absent('no such case applies to this bicycle');
  },
  steps: ['The greatest of frame.{case}.worst_use over these cases.', ids.join(', ')],
  source: 'load cases: docs/methods/frame-loads.md',
  standing: 'memory',
  valid: FRAME_VALID,
  spread: (r) => {
    const worst = worstOf(r, ids);
    return worst ? STRESS_SPREAD * caseOf(r, worst)!.worst.use : 0;
  },
  caution: CASES_CAUTION,
  note: (r) => {
    const worst = worstOf(r, ids);
    return worst && `${frameCase(worst).title.toLowerCase()}: ${useNote(r, worst)}`;
  },
});

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

/** The lock that is nearest to opening after the most folds of usual wear. */
function worstWorn(r: Results): { joint: string; margin: number; preloadLeft: number } | undefined {
  let worst: { joint: string; margin: number; preloadLeft: number } | undefined;
  for (const lock of r.frameJoints!.ages) {
    const last = lock.usual.at(-1)!;
    if (Number.isFinite(last.margin) && (!worst || last.margin < worst.margin))
      worst = { joint: lock.joint, margin: last.margin, preloadLeft: last.preloadLeft };
  }
  return worst;
}

/** What a reserve below 1 says, and what it does not. */
const belowOne = (reserve: number | undefined): string | undefined =>
  reserve !== undefined && reserve < 1
    ? 'below 1: by the curve of its code this weld would crack before the end; walls this thin were never tested for the codes, so a fatigue test of the frame has to tell'
    : undefined;

/** A step or a kerb may open a face for a moment. */
const blowWords = (margin: number): string =>
  margin < 1 ? `; a blow opens it for a moment (margin ${margin.toFixed(2)})` : '';

/** What is left of a lock after 5,000 and 20,000 folds. */
function ageWords(r: Results, joint: string): string | undefined {
  const lock = r.frameJoints!.ages.find((a) => a.joint === joint);
  if (!lock) return undefined;
  return lock.usual
    .filter((a) => a.folds > 0 && Number.isFinite(a.preloadLeft))
    .map(
      (a) =>
        `after ${a.folds} folds ${(100 * a.preloadLeft).toFixed(0)} % of the preload${Number.isFinite(a.margin) ? `, margin ${a.margin.toFixed(2)}` : ''}`,
    )
    .join('; ');
}

const names =
  (ids: readonly string[]) =>
  (_: SlotNames): readonly string[] =>
    ids;

export const FRAME_FAMILIES: readonly Family[] = [
  overall(
    'frame.service_use',
    'use of strength in service',
    SERVICE,
    'greatest stress over yield strength of all service cases, heaviest rider and luggage',
  ),
  overall(
    'frame.test_use',
    'use of strength in tests',
    LINEAR.filter((id) => !SERVICE.includes(id)),
    'greatest stress over strength of all standard tests run as beam models',
  ),
  {
    id: 'frame.least_reserve',
    title: 'least fatigue reserve',
    symbol: 'R',
    unit: '',
    meaning: 'least of allowed over computed stress range of all fatigue tests: ranks designs',
    tier: 'drag',
    needs: ['frame'],
    slots: single,
    read: (r) => {
      const id = leastReserve(r);
      return id ? caseOf(r, id)!.fatigue!.reserve : absent('no fatigue test applies to this bicycle');
    },
    steps: ['The least of frame.{case}.fatigue_reserve over these tests.', FATIGUE.join(', ')],
    source: 'detail categories of IIW-1823-07, EN 1993-1-9, EN 1999-1-3, mostly from memory',
    standing: 'memory',
    valid: 'walls under 3–4 mm lie below the test base of the codes: a rank, no forecast',
    outside: (r) => {
      const id = leastReserve(r);
      return belowOne(id && caseOf(r, id)!.fatigue!.reserve);
    },
    spread: (r) => {
      const id = leastReserve(r);
      return id ? FATIGUE_SPREAD * caseOf(r, id)!.fatigue!.reserve : 0;
    },
    caution: FATIGUE_CAUTION,
    note: (r) => {
      const id = leastReserve(r);
      return id && `${frameCase(id).title.toLowerCase()}: ${reserveNote(r, id)}`;
    },
  },
  {
    id: 'frame.{case}.worst_use',
    title: 'use of strength',
    symbol: 'u',
    unit: '',
    meaning: 'stress over strength at the worst place under one load case',
    tier: 'drag',
    needs: ['frame'],
    slots: names(LINEAR),
    read: (r, id) => caseOf(r, id)?.worst.use ?? whyNot(r, id),
    formula: 'sigma / f',
    inputs: useInputs,
    source: 'load case: docs/methods/frame-loads.md; stresses: beam theory, von Mises',
    standing: 'memory',
    valid: FRAME_VALID,
    spread: (r, id) => STRESS_SPREAD * (caseOf(r, id)?.worst.use ?? 0),
    caution: CASES_CAUTION,
    note: (r, id) => (caseOf(r, id) ? useNote(r, id) : undefined),
  },
  {
    id: 'frame.{case}.fatigue_reserve',
    title: 'fatigue reserve',
    symbol: 'R',
    unit: '',
    meaning: 'range that the worst detail allows at the cycles of the test, over the computed range: a rank',
    tier: 'drag',
    needs: ['frame'],
    slots: names(FATIGUE),
    read: (r, id) => {
      const f = caseOf(r, id)?.fatigue;
      if (!f) return whyNot(r, id);
      return f.point < 0 ? absent('no detail with a fatigue curve is stressed') : f.reserve;
    },
    formula: 'dsigma_a / dsigma',
    inputs: (r, id) => {
      const f = caseOf(r, id)!.fatigue!;
      const p = r.frame!.points.points[f.point]!;
      return [
        {
          symbol: 'dsigma_a',
          meaning: `range allowed at ${f.cycles} cycles by ${p.detail!.curve.code} category ${p.detail!.curve.category}`,
          value: f.allowed,
          unit: 'MPa',
        },
        {
          symbol: 'dsigma',
          meaning: `${p.detail!.stress} stress range in ${pointWords(r.frame!, f.point)}`,
          value: f.range,
          unit: 'MPa',
        },
      ];
    },
    source: 'detail categories of IIW-1823-07, EN 1993-1-9, EN 1999-1-3, mostly from memory',
    standing: 'memory',
    valid: 'walls under 3–4 mm lie below the test base of the codes: a rank, no forecast',
    outside: (r, id) => belowOne(caseOf(r, id)?.fatigue?.reserve),
    spread: (r, id) => FATIGUE_SPREAD * (caseOf(r, id)?.fatigue?.reserve ?? 0),
    caution: FATIGUE_CAUTION,
    note: (r, id) => ((caseOf(r, id)?.fatigue?.point ?? -1) >= 0 ? reserveNote(r, id) : undefined),
  },
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
  {
    id: 'frame.least_opening',
    title: 'least margin of a joint against opening',
    symbol: 'm_o',
    unit: '',
    meaning: 'least of the margins of all joints whose face can open, in riding: seated, pedalling, starting, braking',
    tier: 'settle',
    needs: ['frame', 'frame_joints'],
    slots: single,
    read: (r) => r.frameJoints!.openings[0]?.margin ?? absent('no joint of this bicycle has a face that can open'),
    steps: ['The least of frame.opening.{joint}: what opens it over what riding asks of it.'],
    source: 'preload × arm of the face, docs/methods/frame-joints.md',
    standing: 'definition',
    valid:
      'linear model with closed joints; below 1 the face opens, its stiffness drops and its pin and latch carry all',
    spread: (r) => 0.3 * (r.frameJoints!.openings[0]?.margin ?? 0),
    caution: 'A latch that opens in use throws its rider. Preload falls with wear: see the ages of the joint.',
    note: (r) => {
      const o = r.frameJoints!.openings[0];
      return o && `${o.joint}: ${frameCase(o.frameCase).title.toLowerCase()}, ${o.state}${blowWords(o.blowMargin)}`;
    },
  },
  {
    id: 'frame.worn_opening',
    title: 'least margin of a joint against opening, worn',
    symbol: 'm_w',
    unit: '',
    meaning: 'the same after 20,000 folds of usual wear, never adjusted',
    tier: 'settle',
    needs: ['frame', 'frame_joints'],
    slots: single,
    read: (r) => worstWorn(r)?.margin ?? absent('no lock whose face can open has wear data'),
    steps: [
      'Preload after 20,000 folds by the wear model of the joint shelf, times the arm, over what riding asks of the face.',
    ],
    source: 'Archard wear, coefficients from memory: docs/methods/frame-joints.md',
    standing: 'memory',
    valid: 'usual wear; hard use can take all of a preload: see the locks of the candidate’s sheet',
    spread: (r) => 0.4 * (worstWorn(r)?.margin ?? 0),
    caution: 'A latch that opens in use throws its rider. Adjust and replace locks by a schedule that tests give.',
    note: (r) => {
      const worn = worstWorn(r);
      return worn && `${worn.joint}: ${(100 * worn.preloadLeft).toFixed(0)} % of its preload left`;
    },
  },
  {
    id: 'frame.opening.{joint}',
    title: 'margin of a joint against opening',
    symbol: 'm_o',
    unit: '',
    meaning:
      'force or moment that opens the joint over the greatest that riding asks of it: seated, pedalling, starting, braking',
    tier: 'settle',
    needs: ['frame', 'frame_joints'],
    slots: (n) => n.joints,
    read: (r, joint) =>
      r.frameJoints!.openings.find((o) => o.joint === joint)?.margin ??
      absent(`nothing opens ${joint}: it has no preload, no face that opens, or no load that pulls at it`),
    formula: 'M_o / M',
    inputs: (r, joint) => {
      const o = r.frameJoints!.openings.find((x) => x.joint === joint)!;
      const unit = o.component > 2 ? 'N.m' : 'N';
      const k = o.component > 2 ? 1e-3 : 1;
      return [
        { symbol: 'M_o', meaning: 'what opens it, from preload and arm', value: o.opensAt * k, unit },
        { symbol: 'M', meaning: `what ${o.frameCase} asks, ${o.state}`, value: o.asked * k, unit },
      ];
    },
    source: 'preload × arm of the face, docs/methods/frame-joints.md',
    standing: 'definition',
    valid:
      'linear model with closed joints; below 1 the face opens, its stiffness drops and its pin and latch carry all',
    spread: (r, joint) => 0.3 * (r.frameJoints!.openings.find((o) => o.joint === joint)?.margin ?? 0),
    caution: 'A latch that opens in use throws its rider. Preload falls with wear: see the ages of the joint.',
    note: (r, joint) => {
      const o = r.frameJoints!.openings.find((x) => x.joint === joint);
      return (
        [o ? blowWords(o.blowMargin).slice(2) : '', ageWords(r, joint) ?? ''].filter((t) => t !== '').join('; ') ||
        undefined
      );
    },
  },
  {
    id: 'frame.lost_motion.{place}',
    title: 'lost motion',
    symbol: 'd_0',
    unit: 'mm',
    meaning: 'free way that a hand feels before anything bends, locks as they are',
    tier: 'settle',
    needs: ['frame', 'frame_play'],
    slots: names(['grips', 'wheel']),
    read: (r, place) => {
      const l = r.framePlay!.looseness[place as 'grips' | 'wheel'];
      return l ? l.lostNow * 1e-3 : absent('the bicycle lacks the place');
    },
    steps: ['A vanishing force one way and the other; the way between is play that no preload takes up.'],
    source: 'tri-linear joints, docs/methods/frame-joints.md',
    standing: 'definition',
    valid: 'play of the joints as given; bearings of wheels and steerer without play',
    spread: () => 0.0002,
    note: (r, place) => {
      const l = r.framePlay!.looseness[place as 'grips' | 'wheel'];
      return (
        l &&
        `${(l.lostSlack).toFixed(2)} mm once every preload is gone; closed ${l.closed.toFixed(1)} mm, open ${l.open.toFixed(1)} and ${l.openBack.toFixed(1)} mm under the test force`
      );
    },
  },
  {
    id: 'frame.open_use',
    title: 'use of strength in service, joints as they open',
    symbol: 'u_o',
    unit: '',
    meaning: 'greatest stress over yield strength of all service cases with faces that open and pins that rattle',
    tier: 'settle',
    needs: ['frame', 'frame_play'],
    slots: single,
    read: (r) => worstOpened(r)?.use ?? absent('no service case applies to this bicycle'),
    steps: [
      'As frame.service_use, with one-sided joints: Newton steps on the straight branches of their laws until none changes.',
    ],
    source: 'docs/methods/frame-joints.md',
    standing: 'definition',
    valid: FRAME_VALID,
    spread: (r) => STRESS_SPREAD * (worstOpened(r)?.use ?? 0),
    caution: CASES_CAUTION,
    note: (r) => {
      const w = worstOpened(r);
      if (!w) return undefined;
      const open = w.open.length > 0 ? `${w.open.join(', ')} open` : 'all faces stay shut';
      return `${frameCase(w.id).title.toLowerCase()}: ${pointWords(r.frame!, w.point)}; ${open}`;
    },
  },
  {
    id: 'frame.buckling',
    title: 'least buckling factor',
    symbol: 'λ',
    unit: '',
    meaning: 'multiple of the worst load at which the frame would buckle elastically',
    tier: 'settle',
    needs: ['frame', 'frame_buckling'],
    slots: single,
    read: (r) => r.frameBuckling!.factor,
    steps: [
      'Linear solution, geometric stiffness of the compressed members, least factor at which the stiffness becomes singular (inertia counts prove that none was missed).',
      'For every service case and test, at its worst state.',
    ],
    source: 'Przemieniecki 1968, ch. 15',
    standing: 'published',
    valid: 'elastic, straight members, global: the wall of a thin tube buckles by its own rule (calc tube-buckling)',
    spread: (r) => 0.1 * r.frameBuckling!.factor,
    note: (r) => {
      const b = r.frameBuckling!;
      const member = b.member >= 0 ? placeWords(r.frame!.model.built.structure.members[b.member]!.name) : '';
      return `${frameCase(b.frameCase).title.toLowerCase()}, ${b.state}${member ? `: ${member}` : ''}`;
    },
  },
  {
    id: 'frame.use_reserve',
    title: 'reserve over a life of use',
    symbol: 'R_u',
    unit: '',
    meaning:
      "multiple of all stress ranges of a user's life at which Miner's sum reaches failure at the worst detail: a rank",
    tier: 'settle',
    needs: ['frame', 'frame_use'],
    slots: single,
    read: (r) => r.frameUse!.worst?.reserve ?? absent('no detail with a fatigue curve is stressed'),
    steps: [
      'Every event of the spectrum as a load case with its own figures; ranges at every detail, counts over the distance of a life.',
      'Palmgren–Miner with the last slope carried on; failure at 0.5 (IIW, spectra) or 1 (EN).',
      'The factor on all ranges at which the sum reaches failure, at the detail where it is least.',
    ],
    source: 'spectrum: default, from memory; IIW-1823-07, EN 1999-1-3',
    standing: 'memory',
    valid: 'the heaviest rider all his life; walls below the test base of the codes: a rank, no forecast',
    outside: (r) => belowOne(r.frameUse!.worst?.reserve),
    spread: (r) => FATIGUE_SPREAD * (r.frameUse!.worst?.reserve ?? 0),
    caution: FATIGUE_CAUTION,
    note: (r) => {
      const w = r.frameUse!.worst;
      if (!w) return undefined;
      const first = [...w.parts].sort((a, b) => b.share - a.share)[0]!;
      return `${r.frameUse!.distance_km} km: ${pointWords(r.frame!, w.point)}, ${w.detail.name}; Miner's sum ${Number(w.damage.toPrecision(2))}, ${(100 * first.share).toFixed(0)} % of it by ${first.case}`;
    },
  },
  {
    id: 'frame.{case}.set',
    title: 'permanent set after a blow',
    symbol: 's',
    unit: 'mm',
    meaning: 'greatest set of an energy balance with one plastic hinge: screening only, not for demands',
    tier: 'settle',
    needs: ['frame', 'frame_blows'],
    slots: names(SCREENING),
    read: (r, id) => {
      const b = r.frameBlows!.get(id as CaseId);
      return b ? b.set[1] * 1e-3 : whyNot(r, id);
    },
    steps: [
      'Elastic energy up to first yield, then one hinge at the worst place; least set with the plastic moment, greatest with the yield moment.',
    ],
    source: 'elastic–perfectly plastic energy balance (Baker & Heyman 1969)',
    standing: 'memory',
    valid: 'a screening estimate: one hinge, no rate effect, the mass of the frame at rest',
    spread: (r, id) => {
      const b = r.frameBlows!.get(id as CaseId);
      return b ? Math.max((b.set[1] - b.set[0]) * 1e-3, 0.3 * b.set[1] * 1e-3) : 0;
    },
    caution: CASES_CAUTION,
    note: (r, id) => {
      const b = r.frameBlows!.get(id as CaseId);
      return (
        b &&
        `${b.set[0].toFixed(0)} to ${b.set[1].toFixed(0)} mm${Number.isNaN(b.limit) ? '' : `; the test allows ${b.limit} mm`}`
      );
    },
  },
  {
    id: 'frame.folded_seat.use',
    title: 'folded: somebody sits on it',
    symbol: 'u',
    unit: '',
    meaning: 'stress over strength at the worst place of the folded bicycle with the heaviest rider sitting on it',
    tier: 'settle',
    needs: ['frame', 'frame_folded'],
    slots: single,
    read: (r) => r.frameFolded!.result.worst.use,
    steps: ['The package as it stands on its feet, joints as the procedure leaves them, what holds it as springs.'],
    source: 'docs/methods/frame-loads.md',
    standing: 'memory',
    valid: FRAME_VALID,
    spread: (r) => 0.25 * r.frameFolded!.result.worst.use,
    caution: CASES_CAUTION,
    note: (r) => {
      const f = r.frameFolded!;
      const p = f.points.points[f.result.worst.point];
      return p && placeWords(f.model.bearing.tubes[p.tube]!.name);
    },
  },
];

/** Under this frequency the frame's own mode lies among those at which shimmy is observed, Hz; from memory. */
const WOBBLE_BAND = 10;
