/**
 * The folded bicycle as a package: one call from a model and its fold plan to everything that the package calculations need,
 * and their results that need no place: standing, rolling, carrying, holding shut, cables.
 *
 * Posture: the end of the fold; root body where it was in the ride posture, so the package frame is the world frame of the
 * ride posture. Attitudes: `flat` means that the root body's lateral axis is upright.
 * A joint counts as free when the plan leaves it free or it is held by its loop, it can really move there (rank of the loops),
 * and it is not the turning cranks. Joints that the fold does not move (usually the steerer) are listed as `idle`: they
 * swing, but they do not unfold. A freedom opens towards the ride posture; folding further ends at its stop.
 * Not here: which place it must fit (`space`), several independent motions of one loop (only one is followed).
 */

import { bodyRates, RATE_SIZE } from '../linkage/body-rates.ts';
import { driveSystem } from '../linkage/drive-system.ts';
import { ratesOf } from '../linkage/follower-rates.ts';
import {
  type FoldPlan,
  FREEDOM,
  type LinkageWorkspace,
  mobilityRank,
  newLinkageWorkspace,
  poseAlong,
  poseFolded,
} from '../linkage/index.ts';
import { MASS_SIZE, massInto, newMassBuffer, type RigidMass, rigidAt } from '../mass/index.ts';
import { at3, movePoint, turnVector, type Vec3 } from '../math/rigid.ts';
import { type Model, type State, slides } from '../model/types.ts';
import { type CableResult, type FoldPosture, followCable } from './cable.ts';
import { type Carrying, carrying } from './carry.ts';
import { type FoldedHolder, type Freedom, type HoldAssumptions, type HoldResult, holdMargins } from './hold.ts';
import { newPosedShapes, poseShapes } from './posed-shapes.ts';
import { type Rolling, rolling } from './roll.ts';
import type { Solid } from './solid.ts';
import { type Standing, standing } from './stand.ts';

export interface FoldedPackage {
  readonly solid: Solid;
  readonly whole: RigidMass;
  readonly bodies: readonly RigidMass[];
  /** Upward direction that standing and rolling start from. */
  readonly up: Vec3;
  /** Package direction of the chain's side; undefined without chain or belt. */
  readonly chainSide: Vec3 | undefined;
  readonly handle: Vec3 | undefined;
  readonly freedoms: readonly Freedom[];
  /** Joints that can move and are not part of the fold. */
  readonly idle: readonly string[];
  readonly holders: readonly FoldedHolder[];
}

/** Model parts that are read. */
export type PackageModel = Pick<
  Model,
  'top' | 'fold' | 'roles' | 'drive' | 'holders' | 'handle' | 'standsOn' | 'rollsOn' | 'cables'
>;

/** A joint that the fold has moved by more than this (rad or m) is part of it. */
const MOVED = 1e-6;

/** The package at the end of `plan`, at the dimensions filled into `s` (its posture is not touched). */
export function foldedPackage(
  m: PackageModel,
  s: State,
  plan: FoldPlan,
  up: Vec3 = [0, 0, 1],
  ws: LinkageWorkspace = newLinkageWorkspace(m.top),
): FoldedPackage {
  const { top } = m;
  const here: State = { ...s, q: s.q.slice(), bodyT: s.bodyT.slice() };
  poseFolded(m, plan, here);
  const posed = newPosedShapes(top);
  poseShapes(top, here, posed);
  const masses = newMassBuffer(top.bodyCount);
  massInto(top, here, masses);
  const bodies = Array.from({ length: top.bodyCount }, (_, b) => rigidAt(masses.body, MASS_SIZE * b));
  const chain = m.drive.kind === 'chain' || m.drive.kind === 'belt';
  const { freedoms, idle } = foldedFreedoms(m, here, plan, ws);
  return {
    solid: posed,
    whole: rigidAt(masses.whole),
    bodies,
    up,
    chainSide: chain ? turnVector(here.bodyT, 12 * m.drive.fromBody, [0, m.drive.side, 0]) : undefined,
    handle:
      m.handle.station < 0
        ? undefined
        : movePoint(here.bodyT, 12 * m.handle.body, at3(s.station, 3 * m.handle.station)),
    freedoms,
    idle,
    holders: m.holders.map((h): FoldedHolder => {
      const friction = h.kind === 'friction' && h.joint >= 0;
      const ends: readonly [number, number] = friction ? [top.jointA[h.joint]!, top.jointB[h.joint]!] : h.bodies;
      const at = h.station >= 0 ? at3(s.station, 3 * h.station) : friction ? at3(s.joint, 6 * h.joint) : undefined;
      return {
        name: h.name,
        kind: h.kind,
        bodies: ends,
        point: at ? movePoint(here.bodyT, 12 * ends[0], at) : [0, 0, 0],
        force: s.value[h.force]!,
        slides: friction && slides(top.kind[h.joint]!),
      };
    }),
  };
}

