/** Joints: play, preload, latches, shares of a deflection; closed forms and hand calculations. */
import {
  type BeamMember,
  closeLatch,
  deflectionShares,
  type FrameJoint,
  type FrameStructure,
  frameSolver,
  freeAngle,
  handleTravel,
  inSeries,
  type JointLaw,
  type LoadGroup,
  looseness,
  preloadFromHand,
  type Screw,
  solveWithJoints,
  type Toggle,
  type Vec3,
} from '#kernel';
import type { Case } from '../case.ts';

const DEGREE = Math.PI / 180;
const L = 600;
const E = 70_000;
/** 50 × 2 mm tube: second moment of area, mm⁴. */
const I = (Math.PI / 64) * (50 ** 4 - 46 ** 4);
const FREE: JointLaw = { closed: 1e9 };

/** A clamped tube of 600 mm whose root is a joint that bends about y. */
function cantilever(law: JointLaw): FrameStructure {
  const [root, tip]: [Vec3, Vec3] = [
    [0, 0, 0],
    [L, 0, 0],
  ];
  const tube: BeamMember = {
    name: 'tube',
    from: 1,
    to: 2,
    flex: [],
    pieces: [
      {
        from: root,
        to: tip,
        y: [0, 1, 0],
        E,
        G: 26_300,
        section: { area: 301.6, iy: I, iz: I, j: 2 * I, asy: Number.POSITIVE_INFINITY, asz: Number.POSITIVE_INFINITY },
      },
    ],
  };
  const hinge: FrameJoint = {
    name: 'hinge',
    role: 'joint',
    from: 0,
    to: 1,
    at: root,
    axes: [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ],
    laws: [FREE, FREE, FREE, { closed: 1e12 }, law, { closed: 1e12 }],
  };
  return {
    nodes: [
      { name: 'ground', at: root },
      { name: 'root', at: root },
      { name: 'tip', at: tip },
    ],
    members: [tube],
    joints: [hinge],
  };
}
const group = (force: number): LoadGroup => ({
  supports: [0, 1, 2, 3, 4, 5].map((component) => ({ node: 0, component })),
  fixtures: [],
  loads: [[{ node: 2, force: [0, 0, force], moment: [0, 0, 0] }]],
});
const UP = { node: 2, direction: [0, 0, 1] as Vec3 };
const tip = (law: JointLaw, force: number): number =>
  solveWithJoints(frameSolver(cantilever(law)), group(force))[0]!.solution.u[6 * 2 + 2]!;
const hingeShare = (k: number): number => {
  const { total, parts } = deflectionShares(frameSolver(cantilever({ closed: k })), group(1), group(1).loads[0]!, UP);
  return (100 * parts.find((p) => p.kind === 'joint')!.value) / total;
};
const felt = (law: JointLaw): number => {
  const solver = frameSolver(cantilever(law));
  // 500 mm from the joint, as the example has it: the tip moves 600/500 as far.
  return (looseness(solver, group(1), group(1).loads[0]!, UP).lostNow * 500) / L;
};

/** Coarse metric threads; mean diameter under the head 1.3 d. */
const bolt = (d: number, pitch: number, friction: number, flank = 1): Screw => ({
  kind: 'screw',
  lever: 100,
  pitch,
  pitchDiameter: (d - 0.6495 * pitch) * flank,
  headDiameter: 1.3 * d,
  friction,
  stack: 1e5,
});
const kN = (d: number, pitch: number, friction: number, torque_Nm: number, flank = 1): number =>
  preloadFromHand(bolt(d, pitch, friction, flank), (torque_Nm * 1e3) / 100) / 1e3;

const toggle: Toggle = {
  kind: 'toggle',
  form: 'spread',
  lever: 110,
  crank: 20,
  link: 20,
  past: 3 * DEGREE,
  pinRadius: 0,
  friction: 0,
  stack: 9000,
};
const HALF_DIGIT = (absolute: number) => ({ absolute, why: 'half a unit of the last digit printed' });

