import { z } from 'zod';
import {
  type BeamMember,
  type EndFlex,
  type FrameSolution,
  type FrameStructure,
  frameBuckling,
  frameSecondOrder,
  frameSolver,
  type LoadGroup,
  Mechanism,
  type Support,
  unit,
  type Vec3,
} from '#kernel';
import { CalcMechanism, CalcRefusal, type CalcTopic } from './topic.ts';

const three = (meaning: string) => z.tuple([z.number(), z.number(), z.number()]).describe(meaning);
const six = (meaning: string) =>
  z.tuple([z.number(), z.number(), z.number(), z.number(), z.number(), z.number()]).describe(meaning);
const DIRECTIONS = ['ux', 'uy', 'uz', 'rx', 'ry', 'rz'] as const;

const turn = (axis: string) =>
  z
    .number()
    .nonnegative()
    .optional()
    .describe(`About the member’s local ${axis}, N·mm/rad; 0 releases, absent is rigid`);
const spring = (end: string) =>
  z
    .strictObject({ rx_Nmm_per_rad: turn('x'), ry_Nmm_per_rad: turn('y'), rz_Nmm_per_rad: turn('z') })
    .optional()
    .describe(`Springs between the member’s ${end} and its node`);

const input = z.strictObject({
  nodes: z.record(z.string(), three('Place, mm')).describe('Nodes by name'),
  members: z
    .array(
      z.strictObject({
        id: z.string().min(1).describe('Name, used once'),
        from: z.string().describe('Node at which local x begins'),
        to: z.string().describe('Node at which it ends'),
        E_MPa: z.number().positive().describe('Modulus of elasticity, MPa'),
        G_MPa: z.number().positive().describe('Shear modulus, MPa'),
        A_mm2: z.number().positive().describe('Area, mm²'),
        Iy_mm4: z.number().positive().describe('Second moment about local y (bending in x–z), mm⁴'),
        Iz_mm4: z.number().positive().describe('Second moment about local z (bending in x–y), mm⁴'),
        J_mm4: z.number().positive().describe('Torsion constant, mm⁴'),
        y_axis: three(
          'Direction whose part normal to x is local y; global z if absent, global x for a member parallel to z',
        ).optional(),
        shear_area_y_mm2: z
          .number()
          .positive()
          .optional()
          .describe('Shear area for force along y, mm²; rigid if absent'),
        shear_area_z_mm2: z
          .number()
          .positive()
          .optional()
          .describe('Shear area for force along z, mm²; rigid if absent'),
        spring_from: spring('beginning'),
        spring_to: spring('end'),
      }),
    )
    .min(1)
    .max(2000)
    .describe('Straight prismatic members'),
  supports: z.record(z.string(), z.array(z.enum(DIRECTIONS))).describe('Held directions by node, global axes'),
  loads: z
    .array(
      z.strictObject({
        node: z.string().describe('Node'),
        force_N: three('Force, N').optional(),
        moment_Nmm: three('Moment, N·mm').optional(),
      }),
    )
    .describe('Loads on nodes, global axes'),
  buckling: z.boolean().optional().describe('Also the factor on the loads at which the frame buckles'),
  second_order: z.boolean().optional().describe('Equilibrium on the displaced frame instead of the undisplaced one'),
});

const output = z.strictObject({
  displacements: z.record(z.string(), six('ux uy uz, mm; rx ry rz, rad')).describe('Every node, global axes'),
  reactions: z
    .record(z.string(), six('Force, N, and moment, N·mm, of the support on the frame'))
    .describe('Supported nodes, global axes'),
  members: z
    .record(
      z.string(),
      z.strictObject({
        from: six('N Vy Vz, N; T My Mz, N·mm'),
        to: six('N Vy Vz, N; T My Mz, N·mm'),
      }),
    )
    .describe('Forces and moments that act on the member’s ends, its local axes'),
  residual: z.number().describe('What is out of balance, over the largest force'),
  buckling_factor: z
    .number()
    .nullable()
    .optional()
    .describe('Factor on all loads at which the frame buckles, to 0.1 %; null when nothing compressed can'),
});

