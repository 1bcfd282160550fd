/**
 * A candidate's locks as mechanisms: what the hand needs to close and to reopen each, what it clamps with, from one model.
 *
 * A joint that names a principle of the shelf has its mechanism (with the file's lever, preload and hand force in it); one that
 * gives only a hand force has that; one without hand actions is a detent, which the hand or foot that moves the part overcomes.
 */
import { closeLatch, type ForceKind, HELD, KIND, type LatchFigures, type LatchMechanism, type State } from '#kernel';
import { findPrinciple, type JointPrinciple, type ResolvedCandidate } from '#project';

export interface Latch {
  readonly joint: number;
  /** `clamp` and `latch` as the file says; a detent is moved through. */
  readonly kind: 'mechanism' | 'given' | 'detent' | 'unknown';
  readonly principle: JointPrinciple | undefined;
  readonly mechanism: LatchMechanism | undefined;
  /** N, mm; undefined where the shelf has no mechanism for it. */
  readonly figures: LatchFigures | undefined;
  /** Hand force to close and to reopen, N; NaN where nothing is known. */
  readonly close: number;
  readonly reopen: number;
  /** N; NaN where the file and the shelf give none. */
  readonly preload: number;
  readonly actions: number;
  /** Which strength it asks for. */
  readonly strength: ForceKind;
}

/** Joints that a lock keeps while riding, in joint order; a steerer and cranks have none. `s` must be filled. */
export function latchesOf(candidate: ResolvedCandidate, s: State): readonly Latch[] {
  const { top } = candidate.model;
  return candidate.hardware.flatMap((_, joint) => {
    const held = top.held[joint]!;
    return (held === HELD.latch || held === HELD.clamp) && top.kind[joint] !== KIND.steerer
      ? [latchOf(candidate, s, joint)]
      : [];
  });
}

function latchOf(candidate: ResolvedCandidate, s: State, joint: number): Latch {
  const h = candidate.hardware[joint]!;
  const at = (slot: number): number => (slot < 0 ? Number.NaN : s.value[slot]!);
  const principle = h.principle === '' ? undefined : findPrinciple(h.principle);
  const given = at(h.handForce);
  const preload = at(h.preload);
  const base = { joint, principle, preload, actions: h.actions };
  const mechanism =
    principle?.mechanism && h.lever >= 0 ? principle.mechanism(1e3 * at(h.lever), at(h.stack) / 1e3) : undefined;
  const figures = mechanism && figuresOf(mechanism, preload);
  if (mechanism && figures)
    return {
      ...base,
      kind: 'mechanism',
      mechanism,
      figures,
      // a file may give more than the mechanism asks for, as a measured force
      close: Math.max(figures.handForce, given >= 0 ? given : 0),
      reopen: figures.reopenForce,
      strength: strengthFor(mechanism.kind),
    };
  const rest = { ...base, mechanism: undefined, figures: undefined };
  if (h.actions === 0) return { ...rest, kind: 'detent', close: given, reopen: given, strength: 'arm_push_supported' };
  return {
    ...rest,
    kind: given >= 0 ? 'given' : 'unknown',
    close: given,
    reopen: given,
    strength: 'grip',
  };
}

/** Answers by mechanism and preload: levers seldom change while a frame does, and the search takes a tenth of a millisecond. */
const answers = new Map<string, LatchFigures | undefined>();
const KEPT = 200;

function figuresOf(mechanism: LatchMechanism, preload: number): LatchFigures | undefined {
  if (!(preload >= 0)) return undefined;
  const key = `${Object.values(mechanism).join(' ')} ${preload}`;
  if (answers.has(key)) return answers.get(key);
  if (answers.size >= KEPT) answers.clear();
  let found: LatchFigures | undefined;
  try {
    found = closeLatch(mechanism, preload);
  } catch (error) {
    // told at the field that asks for it, when the file is read
    if (!(error instanceof RangeError)) throw error;
  }
  answers.set(key, found);
  return found;
}

/** A lever against its tube is squeezed; a screw's or wedge's lever is pushed, a plunger pulled, while the other hand holds the frame. */
const strengthFor = (kind: LatchMechanism['kind']): ForceKind =>
  kind === 'toggle' || kind === 'cam' ? 'grip' : kind === 'plunger' ? 'arm_pull_supported' : 'arm_push_supported';
