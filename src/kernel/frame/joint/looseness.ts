/**
 * How a bicycle with joints answers a hand at one place: stiffness closed, stiffness open, and the lost motion between.
 *
 * closed  all joints shut: displacement at the target per given load
 * open    every joint that the load opens has opened (laws without preload and play, in the direction of the load)
 * lost    motion under a vanishing load from one side to the other: the play that is felt. `lostNow` with the preloads as
 *         they are, `lostSlack` when they are gone: what is heard once a latch has worn slack
 * Source: tri-linear law of a joint with play (joint-law.ts), theory.
 * Units: mm, N, rad. Not here: the whole curve between (solveWithJoints at any load).
 */
import type { FrameSolver } from '../beam/solver.ts';
import type { JointLaw, LoadGroup, NodeLoad } from '../structure.ts';
import { solveWithJoints } from './contact.ts';
import { type DeflectionTarget, deflectionAt } from './shares.ts';

/** The law of a joint whose latch has lost its preload. */
export const withoutPreload = (law: JointLaw): JointLaw => {
  const { preload: _, ...rest } = law;
  return rest;
};
/** The law without preload and play: both slopes meet at rest. */
export const withoutPlay = (law: JointLaw): JointLaw => {
  const { preload: _, play: __, ...rest } = law;
  return rest;
};

export interface Looseness {
  /** Displacement of the target under the load, mm (rad), with joints shut, and with those that it opens open. */
  readonly closed: number;
  readonly open: number;
  /** The same under the load turned round, counted positive: one-sided joints differ. */
  readonly openBack: number;
  readonly lostNow: number;
  readonly lostSlack: number;
  readonly converged: boolean;
}

/** Share of the load that takes up play but bends nothing to speak of. */
const TOUCH = 1e-4;

/**
 * @param load the hand's force; only its direction and ratios matter for the lost motion.
 * @throws as `solveWithJoints`.
 */
export function looseness(
  solver: FrameSolver,
  group: LoadGroup,
  load: readonly NodeLoad[],
  target: DeflectionTarget | readonly DeflectionTarget[],
): Looseness {
  const times = (k: number): NodeLoad[] =>
    load.map((l) => ({
      ...l,
      force: [k * l.force[0], k * l.force[1], k * l.force[2]],
      moment: [k * l.moment[0], k * l.moment[1], k * l.moment[2]],
    }));
  const run = (loads: readonly NodeLoad[][], law: (law: JointLaw) => JointLaw) =>
    solveWithJoints(solver, { ...group, loads }, { law });
  const both = [times(1), times(-1)];
  const touch = [times(TOUCH), times(-TOUCH)];
  const [closed] = run([times(1)], ({ closed }) => ({ closed }));
  const open = run(both, withoutPlay);
  const now = run(touch, (law) => law);
  const nowTight = run(touch, ({ play: _, ...law }) => law);
  const slack = run(touch, withoutPreload);
  const slackTight = run(touch, withoutPlay);
  const value = (s: { readonly solution: { readonly u: Float64Array } }): number => deflectionAt(s.solution.u, target);
  const way = (s: readonly { readonly solution: { readonly u: Float64Array } }[]): number =>
    value(s[0]!) - value(s[1]!);
  return {
    closed: value(closed!),
    open: value(open[0]!),
    openBack: -value(open[1]!),
    lostNow: way(now) - way(nowTight),
    lostSlack: way(slack) - way(slackTight),
    converged: [...open, ...now, ...nowTight, ...slack, ...slackTight].every((s) => s.converged),
  };
}
