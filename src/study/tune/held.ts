/**
 * What sizing holds: the brief's demands on the frame, and how they bear on each tube.
 *
 * A demand's use of its room is value over limit (at most) or limit over value (at least): 1 at the limit, in both senses what
 * a stress ratio is.
 */
import { type CaseId, STIFFNESS_IDS, type StiffnessId } from '#kernel';
import type { ResolvedCandidate } from '#project';
import { findQuantity, type Quantity } from '../catalogue.ts';
import { namesFor } from '../evaluate.ts';
import { leastReserve, worstOf } from '../families/frame.ts';
import { FATIGUE, LINEAR, SERVICE } from '../families/frame-shared.ts';
import { unitFactor } from '../judge.ts';
import type { Results } from '../results.ts';
import type { FrameResult } from '../run/frame.ts';
import type { Workspace } from '../workspace.ts';

export interface Held {
  readonly quantity: Quantity;
  readonly sense: 'at_most' | 'at_least';
  /** In the quantity's unit. */
  readonly limit: number;
  readonly because: string;
}

/** Held where the brief demands nothing of the frame. */
const USUAL: readonly (readonly [string, string])[] = [
  ['frame.service_use', 'nothing may yield in use'],
  ['frame.test_use', 'nothing may yield in the standard tests'],
];

/** Demands of the brief on the frame; where it has none, strength in service and in tests (`usual`). */
export function heldOf(w: Workspace, candidate: ResolvedCandidate): { held: readonly Held[]; usual: boolean } {
  const names = namesFor(candidate, w.setting);
  const held: Held[] = [];
  for (const d of w.brief.demands) {
    if (!d.quantity.startsWith('frame.')) continue;
    const found = findQuantity(d.quantity, names);
    if (!('quantity' in found)) continue;
    const factor = unitFactor(found.quantity.family.unit);
    for (const [sense, given] of [['at_most', d.atMost] as const, ['at_least', d.atLeast] as const])
      if (given) held.push({ quantity: found.quantity, sense, limit: given.value / factor, because: d.because });
  }
  if (held.length > 0) return { held, usual: false };
  return {
    held: USUAL.map(([id, because]) => {
      const found = findQuantity(id, names);
      if (!('quantity' in found)) throw new Error(`the catalogue has no ${id}`);
      return { quantity: found.quantity, sense: 'at_most', limit: 1, because };
    }),
    usual: true,
  };
}

/** A limit below it is as good as 0. */
const SMALL = 1e-9;

/** 1 at the limit, more where it is missed; NaN stays NaN. A limit of 0 or less has no ratio: then the difference counts. */
export function useOf({ sense, limit }: Pick<Held, 'sense' | 'limit'>, value: number): number {
  if (sense === 'at_most') return limit > SMALL ? value / limit : 1 + value - limit;
  return limit > SMALL ? limit / Math.max(value, SMALL) : 1 + limit - value;
}

/** What a demand asks of one tube's strength, as a factor on what it has; 0 where it asks nothing that stresses tell. */
export function askedOf({ quantity, limit }: Held, frame: FrameResult, tube: number): number {
  const { id } = quantity;
  const uses = (cases: readonly CaseId[]): number =>
    Math.max(0, ...cases.map((c) => (frame.cases.get(c)?.useOfTube[tube] ?? 0) / limit));
  const reserves = (cases: readonly CaseId[]): number =>
    Math.max(0, ...cases.map((c) => limit / (frame.cases.get(c)?.reserveOfTube?.[tube] ?? Number.POSITIVE_INFINITY)));
  if (id === 'frame.service_use') return uses(SERVICE);
  if (id === 'frame.test_use') return uses(LINEAR.filter((c) => !SERVICE.includes(c)));
  if (id === 'frame.least_reserve') return reserves(FATIGUE);
  const [, one, what] = /^frame\.(\w+)\.(worst_use|fatigue_reserve)$/.exec(id) ?? [];
  if (one === undefined) return 0;
  return what === 'worst_use' ? uses([one as CaseId]) : reserves([one as CaseId]);
}

/** The case and the tube of the beam model that decide a quantity; undefined where no one tube does. */
export function decidedBy(id: string, results: Results): { frameCase: CaseId; tube: number } | undefined {
  const { frame } = results;
  if (!frame) return undefined;
  const at = (frameCase: CaseId | undefined, fatigue: boolean) => {
    const c = frameCase && frame.cases.get(frameCase);
    const point = c && frame.points.points[fatigue ? (c.fatigue?.point ?? -1) : c.worst.point];
    return point && { frameCase: frameCase!, tube: point.tube };
  };
  if (id === 'frame.service_use') return at(worstOf(results, SERVICE), false);
  if (id === 'frame.test_use') {
    const tests = LINEAR.filter((c) => !SERVICE.includes(c));
    return at(worstOf(results, tests), false);
  }
  if (id === 'frame.least_reserve') return at(leastReserve(results), true);
  const [, one, what] = /^frame\.(\w+)\.(worst_use|fatigue_reserve)$/.exec(id) ?? [];
  return one === undefined ? undefined : at(one as CaseId, what === 'fatigue_reserve');
}

/** The stiffness measurement that a quantity is; undefined for others. */
export const stiffnessIn = (id: string): StiffnessId | undefined => STIFFNESS_IDS.find((s) => id === `frame.${s}`);
