/** Quantities of strength and fatigue, drag tier. */
import { CASES_CAUTION, type CaseId, FATIGUE_CAUTION, frameCase } from '#kernel';
import { absent, type Family, type Input, single } from '../family.ts';
import type { Results } from '../results.ts';
import { pointWords } from '../run/frame-words.ts';
import {
  belowOne,
  caseOf,
  FATIGUE,
  FATIGUE_SPREAD,
  FRAME_VALID,
  LINEAR,
  names,
  SERVICE,
  STRESS_SPREAD,
  whyNot,
} from './frame-shared.ts';

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
];