type Input = z.infer<typeof input>;
type Output = z.infer<typeof output>;
type Six = [number, number, number, number, number, number];
type Given = Input['members'][number];

/** Sine of the angle below which two directions count as parallel. */
const PARALLEL = 1e-6;

const refuse = (message: string, ...path: (string | number)[]): never => {
  throw new CalcRefusal(message, path.join('.'));
};

interface Axes {
  readonly x: Vec3;
  readonly y: Vec3;
  readonly z: Vec3;
}

function axesOf(m: Given, i: number, from: Vec3, to: Vec3): Axes {
  const line: Vec3 = [to[0] - from[0], to[1] - from[1], to[2] - from[2]];
  const size = Math.max(Math.abs(line[0]), Math.abs(line[1]), Math.abs(line[2]));
  if (!(size > 0 && size < Infinity))
    return refuse(`member ${m.id} has no length: ${m.from} and ${m.to} are at one place`, 'members', i, 'to');
  const x = unit([line[0] / size, line[1] / size, line[2] / size]);
  /** Part of v normal to x, or nothing when they are parallel. */
  const normal = (v: Vec3): Vec3 | undefined => {
    const most = Math.max(Math.abs(v[0]), Math.abs(v[1]), Math.abs(v[2]));
    if (!(most > 0)) return undefined;
    const w = unit([v[0] / most, v[1] / most, v[2] / most]);
    const c = w[0] * x[0] + w[1] * x[1] + w[2] * x[2];
    const n: Vec3 = [w[0] - c * x[0], w[1] - c * x[1], w[2] - c * x[2]];
    return Math.sqrt(n[0] * n[0] + n[1] * n[1] + n[2] * n[2]) > PARALLEL ? unit(n) : undefined;
  };
  const y =
    m.y_axis === undefined
      ? (normal([0, 0, 1]) ?? normal([1, 0, 0])!)
      : (normal(m.y_axis) ?? refuse(`y_axis of member ${m.id} is parallel to it`, 'members', i, 'y_axis'));
  return { x, y, z: [x[1] * y[2] - x[2] * y[1], x[2] * y[0] - x[0] * y[2], x[0] * y[1] - x[1] * y[0]] };
}

function flexOf(m: Given, { x, y, z }: Axes): EndFlex[] {
  return ([m.spring_from, m.spring_to] as const).flatMap((s, end): EndFlex[] => {
    if (s === undefined) return [];
    const [a, b, c] = [s.rx_Nmm_per_rad, s.ry_Nmm_per_rad, s.rz_Nmm_per_rad].map((k) =>
      k === undefined ? 0 : k === 0 ? Infinity : 1 / k,
    ) as [number, number, number];
    const what = end === 0 ? 'spring_from' : 'spring_to';
    return [{ end: end as 0 | 1, what, axes: [x, y, z], compliance: [0, 0, 0, a, b, c] }];
  });
}

interface Read {
  readonly structure: FrameStructure;
  readonly group: LoadGroup;
  readonly axes: readonly Axes[];
  readonly names: readonly string[];
}

