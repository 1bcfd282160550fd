/**
 * Tests of parts in the structure: fork, bar with its post or stem, seat post.
 *
 * The head tube (or the clamp of the seat post) is held; what else belongs to the bicycle hangs on it unloaded. The fork turns in
 * its bearings, so that a lock holds the steering as the test's fixture does. A folding bar post is part of the stem: its
 * joints are in the structure and in the test. Units: mm, N. Sources: ISO 4210-5, -6, -9 as read in the TBIS parts.
 * Not here: torsion of clamps (a check of its own), the dummy fork (likewise), minimum insertion of posts.
 */

import { STANDARD_GRAVITY } from '../../math/constants.ts';
import { add, cross, scale, sub, unit, type Vec3 } from '../../math/rigid.ts';
import type { FrameContext } from '../places.ts';
import type { LoadGroup, NodeLoad } from '../structure.ts';
import type { FigureValues } from './figures.ts';
import { aheadOfAxis, clamp, steeringLock, steeringLockIfAny } from './fixtures.ts';
import {
  type CaseLoads,
  caseLoads,
  type FrameCase,
  force,
  lacking,
  type NotApplicable,
  placeAt,
  UNLOADED,
} from './frame-case.ts';

const DEGREE = Math.PI / 180;
const HEAD = ['headTop', 'headBottom', 'crown'] as const;

/** Loads on a bicycle whose head tube is held and whose steering is locked. */
const onHead = (context: FrameContext, loads: LoadGroup['loads']): LoadGroup => ({
  supports: [...clamp(context.places.headTop), ...clamp(context.places.headBottom)],
  fixtures: [steeringLock(context)],
  loads,
});

/** A force at the front axle, square to the steerer in the wheel's plane; positive ahead. */
const atFork = (context: FrameContext, size: number): readonly NodeLoad[] => [
  force(context.places.frontAxle, scale(aheadOfAxis(context.steerAxis), size)),
];

function forkBending(context: FrameContext, f: FigureValues): CaseLoads | NotApplicable {
  return (
    lacking(context, ...HEAD, 'frontAxle') ??
    caseLoads(onHead(context, [atFork(context, -f.force!)]), ['rearward, square to the steerer'])
  );
}

function forkFatigue(context: FrameContext, f: FigureValues): CaseLoads | NotApplicable {
  return (
    lacking(context, ...HEAD, 'frontAxle') ??
    caseLoads(onHead(context, [atFork(context, f.force!), atFork(context, -f.force!)]), ['forward', 'rearward'], {
      ranges: [{ label: 'forward and rearward', states: [0, 1], cycles: f.cycles! }],
    })
  );
}

function forkImpact(context: FrameContext, f: FigureValues): CaseLoads | NotApplicable {
  const absent = lacking(context, ...HEAD, 'frontAxle');
  if (absent) return absent;
  const weight = f.striker! * STANDARD_GRAVITY;
  const energy = weight * f.drop!;
  return caseLoads(onHead(context, [atFork(context, -f.reference!)]), ['rearward, square to the steerer'], {
    blow: { state: 0, reference: f.reference!, weight, energy, drops: 1, limit: f.set_limit! },
    findings: [{ what: 'energy of the striker', unit: 'J', value: energy / 1000 }],
  });
}

/** Near one end of the bar, along the steering axis; positive up. */
function atBarEnd(context: FrameContext, side: 'Left' | 'Right', inset: number, size: number): NodeLoad {
  const end = placeAt(context, `barEnd${side}`);
  const inwards = unit(sub(placeAt(context, 'barClamp'), end));
  const node = context.places[`barEnd${side}`];
  return force(node, scale(context.steerAxis, size), add(end, scale(inwards, inset)));
}
const BAR = [...HEAD, 'barClamp', 'barEndLeft', 'barEndRight'] as const;

function barLateral(context: FrameContext, f: FigureValues): CaseLoads | NotApplicable {
  return (
    lacking(context, ...BAR) ??
    caseLoads(
      onHead(context, [
        [atBarEnd(context, 'Right', f.inset!, -f.force!)],
        [atBarEnd(context, 'Left', f.inset!, -f.force!)],
      ]),
      ['down at the right end', 'down at the left end'],
    )
  );
}

function barForward(context: FrameContext, f: FigureValues): CaseLoads | NotApplicable {
  const absent = lacking(context, ...HEAD, 'barClamp');
  if (absent) return absent;
  const angle = f.angle! * DEGREE;
  const way = add(scale(aheadOfAxis(context.steerAxis), Math.sin(angle)), scale(context.steerAxis, -Math.cos(angle)));
  const at = (size: number): readonly NodeLoad[] => [force(context.places.barClamp, scale(way, size))];
  return caseLoads(onHead(context, [at(f.force!), at(f.force_2!)]), ['first stage', 'second stage'], { fracture: [1] });
}

function stemLateral(context: FrameContext, f: FigureValues): CaseLoads | NotApplicable {
  const absent = lacking(context, ...HEAD, 'barClamp');
  if (absent) return absent;
  const middle = placeAt(context, 'barClamp');
  const at = (side: 1 | -1): readonly NodeLoad[] => [
    force(context.places.barClamp, scale(context.steerAxis, -f.force!), add(middle, [0, side * f.lever!, 0])),
  ];
  return caseLoads(onHead(context, [at(-1), at(1)]), ['down on the right', 'down on the left']);
}