export const jointCases: readonly Case[] = [
  {
    id: 'joint-play',
    title: 'Play of a pin over a base, felt at 500 mm',
    source: 'Theory: free angle c/s; worked by hand',
    standing: 'theory',
    rows: [
      {
        quantity: 'free angle of 0.05 mm over 30 mm',
        unit: 'mrad',
        published: 1.667,
        computed: () => 1e3 * freeAngle(0.05, 30),
        tolerance: HALF_DIGIT(5e-4),
      },
      {
        quantity: 'motion at 500 mm: 0.05 mm over 30 mm, by the frame with a loose joint',
        unit: 'mm',
        published: 0.83,
        computed: () => felt({ closed: 3e7, play: freeAngle(0.05, 30) }),
        tolerance: HALF_DIGIT(5e-3),
        wrong: {
          what: 'the free angle counted to each side of rest',
          computed: () => felt({ closed: 3e7, play: 2 * freeAngle(0.05, 30) }),
        },
      },
      {
        quantity: 'motion at 500 mm: 0.1 mm over 30 mm',
        unit: 'mm',
        published: 1.67,
        computed: () => felt({ closed: 3e7, play: freeAngle(0.1, 30) }),
        tolerance: HALF_DIGIT(5e-3),
      },
      {
        quantity: 'motion at 500 mm: 0.1 mm over 60 mm',
        unit: 'mm',
        published: 0.83,
        computed: () => felt({ closed: 3e7, play: freeAngle(0.1, 60) }),
        tolerance: HALF_DIGIT(5e-3),
      },
      {
        quantity: 'the same under a preload',
        unit: 'mm',
        published: 0,
        computed: () => felt({ closed: 3e7, play: freeAngle(0.1, 60), preload: 1e5 }),
        tolerance: { absolute: 1e-9, why: 'a preloaded joint has no play: rounding only' },
      },
    ],
  },
  {
    id: 'joint-opening',
    title: 'A preloaded face opens at force times arm, and the frame is softer from there',
    source: 'Theory: cantilever PL³/3EI with a root joint M/k; closed 30 kN·m/rad, open 6, preload 2500 N at 40 mm',
    standing: 'theory',
    rows: [
      {
        quantity: 'tip under 150 N: 90 N·m, below the 100 N·m that open it',
        unit: 'mm',
        published: (150 * L * L * L) / (3 * E * I) + (150 * L * L) / 30e6,
        computed: () => -tip({ closed: 30e6, open: 6e6, opens: 1, preload: 2500 * 40 }, -150),
        tolerance: { relative: 1e-5, why: 'the joint’s other springs, 1e9 N/mm, stand for rigid' },
      },
      {
        quantity: 'tip under 300 N: 80 N·m of 180 on the open face',
        unit: 'mm',
        published: (300 * L * L * L) / (3 * E * I) + (100e3 / 30e6 + 80e3 / 6e6) * L,
        computed: () => -tip({ closed: 30e6, open: 6e6, opens: 1, preload: 2500 * 40 }, -300),
        tolerance: { relative: 1e-5, why: 'the joint’s other springs, 1e9 N/mm, stand for rigid' },
        wrong: {
          what: 'preload forgotten: the face opens at once',
          computed: () => -tip({ closed: 30e6, open: 6e6, opens: 1 }, -300),
        },
      },
    ],
  },
  {
    id: 'joint-share',
    title: 'Share of a hinge in the deflection of a 50 × 2 mm tube of 600 mm',
    source: 'Theory: hinge PL²/k beside tube PL³/3EI; a hinge of 3EI/L counts as semi-rigid and takes half',
    standing: 'theory',
    rows: [
      {
        quantity: 'EI/L',
        unit: 'kN·m/rad',
        published: 10,
        computed: () => (E * I) / L / 1e6,
        tolerance: HALF_DIGIT(0.5),
      },
      {
        quantity: 'share of a hinge of 3EI/L',
        unit: '%',
        published: 50,
        computed: () => hingeShare((3 * E * I) / L),
        tolerance: { absolute: 1e-3, why: 'the joint’s other springs, 1e9 N/mm, stand for rigid' },
      },
      {
        quantity: 'share of a hinge of 30 kN·m/rad',
        unit: '%',
        published: 50.375,
        computed: () => hingeShare(30e6),
        tolerance: HALF_DIGIT(2e-3),
        wrong: { what: 'half the hinge’s stiffness', computed: () => hingeShare(15e6) },
      },
    ],
  },
  {
    id: 'joint-screw',
    title: 'Preload of a screw from its torque',
    source:
      'Long form T = F[p/2π + μ d₂/(2 cos 30°) + μ d_n/2], as in ISO 16047 and VDI 2230 part 1, d_n = 1.3 d; separate hand calculation',
    standing: 'recomputed',
    rows: [
      {
        quantity: 'M6×1, 9 N·m, μ 0.12',
        unit: 'kN',
        published: 9.02,
        computed: () => kN(6, 1, 0.12, 9),
        tolerance: HALF_DIGIT(5e-3),
        wrong: {
          what: 'flank angle of the thread forgotten (cos 30°)',
          computed: () => kN(6, 1, 0.12, 9, Math.sqrt(3) / 2),
        },
      },
      {
        quantity: 'M6×1, 9 N·m, μ 0.15',
        unit: 'kN',
        published: 7.45,
        computed: () => kN(6, 1, 0.15, 9),
        tolerance: HALF_DIGIT(5e-3),
      },
      {
        quantity: 'M5×0.8, 5 N·m, μ 0.12',
        unit: 'kN',
        published: 6.04,
        computed: () => kN(5, 0.8, 0.12, 5),
        tolerance: HALF_DIGIT(5e-3),
      },
      {
        quantity: 'M8×1.25, 22 N·m, μ 0.15',
        unit: 'kN',
        published: 13.7,
        computed: () => kN(8, 1.25, 0.15, 22),
        tolerance: HALF_DIGIT(5e-2),
      },
    ],
  },
  {
    id: 'joint-toggle',
    title: 'Over-centre toggle of equal links, 3° from its dead centre',
    source: 'Small-angle rules, from memory: clamp gain (L/a)/(2 tan θ), reopening force F·2 tan ε·a/L',
    standing: 'memory',
    rows: [
      {
        quantity: 'clamp force over hand force at 3°',
        unit: '-',
        published: 110 / 20 / (2 * Math.tan(3 * DEGREE)),
        computed: () => toggle.lever / handleTravel(toggle, 3 * DEGREE).slope,
        tolerance: { relative: 2e-3, why: 'the rule writes tan for sin: 1/cos 3° − 1 = 0.14 %' },
        wrong: {
          what: 'a link that does not turn with the crank: a sin φ alone',
          computed: () => toggle.lever / (toggle.crank * Math.sin(3 * DEGREE)),
        },
      },
      {
        quantity: 'reopening force, 2500 N, 3° past centre',
        unit: 'N',
        published: (2500 * 2 * Math.tan(3 * DEGREE) * 20) / 110,
        computed: () => closeLatch(toggle, 2500).reopenForce,
        tolerance: { relative: 2e-3, why: 'the rule writes tan for sin: 1/cos 3° − 1 = 0.14 %' },
      },
      {
        quantity: 'work of the hand without friction, closed at dead centre: F²/2k',
        unit: 'N·mm',
        published: (2500 * 2500) / (2 * 9000),
        computed: () => closeLatch({ ...toggle, past: 0 }, 2500).work,
        tolerance: { relative: 1e-6, why: 'Simpson’s rule with 64 steps' },
      },
      {
        quantity: 'stack of 20, 25 and 19 kN/mm in series',
        unit: 'kN/mm',
        published: 7.01107,
        computed: () => inSeries(20, 25, 19),
        tolerance: HALF_DIGIT(5e-6),
      },
    ],
  },
];