function foldedFreedoms(
  m: PackageModel,
  here: State,
  plan: FoldPlan,
  ws: LinkageWorkspace,
): { readonly freedoms: readonly Freedom[]; readonly idle: readonly string[] } {
  const { top } = m;
  const n = top.kind.length;
  const freedom = plan.freedom.slice(m.fold.length * n);
  if (m.roles.cranks >= 0) freedom[m.roles.cranks] = FREEDOM.held;
  const { moving } = mobilityRank(top, here, freedom, ws);
  const inFold = new Uint8Array(n);
  for (const segment of plan.segments) for (const j of [segment.joint, ...segment.followers]) inFold[j] = 1;
  const freedoms: Freedom[] = [];
  const idle: string[] = [];
  const followed = new Set<number>();
  for (let j = 0; j < n; j++) {
    if (!moving[j] || followed.has(j) || top.cuts.includes(j)) continue;
    if (!inFold[j] || Math.abs(here.q[j]!) < MOVED) {
      idle.push(top.names.joints[j]!);
      continue;
    }
    const system = driveSystem(top, ws.carried, freedom, j);
    for (const follower of system.unknowns) followed.add(follower);
    const rates = ratesOf(top, here, system, j, ws);
    freedoms.push({
      name: top.names.joints[j]!,
      rates: bodyRates(top, here, rates, ws.carried, new Float64Array(RATE_SIZE * top.bodyCount)),
      opens: here.q[j]! > 0 ? -1 : 1,
    });
  }
  return { freedoms, idle };
}

export interface PackageHandling {
  readonly standing: Standing;
  /** Undefined when fewer than two discs are named to roll on. */
  readonly rolling: Rolling | undefined;
  /** Undefined without a handle. */
  readonly carrying: Carrying | undefined;
  readonly hold: HoldResult;
}

/** Standing, rolling, carrying and holding of a package; the standing attitude decides where up is for the others. */
export function packageHandling(m: PackageModel, p: FoldedPackage, assume?: HoldAssumptions): PackageHandling {
  const stands = standing(p.solid, p.whole.com, m.standsOn, p.up);
  const up = stands.rest.converged ? stands.rest.up : p.up;
  const { nCapsule, nDisc } = m.top;
  const wheels = m.rollsOn.filter((i) => i >= nCapsule && i < nCapsule + nDisc);
  const [first, second] = wheels;
  const rolls =
    first !== undefined && second !== undefined
      ? rolling(p.solid, p.whole.com, [first, second], up, p.handle, m.rollsOn)
      : undefined;
  return {
    standing: stands,
    rolling: rolls,
    carrying: p.handle ? carrying(p.solid, p.whole.com, p.handle, up) : undefined,
    hold: holdMargins(
      p.freedoms,
      p.holders,
      p.bodies,
      { heldBody: Math.max(0, m.handle.body), handle: p.handle, rollingUp: rolls?.up },
      assume,
    ),
  };
}

/** Steps in which cables are followed: a turn of 2.5°, or 20 mm. */
const CABLE_TURN = (2.5 * Math.PI) / 180;
const CABLE_SHIFT = 0.02;

/** Every cable through every motion of the plan. `s` lends its dimensions; its posture is not touched. */
export function foldCables(
  m: PackageModel,
  s: State,
  plan: FoldPlan,
  ws: LinkageWorkspace = newLinkageWorkspace(m.top),
): readonly CableResult[] {
  if (m.cables.length === 0) return [];
  const here: State = { ...s, q: s.q.slice(), bodyT: s.bodyT.slice() };
  const postures: FoldPosture[] = [];
  plan.segments.forEach((segment, i) => {
    const step = slides(m.top.kind[segment.joint]!) ? CABLE_SHIFT : CABLE_TURN;
    const steps = Math.max(2, Math.ceil(Math.abs(segment.to - segment.from) / step));
    for (let k = 0; k <= steps; k++) {
      const fraction = (segment.reached * k) / steps;
      poseAlong(m, plan, i, fraction, here, ws);
      postures.push({ move: segment.move, fraction, bodyT: here.bodyT.slice() });
    }
  });
  return m.cables.map((c) =>
    followCable(
      {
        name: c.name,
        points: c.stations.map((i) => at3(s.station, 3 * i)),
        bodies: c.stationBody,
        slack: c.slack >= 0 ? s.value[c.slack]! : 0,
        minBend: c.minBend >= 0 ? s.value[c.minBend]! : Number.NaN,
      },
      postures,
    ),
  );
}