function barFatigue(context: FrameContext, f: FigureValues, leftSign: 1 | -1): CaseLoads | NotApplicable {
  const absent = lacking(context, ...BAR);
  if (absent) return absent;
  const at = (size: number): readonly NodeLoad[] => [
    atBarEnd(context, 'Right', f.inset!, size),
    atBarEnd(context, 'Left', f.inset!, leftSign * size),
  ];
  const labels = leftSign > 0 ? ['both up', 'both down'] : ['right up, left down', 'right down, left up'];
  return caseLoads(onHead(context, [at(f.force!), at(-f.force!)]), labels, {
    ranges: [{ label: labels.join(', then '), states: [0, 1], cycles: f.cycles! }],
  });
}

/** The standard's post stands at a fixed angle to the ground: the load keeps its place and direction relative to the post. */
function seatPost(context: FrameContext, f: FigureValues): CaseLoads | NotApplicable {
  const absent = lacking(context, 'postClamp', 'saddleClamp');
  if (absent) return absent;
  const up = context.postAxis;
  const ahead = unit(cross([0, 1, 0], up));
  const post = f.post_angle! * DEGREE;
  const fromPost = post + f.bar_angle! * DEGREE;
  const down: Vec3 = add(scale(up, -Math.sin(post)), scale(ahead, -Math.cos(post)));
  const back: Vec3 = add(scale(up, Math.cos(fromPost)), scale(ahead, -Math.sin(fromPost)));
  const at = add(placeAt(context, 'saddleClamp'), scale(back, f.behind!));
  return caseLoads(
    {
      supports: clamp(context.places.postClamp),
      fixtures: steeringLockIfAny(context),
      loads: [[force(context.places.saddleClamp, scale(down, f.force!), at)]],
    },
    ['down behind the post'],
    { ranges: [{ label: 'none to full', states: [UNLOADED, 0], cycles: f.cycles! }] },
  );
}

const NO_CRACK = 'no visible crack or fracture';
const SET = 'no visible crack or fracture; permanent set within the limit';

export const FORK_BAR_TESTS: readonly FrameCase[] = [
  {
    id: 'fork_bending',
    title: 'Fork, static bending',
    kind: 'test_static',
    postures: ['ride'],
    source: 'ISO 4210-6, fork, static bending',
    criterion: SET,
    note: 'The steerer is held in its own head tube, whose walls give a little more than the test’s fixture.',
    load: forkBending,
  },
  {
    id: 'fork_fatigue',
    title: 'Fork, bending fatigue',
    kind: 'test_fatigue',
    postures: ['ride'],
    source: 'ISO 4210-6, fork, bending fatigue',
    criterion: `${NO_CRACK}; composite forks: running displacement grows by no more than 20 %`,
    note: 'Followed by the rearward impact on the same fork.',
    load: forkFatigue,
  },
  {
    id: 'fork_impact',
    title: 'Fork, rearward impact',
    kind: 'screening',
    postures: ['ride'],
    source: 'ISO 4210-6, fork, rearward impact',
    criterion: SET,
    note: 'A screening estimate from plastic hinges and energy. The heights are from memory.',
    load: forkImpact,
  },
  {
    id: 'bar_lateral',
    title: 'Bar and stem, lateral bending',
    kind: 'test_static',
    postures: ['ride'],
    source: 'ISO 4210-5, handlebar and stem, lateral bending',
    criterion: SET,
    note: 'Both ends are run. A folding bar post counts as the stem.',
    load: barLateral,
  },
  {
    id: 'bar_forward',
    title: 'Bar and stem, forward bending',
    kind: 'test_static',
    postures: ['ride'],
    source: 'ISO 4210-5, stem, forward bending',
    criterion: 'first stage: permanent set within the limit; second stage: no fracture',
    note: 'The second stage ends at 50 mm of deflection if that comes first; the full force is run here.',
    load: barForward,
  },
  {
    id: 'stem_lateral',
    title: 'Stem, lateral bending',
    kind: 'test_static',
    postures: ['ride'],
    source: 'ISO 4210-5, stem, lateral bending',
    criterion: SET,
    note: 'The test bar is rigid. A folding bar post counts as the stem.',
    load: stemLateral,
  },
  {
    id: 'bar_fatigue_out',
    title: 'Bar and stem, fatigue, out of phase',
    kind: 'test_fatigue',
    postures: ['ride'],
    source: 'ISO 4210-5, handlebar and stem, fatigue',
    criterion: NO_CRACK,
    note: 'Forces from memory. The in-phase stage follows on the same sample: damages add.',
    load: (context, f) => barFatigue(context, f, -1),
  },
  {
    id: 'bar_fatigue_in',
    title: 'Bar and stem, fatigue, in phase',
    kind: 'test_fatigue',
    postures: ['ride'],
    source: 'ISO 4210-5, handlebar and stem, fatigue',
    criterion: NO_CRACK,
    note: 'Forces from memory. Comes after the out-of-phase stage on the same sample: damages add.',
    load: (context, f) => barFatigue(context, f, 1),
  },
  {
    id: 'seat_post',
    title: 'Seat post, fatigue',
    kind: 'test_fatigue',
    postures: ['ride'],
    source: 'ISO 4210-9, seat post, fatigue',
    criterion: NO_CRACK,
    note: 'The post stands as in the ride posture; the standard asks for minimum insertion.',
    load: seatPost,
  },
];
