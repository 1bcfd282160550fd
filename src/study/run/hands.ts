/**
 * Hands discipline: how hard a hand pushes, pulls and squeezes to fold and unfold, and who can.
 *
 * Every sample of every move is laid beside EN 1005-3: level pushes and pulls of somebody who stands (the weaker, a pull),
 * lifting and pressing by one arm, a foot on a stand. Both arms share where a stand that is down carries the bicycle; else one
 * steadies it. Users: the brief's women's share; limits: the brief's `hands`.
 */
import {
  BASIC_FORCES,
  type ForceKind,
  forceCap,
  HELD,
  type JointFriction,
  KIND,
  type MoveForce,
  moveForces,
  newLinkageWorkspace,
  RARE_USE,
  type State,
  shareAble,
  usualFriction,
} from '#kernel';
import type { ResolvedCandidate } from '#project';
import type { PeopleSetting, Setting } from '../setting.ts';
import type { FoldResult } from './fold.ts';
import { placesOf } from './hold-places.ts';
import { type Latch, latchesOf } from './latch.ts';
import type { MassResult } from './mass.ts';

/** A force beside what people can do. */
export interface HandLoad {
  /** N, on all hands together, and how many share it. */
  readonly force: number;
  readonly hands: 1 | 2;
  readonly strength: ForceKind;
  /** Share of users who can. */
  readonly able: number;
  /** Force per hand over F_cap of the brief's users: up to 0.5 recommended, above 0.7 to be avoided. */
  readonly risk: number;
}
/** The hardest sample of a move. */
export interface MoveLoad extends HandLoad {
  readonly way: 'fold' | 'unfold';
  /** It pushes the part on, or holds it back. */
  readonly does: 'pushes' | 'holds back';
  readonly sample: number;
}
export interface HandledMove extends MoveForce {
  /** Greatest force, either way, and the sample that fewest can do; undefined where no force is needed at all. */
  readonly greatest: MoveLoad;
  readonly hardest: MoveLoad;
}
export interface HandledLatch extends Latch {
  readonly closing: HandLoad | undefined;
  readonly opening: HandLoad | undefined;
}
export interface HandsResult {
  /** One per motion of the plan; undefined where nothing that moves can be held. */
  readonly moves: readonly (HandledMove | undefined)[];
  readonly latches: readonly HandledLatch[];
}

/** `s` must be filled and in the ride posture; it is left there. */
export function runHands(
  candidate: ResolvedCandidate,
  s: State,
  setting: Setting,
  _mass: MassResult,
  fold: FoldResult,
): HandsResult {
  const { model } = candidate;
  const ws = newLinkageWorkspace(model.top);
  const places = placesOf(candidate, s, fold.plan, ws);
  const forces = moveForces(model, s, fold.plan, places, frictionsOf(candidate, s), ws);
  const people = setting.people;
  let standDown = false;
  const moves = forces.map((move): HandledMove | undefined => {
    const hands = standDown ? 2 : 1;
    standDown ||= move?.place.foot ?? false;
    return move && { ...move, ...loadsOf(move, hands, people) };
  });
  return {
    moves,
    latches: latchesOf(candidate, s).map((latch) => ({
      ...latch,
      closing: latch.close >= 0 ? handLoad(latch.close, 1, latch.strength, people) : undefined,
      opening: latch.reopen >= 0 ? handLoad(latch.reopen, 1, latch.strength, people) : undefined,
    })),
  };
}

/** Defaults by kind of joint; faces that no lock releases stay pressed by their preload. */
function frictionsOf(candidate: ResolvedCandidate, s: State): JointFriction[] {
  const { top } = candidate.model;
  return candidate.hardware.map((h, j) => {
    const usual = usualFriction(top.kind[j]!);
    const free = top.held[j] !== HELD.latch && top.held[j] !== HELD.clamp;
    const preload = free && h.preload >= 0 ? s.value[h.preload]! : 0;
    // bearings as far apart as the hardware is long on its axis
    const span = h.size ? s.value[h.size[2]]! : usual.span;
    return { ...usual, preload, span: top.kind[j] === KIND.pivot && span > 0 ? span : usual.span };
  });
}

export function handLoad(force: number, hands: 1 | 2, strength: ForceKind, people: PeopleSetting): HandLoad {
  return {
    force,
    hands,
    strength,
    able: shareAble(strength, force / hands, RARE_USE, people.women),
    risk: force / hands / forceCap(strength, people.hands),
  };
}

/** More upright than this a force is lifted or pressed: cos 45°. */
const STEEP = Math.SQRT1_2;

function loadsOf(move: MoveForce, hands: 1 | 2, people: PeopleSetting): Pick<HandledMove, 'greatest' | 'hardest'> {
  let [most, worst] = [-1, -1];
  let greatest: Sample = ['fold', 0];
  let hardest = greatest;
  for (const way of ['fold', 'unfold'] as const) {
    const { force } = move[way];
    for (let k = 0; k < force.length; k++) {
      const size = Math.abs(force[k]!);
      const risk = size / BASIC_FORCES[strengthAt(move, way, k)][people.hands];
      if (size > most) [most, greatest] = [size, [way, k]];
      if (risk > worst) [worst, hardest] = [risk, [way, k]];
    }
  }
  const load = ([way, sample]: Sample): MoveLoad => {
    const f = move[way].force[sample]!;
    const together = move.place.foot ? 1 : hands;
    return {
      ...handLoad(Math.abs(f), together, strengthAt(move, way, sample), people),
      way,
      does: f < 0 ? 'holds back' : 'pushes',
      sample,
    };
  };
  return { greatest: load(greatest), hardest: load(hardest) };
}
type Sample = readonly ['fold' | 'unfold', number];

/** The strength that a sample asks for: along the way, or against it where the part is held back; unfolding goes the other way. */
export function strengthAt(move: MoveForce, way: 'fold' | 'unfold', k: number): ForceKind {
  if (move.place.foot) return 'pedal_ankle';
  const up = move.along[3 * k + 2]! * (way === 'fold' ? 1 : -1) * Math.sign(move[way].force[k]!);
  return up > STEEP ? 'arm_up' : up < -STEEP ? 'arm_down' : 'stand_pull';
}

/** Everything that hands are asked for, with the name of what asks. */
export function allLoads(
  r: HandsResult,
  names: { readonly joints: readonly string[] },
): { what: string; load: HandLoad }[] {
  return [
    ...r.moves.flatMap((m) => (m ? [{ what: `moving ${names.joints[m.joint]}`, load: m.hardest }] : [])),
    ...r.latches.flatMap((l) => [
      ...(l.closing ? [{ what: `closing ${names.joints[l.joint]}`, load: l.closing }] : []),
      ...(l.opening && l.opening.force !== l.closing?.force
        ? [{ what: `opening ${names.joints[l.joint]}`, load: l.opening }]
        : []),
    ]),
  ];
}
