/**
 * Mass, centre of mass and inertia of a rigid group, and how groups add up.
 *
 * The inertia is the tensor about the group's own centre of mass in world axes (ISO 8855), as tensor elements:
 * [Ixx, Iyy, Izz, Ixy, Ixz, Iyz] with Ixy = −∫xy dm (Meijaard et al. 2007 use the same sign, in axes with z down, where
 * Ixz changes sign).
 */
import type { Numbers, Vec3 } from '../math/rigid.ts';

export type Inertia = readonly [number, number, number, number, number, number];
export interface RigidMass {
  readonly mass: number;
  readonly com: Vec3;
  readonly inertia: Inertia;
}

export const NOTHING: RigidMass = { mass: 0, com: [0, 0, 0], inertia: [0, 0, 0, 0, 0, 0] };

/** The inertia of the same group about another point: adds m(d²E − d dᵀ) (Steiner). */
export function inertiaAbout(body: RigidMass, point: Vec3): Inertia {
  const { mass: m, com, inertia: i } = body;
  const x = com[0] - point[0],
    y = com[1] - point[1],
    z = com[2] - point[2];
  return [
    i[0] + m * (y * y + z * z),
    i[1] + m * (x * x + z * z),
    i[2] + m * (x * x + y * y),
    i[3] - m * x * y,
    i[4] - m * x * z,
    i[5] - m * y * z,
  ];
}

/** All groups as one. An empty list, or zero mass in all, gives `NOTHING`. */
export function combine(groups: Iterable<RigidMass>): RigidMass {
  const list = [...groups];
  let mass = 0,
    x = 0,
    y = 0,
    z = 0;
  for (const g of list) {
    mass += g.mass;
    x += g.mass * g.com[0];
    y += g.mass * g.com[1];
    z += g.mass * g.com[2];
  }
  if (!(mass > 0)) return NOTHING;
  const com: Vec3 = [x / mass, y / mass, z / mass];
  const sum: [number, number, number, number, number, number] = [0, 0, 0, 0, 0, 0];
  for (const g of list) {
    const about = inertiaAbout(g, com);
    for (let k = 0; k < 6; k++) sum[k]! += about[k]!;
  }
  return { mass, com, inertia: sum };
}

/** The group after a rigid motion (12 numbers at offset `o`): p' = R p + t, I' = R I Rᵀ. */
export function moved(body: RigidMass, t: Numbers, o = 0): RigidMass {
  const [cx, cy, cz] = body.com;
  const [xx, yy, zz, xy, xz, yz] = body.inertia;
  const i = [xx, xy, xz, xy, yy, yz, xz, yz, zz];
  const r = [t[o]!, t[o + 1]!, t[o + 2]!, t[o + 4]!, t[o + 5]!, t[o + 6]!, t[o + 8]!, t[o + 9]!, t[o + 10]!];
  const turned = (a: number, b: number): number => {
    let sum = 0;
    for (let j = 0; j < 3; j++) for (let k = 0; k < 3; k++) sum += r[3 * a + j]! * i[3 * j + k]! * r[3 * b + k]!;
    return sum;
  };
  return {
    mass: body.mass,
    com: [
      r[0]! * cx + r[1]! * cy + r[2]! * cz + t[o + 3]!,
      r[3]! * cx + r[4]! * cy + r[5]! * cz + t[o + 7]!,
      r[6]! * cx + r[7]! * cy + r[8]! * cz + t[o + 11]!,
    ],
    inertia: [turned(0, 0), turned(1, 1), turned(2, 2), turned(0, 1), turned(0, 2), turned(1, 2)],
  };
}
