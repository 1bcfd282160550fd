/** A standing body built from the rider module's own links and segments: an outside check on both together. */
import { bodyLinks, bodySegment, c7, combine, headLength, type Rider, type RigidMass, type Vec3 } from '#kernel';

export interface Standing {
  readonly rigid: RigidMass;
  /** Top of the head, m. */
  readonly top: number;
}
export function standing(rider: Rider): Standing {
  const l = bodyLinks(rider);
  const masses: RigidMass[] = [];
  const add = (kind: Parameters<typeof bodySegment>[1], from: Vec3, to: Vec3): void => {
    masses.push(bodySegment(rider, kind, kind, from, to).rigid);
  };
  const knee = l.ankle + l.shank;
  const hip = knee + l.thigh;
  const shoulder = hip + l.trunk;
  for (const s of [1, -1]) {
    const y = s * l.hipHalf;
    const out = s * l.shoulderHalf;
    add('foot', [-l.ankleAhead, y, 0.02], [l.foot - l.ankleAhead, y, 0.02]);
    add('shank', [0, y, knee], [0, y, l.ankle]);
    add('thigh', [0, y, hip], [0, y, knee]);
    add('upper_arm', [0, out, shoulder], [0, out, shoulder - l.upperArm]);
    add('forearm', [0, out, shoulder - l.upperArm], [0, out, shoulder - l.upperArm - 0.82 * l.forearm]);
    add('hand', [0, out, shoulder - l.upperArm - 0.82 * l.forearm], [0, out, shoulder - l.upperArm - l.forearm]);
  }
  const neck = c7(rider, [0, 0, hip], [0, 0, shoulder]);
  const top = neck[2] + headLength(rider);
  add('trunk', [0, 0, shoulder], [0, 0, hip]);
  add('head', [0, 0, top], neck);
  return { rigid: combine(masses), top };
}
