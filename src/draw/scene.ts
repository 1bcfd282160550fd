/** A candidate in one posture, ready to be drawn: posed shapes, posed bodies, and which shapes belong to one tube. */
import { newPosedShapes, type Posture, poseBodies, poseShapes, type Solid, type State, type Topology } from '#kernel';

export interface Scene {
  readonly top: Topology;
  readonly solid: Solid;
  /** 12 per body. */
  readonly bodyT: Float64Array;
  /** 6 per joint, ride posture. */
  readonly joint: Float64Array;
}

/** The scene at joint values `q`, or at a posture that is made already (closed loops). `s` must be filled; it is not touched. */
export function sceneAt(top: Topology, s: State, posture?: Posture | Float64Array): Scene {
  const here: State = { ...s, q: s.q.slice(), bodyT: s.bodyT.slice() };
  if (posture && 'bodyT' in posture) {
    here.q.set(posture.q);
    here.bodyT.set(posture.bodyT);
  } else {
    if (posture) here.q.set(posture);
    else here.q.fill(0);
    poseBodies(top, here);
  }
  const solid = newPosedShapes(top);
  poseShapes(top, here, solid);
  return { top, solid, bodyT: here.bodyT, joint: s.joint };
}

/** A topology never changes; it is drawn dozens of times a page. */
const grouped = new WeakMap<Topology, readonly (readonly number[])[]>();

/** Shape indices tube by tube: the pieces of a bent tube together (`rear.stay (2 of 5)`), every other shape alone. */
export function pieces(top: Topology): readonly (readonly number[])[] {
  const known = grouped.get(top);
  if (known) return known;
  const groups = new Map<string, number[]>();
  top.names.shapes.forEach((name, i) => {
    const stem = i < top.nCapsule ? name.replace(/ \(\d+ of \d+\)$/, '') : name;
    const key = i < top.nCapsule ? `${top.shapeBody[i]} ${stem}` : `${i}`;
    const group = groups.get(key);
    if (group) group.push(i);
    else groups.set(key, [i]);
  });
  const made = [...groups.values()];
  grouped.set(top, made);
  return made;
}
