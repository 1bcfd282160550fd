/**
 * Laws of a joint's six components from its hardware: stiffness, and where its face can open or its pin has play.
 *
 * Order: along, across, along the joint's axis; then about them. Of pivots and pins `pull` lies along the member and
 * `bend_across` about the axis; of posts and slides, whose member lies along the axis, `pull` and `twist` belong to the axis.
 * A face opens about its arm: preload × arm (moments) or preload (pull). Play of a joint that turns is the free angle about its
 * axis where a lock holds it there, else about the cross direction (its pin rocks); of posts and slides the free way
 * across. Where a clamp without an arm presses on, its friction takes up the play: no play is shown.
 * Steerer and cranks: two rolling bearings; default, from memory.
 * Units: mm, N, N·mm, rad.
 */
import { BEARING, type JointLaw, KIND, type KindName, type State, slides } from '#kernel';
import type { Hardware, ResolvedCandidate } from '#project';

export type JointLaws = readonly [JointLaw, JointLaw, JointLaw, JointLaw, JointLaw, JointLaw];
type Component = 'bendAcross' | 'bendAlong' | 'twist' | 'pull' | 'shearAcross' | 'shearAlong';

const TURNING: readonly Component[] = ['pull', 'shearAcross', 'shearAlong', 'twist', 'bendAlong', 'bendAcross'];
const SLIDING: readonly Component[] = ['shearAcross', 'shearAlong', 'pull', 'bendAlong', 'bendAcross', 'twist'];

/** Two bearings so far apart, mm; default, from memory. */
const APART = { steerer: 110, cranks: 60 } as const;
const bearingLaws = (apart: number): JointLaws => {
  const across = { closed: 2 * BEARING.radial };
  const tilt = { closed: (BEARING.radial * apart * apart) / 2 };
  return [across, across, { closed: BEARING.axial }, tilt, tilt, { closed: 0 }];
};

const KINDS = Object.keys(KIND) as KindName[];

/** What has become of a lock: preload, N, and play (rad of joints that turn, mm of posts and slides). */
export interface WornJoint {
  readonly preload: number;
  readonly play: number;
}

/**
 * Laws of joint `j` at the state's dimensions. @param s filled. @param worn takes the place of preload and play.
 * A law's numbers that are defaults of the joint shelf have slots without text in `candidate.slots`.
 */
export function jointLaws(candidate: ResolvedCandidate, s: State, j: number, worn?: WornJoint): JointLaws {
  const { top, roles } = candidate.model;
  const kind = KINDS[top.kind[j]!]!;
  const h = candidate.hardware[j]!;
  if (kind === 'steerer' && !givesStiffness(h)) return bearingLaws(APART.steerer);
  if (j === roles.cranks && !givesStiffness(h)) return bearingLaws(APART.cranks);
  const v = s.value;
  const at = (slot: number): number => (slot < 0 ? Number.NaN : v[slot]!);
  const sliding = slides(top.kind[j]!);
  const preload = worn?.preload ?? (h.preload < 0 ? 0 : at(h.preload));
  const foldSense = Math.abs(s.range[2 * j + 1]!) >= Math.abs(s.range[2 * j]!) ? 1 : -1;
  const playComponent: Component = sliding ? 'shearAcross' : h.bendAcross >= 0 ? 'bendAcross' : 'bendAlong';
  const law = (name: Component): JointLaw => {
    const slot = h[name];
    if (slot < 0) return { closed: 0 };
    const turn = name === 'bendAcross' || name === 'bendAlong' || name === 'twist';
    const closed = at(slot) * (turn ? 1e3 : 1e-3);
    const way = h.opens.find((o) => o.component === name);
    const fresh = h.play >= 0 ? at(h.play) * (turn ? 1 : 1e3) : 0;
    const play = name === playComponent ? (worn?.play ?? fresh) : 0;
    if (way)
      return {
        closed,
        open: closed * at(h.openShare),
        opens: way.sense === 'both' ? 0 : way.sense === 'apart' ? 1 : foldSense,
        preload: way.arm < 0 ? preload : preload * at(way.arm) * 1e3,
        ...(play > 0 ? { play } : {}),
      };
    if (play === 0) return { closed };
    if (preload === 0) return { closed, play };
    return turn ? { closed } : { closed, play, preload };
  };
  return (sliding ? SLIDING : TURNING).map(law) as unknown as JointLaws;
}

const givesStiffness = (h: Hardware): boolean =>
  [h.bendAcross, h.bendAlong, h.twist, h.pull, h.shearAcross, h.shearAlong].some((slot) => slot >= 0);
