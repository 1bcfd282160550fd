/** What the frame's families share: sets of cases, spreads, words for what a figure is worth. */
import { CASE_IDS, type CaseId, type CaseResult, frameCase } from '#kernel';
import { absent, type SlotNames } from '../family.ts';
import type { Results } from '../results.ts';

/** One standard deviation, as a share: beam models of welded frames against strain gauges; default, from memory. */
export const STRESS_SPREAD = 0.15;
/** Stiffness of joints is guessed; default, from memory. */
export const STIFFNESS_SPREAD = 0.2;
/** Range allowed against range borne, scatter of welds at one life; default, from memory. */
export const FATIGUE_SPREAD = 0.25;

const idsOf = (kinds: readonly string[], posture = 'ride'): readonly CaseId[] =>
  CASE_IDS.filter((id) => {
    const c = frameCase(id);
    return kinds.includes(c.kind) && c.postures.some((p) => p === posture);
  });
export const LINEAR = idsOf(['service', 'test_static', 'test_fatigue']);
export const FATIGUE = idsOf(['test_fatigue']);
export const SERVICE = idsOf(['service']);
export const SCREENING = idsOf(['screening']);

export const FRAME_VALID =
  'beams with rigid blocks, welded walls that give, closed joints; no local stress but at welds: expect ± 15 % on a tube, more beside lugs';
export const caseOf = (r: Results, id: string): CaseResult | undefined => r.frame!.cases.get(id as CaseId);
export const whyNot = (r: Results, id: string) => absent(r.frame!.left.get(id as CaseId) ?? 'this case does not apply');

/** What a reserve below 1 says, and what it does not. */
export const belowOne = (reserve: number | undefined): string | undefined =>
  reserve !== undefined && reserve < 1
    ? 'below 1: by the curve of its code this weld would crack before the end; walls this thin were never tested for the codes, so a fatigue test of the frame has to tell'
    : undefined;

export const names =
  (ids: readonly string[]) =>
  (_: SlotNames): readonly string[] =>
    ids;
