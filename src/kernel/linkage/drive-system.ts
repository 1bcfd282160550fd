/**
 * Which joints follow when one joint is driven: the free joints of all loops that hang together with it.
 *
 * Each cut joint that is not absent closes one loop: the tree path between its bodies. A loop takes part when the driven joint
 * or a free joint of a loop that takes part lies on it; loops that share only held joints do not disturb each other.
 */
import { type Chain, jointCount } from './chain.ts';
import type { LoopSystem } from './loop-system.ts';

/** True where tree joint `j` lies on the loop of `cut`: it carries one of the cut's bodies and not the other. */
const onLoop = (top: Chain, carried: Uint8Array, cut: number, j: number): boolean => {
  const n = jointCount(top);
  return carried[top.jointA[cut]! * n + j] !== carried[top.jointB[cut]! * n + j];
};

/**
 * The system that follows `driven` (-1: nothing is driven, all loops and free joints take part), given each joint's freedom
 * (0 held, 1 free, 2 absent) and the table of `carriedBodies`. No cuts: an open tree, nothing follows.
 */
export function driveSystem(top: Chain, carried: Uint8Array, freedom: Uint8Array, driven: number): LoopSystem {
  const n = jointCount(top);
  const cuts = [...top.cuts].filter((cut) => freedom[cut] !== 2);
  const isCut = new Uint8Array(n);
  for (const cut of top.cuts) isCut[cut] = 1;
  const joints = Array.from({ length: n }, (_, j) => j).filter((j) => !isCut[j]);
  const takes = new Set<number>();
  const movers = new Set<number>();
  const enter = (cut: number): void => {
    takes.add(cut);
    for (const j of joints) if (onLoop(top, carried, cut, j) && freedom[j] === 1) movers.add(j);
  };
  if (driven < 0) for (const cut of cuts) enter(cut);
  else {
    movers.add(driven);
    if (isCut[driven]) enter(driven);
    for (let before = -1; before !== takes.size; ) {
      before = takes.size;
      for (const cut of cuts)
        if (!takes.has(cut) && [...movers].some((j) => !isCut[j] && onLoop(top, carried, cut, j))) enter(cut);
    }
  }
  movers.delete(driven);
  const used = cuts.filter((cut) => takes.has(cut));
  return {
    unknowns: Int32Array.from([...movers].sort((a, b) => a - b)),
    cuts: Int32Array.from(used),
    fixed: Uint8Array.from(used, (cut) => (cut === driven || freedom[cut] === 0 ? 1 : 0)),
  };
}
