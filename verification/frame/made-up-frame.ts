/** A made-up frame of the size of a folding bicycle's: 41 members, 5 joints, 12 groups of supports, 25 load vectors. */
import {
  type BeamMember,
  cross,
  type FrameJoint,
  type FrameNode,
  type FrameStructure,
  type LoadGroup,
  type Support,
  sub,
  unit,
  type Vec3,
} from '#kernel';

const tube = (od: number, wall: number) => {
  const id = od - 2 * wall;
  const area = (Math.PI / 4) * (od * od - id * id);
  const iy = (area / 16) * (od * od + id * id);
  return { area, iy, iz: iy, j: 2 * iy, asy: area / 2, asz: area / 2 };
};

export interface BenchFrame {
  readonly structure: FrameStructure;
  readonly groups: readonly LoadGroup[];
  readonly index: Readonly<Record<string, number>>;
}

/** @param grow changes the dimensions and nothing else. */
export function benchFrame(grow = 1): BenchFrame {
  const nodes: FrameNode[] = [];
  const members: BeamMember[] = [];
  const joints: FrameJoint[] = [];
  const index: Record<string, number> = {};
  const node = (name: string, x: number, y: number, z: number): number => {
    index[name] = nodes.length;
    nodes.push({ name, at: [x * grow, y, z] });
    return nodes.length - 1;
  };
  /** A run of `parts` members between two named nodes; the second may be new nodes of a joint. */
  const run = (from: string, to: string, parts: number, od: number, wall: number): void => {
    const a = nodes[index[from]!]!.at;
    const b = nodes[index[to]!]!.at;
    const x = unit(sub(b, a));
    const y = unit(cross(Math.abs(x[2]) > 0.9 ? [1, 0, 0] : [0, 0, 1], x));
    let last = index[from]!;
    for (let k = 1; k <= parts; k++) {
      const p = (t: number): Vec3 => [a[0] + t * (b[0] - a[0]), a[1] + t * (b[1] - a[1]), a[2] + t * (b[2] - a[2])];
      const q = p(k / parts);
      const next = k === parts ? index[to]! : node(`${from}_${to}_${k}`, q[0] / grow, q[1], q[2]);
      // A butted tube: three pieces in one member.
      const cuts = [0, 0.25, 0.75, 1].map((t) => p((k - 1 + t) / parts));
      const pieces = [0, 1, 2].map((i) => ({
        from: cuts[i]!,
        to: cuts[i + 1]!,
        y,
        E: 70000,
        G: 26300,
        section: tube(od, i === 1 ? wall * 0.8 : wall),
      }));
      const axes = [x, y, cross(x, y)] as const;
      const flex =
        k === 1
          ? [{ end: 0 as const, what: 'wall', axes, compliance: [1e-6, 1e-6, 1e-6, 0, 1e-8, 1e-8] as const }]
          : [];
      members.push({ name: `${from}-${to}-${k}`, from: last, to: next, pieces, flex });
      last = next;
    }
  };
  const joint = (name: string, from: string, to: string, bend: number): void => {
    const axes = [
      [1, 0, 0],
      [0, 1, 0],
      [0, 0, 1],
    ] as const;
    const law = (closed: number) => ({ closed });
    joints.push({
      name,
      role: 'joint',
      from: index[from]!,
      to: index[to]!,
      at: nodes[index[from]!]!.at,
      axes,
      laws: [law(8e4), law(8e4), law(8e4), law(bend), law(bend), law(bend * 0.7)],
    });
  };
  node('axle_l', 0, 60, 200);
  node('axle_r', 0, -60, 200);
  node('axle', 0, 0, 200);
  node('crank', 420, 0, 290);
  node('crank_l', 420, 60, 290);
  node('crank_r', 420, -60, 290);
  node('seat_foot', 330, 0, 480);
  node('hinge_rear', 600, 0, 500);
  node('hinge_front', 600, 0, 500);
  node('head_top', 850, 0, 640);
  node('head_bottom', 890, 0, 510);
  node('steerer_top', 850, 0, 640);
  node('steerer_bottom', 890, 0, 510);
  node('crown_l', 895, 45, 490);
  node('crown_r', 895, -45, 490);
  node('front_l', 985, 50, 200);
  node('front_r', 985, -50, 200);
  node('front', 985, 0, 200);
  node('bar_hinge_low', 848, 0, 660);
  node('bar_hinge_up', 848, 0, 660);
  node('bar', 780, 0, 1050);
  node('bar_l', 760, 280, 1055);
  node('bar_r', 760, -280, 1055);
  node('post_foot', 330, 0, 480);
  node('saddle', 200, 0, 950);
  run('axle_l', 'axle', 1, 12, 3);
  run('axle', 'axle_r', 1, 12, 3);
  run('axle_l', 'crank_l', 2, 20, 1.5);
  run('axle_r', 'crank_r', 2, 20, 1.5);
  run('crank_l', 'crank', 1, 40, 4);
  run('crank', 'crank_r', 1, 40, 4);
  run('axle_l', 'seat_foot', 2, 16, 1.5);
  run('axle_r', 'seat_foot', 2, 16, 1.5);
  run('crank', 'seat_foot', 1, 40, 2);
  run('seat_foot', 'hinge_rear', 2, 50, 2);
  run('crank', 'hinge_rear', 2, 30, 2);
  run('hinge_front', 'head_top', 2, 50, 2);
  run('hinge_front', 'head_bottom', 1, 40, 2);
  run('head_top', 'head_bottom', 1, 40, 3);
  run('steerer_top', 'steerer_bottom', 1, 28.6, 2);
  run('steerer_bottom', 'crown_l', 1, 30, 4);
  run('steerer_bottom', 'crown_r', 1, 30, 4);
  run('crown_l', 'front_l', 2, 24, 2);
  run('crown_r', 'front_r', 2, 24, 2);
  run('front_l', 'front', 1, 9, 3);
  run('front', 'front_r', 1, 9, 3);
  run('steerer_top', 'bar_hinge_low', 1, 34, 3);
  run('bar_hinge_up', 'bar', 3, 40, 2);
  run('bar', 'bar_l', 2, 25.4, 2);
  run('bar', 'bar_r', 2, 25.4, 2);
  run('post_foot', 'saddle', 3, 33.9, 2);
  joint('main', 'hinge_rear', 'hinge_front', 3e7);
  joint('upper', 'head_top', 'steerer_top', 1e7);
  joint('lower', 'head_bottom', 'steerer_bottom', 1e7);
  joint('bar_hinge', 'bar_hinge_low', 'bar_hinge_up', 1.5e7);
  joint('clamp', 'seat_foot', 'post_foot', 5e7);
  const hold = (name: string, ...components: number[]): Support[] =>
    components.map((component) => ({ node: index[name]!, component }));
  const pull = (name: string, x: number, y: number, z: number) => ({
    node: index[name]!,
    force: [x, y, z] as Vec3,
    moment: [0, 0, 0] as Vec3,
  });
  const held: Support[][] = [
    [...hold('axle', 0, 1, 2, 3, 5), ...hold('front', 1, 2)],
    [...hold('axle', 0, 1, 2, 3, 4, 5)],
    [...hold('axle', 0, 1, 2), ...hold('front', 0, 1, 2, 3)],
    [...hold('crank', 0, 1, 2, 3, 4, 5)],
    [...hold('head_top', 0, 1, 2, 3, 4, 5)],
    [...hold('axle', 0, 1, 2, 3, 5), ...hold('front', 2, 1, 0)],
    [...hold('crank', 0, 1, 2), ...hold('front', 1, 2), ...hold('axle', 1)],
    [...hold('front', 0, 1, 2, 3, 4, 5)],
    [...hold('steerer_top', 0, 1, 2, 3, 4, 5)],
    [...hold('seat_foot', 0, 1, 2, 3, 4, 5)],
    [...hold('axle', 0, 1, 2, 3, 4, 5), ...hold('front', 2)],
    [...hold('axle_l', 0, 1, 2), ...hold('axle_r', 0, 2), ...hold('front', 1, 2)],
  ];
  const loads = [
    [pull('saddle', 0, 0, -1000)],
    [pull('crank_l', 0, 130, -990)],
    [pull('bar_l', 0, 0, -250), pull('bar_r', 0, 0, 250)],
  ];
  const groups = held.map((supports, i) => ({
    supports,
    fixtures: [],
    loads: i === 0 ? [...loads] : [loads[i % 3]!, loads[(i + 1) % 3]!],
  }));
  return { structure: { nodes, members, joints }, groups, index };
}