function read(given: Input): Read {
  const names = Object.keys(given.nodes);
  const index = new Map(names.map((name, i) => [name, i]));
  const node = (name: string, ...path: (string | number)[]): number =>
    index.get(name) ?? refuse(`there is no node ${JSON.stringify(name)}`, ...path);
  const seen = new Set<string>();
  const axes: Axes[] = [];
  const members = given.members.map((m, i): BeamMember => {
    if (seen.has(m.id)) refuse(`the id ${JSON.stringify(m.id)} is used twice`, 'members', i, 'id');
    seen.add(m.id);
    const from = node(m.from, 'members', i, 'from');
    const to = node(m.to, 'members', i, 'to');
    const [a, b] = [given.nodes[m.from]!, given.nodes[m.to]!];
    const own = axesOf(m, i, a, b);
    axes.push(own);
    const section = {
      area: m.A_mm2,
      iy: m.Iy_mm4,
      iz: m.Iz_mm4,
      j: m.J_mm4,
      asy: m.shear_area_y_mm2 ?? Infinity,
      asz: m.shear_area_z_mm2 ?? Infinity,
    };
    const piece = { from: a, to: b, y: own.y, E: m.E_MPa, G: m.G_MPa, section };
    return { name: m.id, from, to, pieces: [piece], flex: flexOf(m, own) };
  });
  const supports = Object.entries(given.supports).flatMap(([name, held]): Support[] => {
    const at = node(name, 'supports', name);
    return [...new Set(held)].map((word) => ({ node: at, component: DIRECTIONS.indexOf(word) }));
  });
  const loads = given.loads.map((load, i) => ({
    node: node(load.node, 'loads', i, 'node'),
    force: load.force_N ?? ([0, 0, 0] as const),
    moment: load.moment_Nmm ?? ([0, 0, 0] as const),
  }));
  const structure = { nodes: names.map((name) => ({ name, at: given.nodes[name]! })), members, joints: [] };
  return { structure, group: { supports, fixtures: [], loads: [loads] }, axes, names };
}

function solution({ structure, group }: Read, secondOrder: boolean): FrameSolution {
  if (!secondOrder) return frameSolver(structure, [group]).solve(group)[0]!;
  const result = frameSecondOrder(structure, group, 0);
  return (
    result.solution ??
    refuse(
      result.reason === 'above the buckling load'
        ? 'the loads are above those that buckle the frame: it has no second-order equilibrium nearby'
        : `no second-order answer: ${result.reason}`,
      'loads',
    )
  );
}

function written({ axes, names, group }: Read, given: Input, s: FrameSolution): Output {
  const reactions: Record<string, Six> = {};
  for (const name of Object.keys(given.supports)) reactions[name] = [0, 0, 0, 0, 0, 0];
  group.supports.forEach(({ node, component }, i) => {
    reactions[names[node]!]![component] = s.reaction[i]!;
  });
  const members: Output['members'] = {};
  given.members.forEach(({ id }, m) => {
    const { x, y, z } = axes[m]!;
    const along = (o: number): number[] =>
      [x, y, z].map((e) => s.end[o]! * e[0] + s.end[o + 1]! * e[1] + s.end[o + 2]! * e[2]);
    const end = (o: number) => [...along(o), ...along(o + 3)] as Six;
    members[id] = { from: end(12 * m), to: end(12 * m + 6) };
  });
  return {
    displacements: Object.fromEntries(names.map((name, n) => [name, [...s.u.subarray(6 * n, 6 * n + 6)] as Six])),
    reactions,
    members,
    residual: s.residual,
  };
}

/** A frame of straight members: motions, reactions, end forces; buckling and second order on request. */
export const topic: CalcTopic<Input, Output> = {
  name: 'frame',
  meaning: 'a space frame of straight Timoshenko members: displacements, reactions, end forces, buckling, second order',
  method:
    'stiffness method, Przemieniecki 1968, Theory of Matrix Structural Analysis, ch. 5–6 and 15; any consistent units work',
  input,
  output,
  run(given) {
    const frame = read(given);
    try {
      const answer = written(frame, given, solution(frame, given.second_order === true));
      if (given.buckling !== true) return answer;
      const { factor, converged, reason } = frameBuckling(frame.structure, frame.group, 0);
      if (!converged) throw new CalcRefusal(`no buckling factor: ${reason}`, 'buckling');
      return { ...answer, buckling_factor: factor === Infinity ? null : factor };
    } catch (error) {
      if (error instanceof Mechanism) throw new CalcMechanism(error.message, error.node, error.direction);
      if (error instanceof RangeError) throw new CalcRefusal(error.message);
      throw error;
    }
  },
};
