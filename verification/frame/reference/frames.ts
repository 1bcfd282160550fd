/**
 * The reference frames: files of `foldwright calc frame`'s input in `frames/`, every member a round pipe of an isotropic
 * material. Pipe and Poisson's ratio are read back from the section values, so that each file stays plain input and
 * nothing is kept twice. Units mm, N, MPa, rad. All dimensions are invented.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { beamSection } from '#kernel';

export type Triple = readonly [number, number, number];
export type Direction = 'ux' | 'uy' | 'uz' | 'rx' | 'ry' | 'rz';
export const DIRECTIONS: readonly Direction[] = ['ux', 'uy', 'uz', 'rx', 'ry', 'rz'];
type SpringKey = 'rx_Nmm_per_rad' | 'ry_Nmm_per_rad' | 'rz_Nmm_per_rad';
/** All three are given: a spring that is rigid about one axis would need a constraint, which no frame here uses. */
export type Spring = Readonly<Record<SpringKey, number>>;

export interface PipeMember {
  readonly id: string;
  readonly from: string;
  readonly to: string;
  readonly E_MPa: number;
  readonly G_MPa: number;
  readonly A_mm2: number;
  readonly Iy_mm4: number;
  readonly Iz_mm4: number;
  readonly J_mm4: number;
  readonly shear_area_y_mm2?: number;
  readonly shear_area_z_mm2?: number;
  readonly spring_from?: Spring;
}

export interface ReferenceFrame {
  readonly nodes: Readonly<Record<string, Triple>>;
  readonly members: readonly PipeMember[];
  readonly supports: Readonly<Record<string, readonly Direction[]>>;
  readonly loads: readonly { readonly node: string; readonly force_N?: Triple; readonly moment_Nmm?: Triple }[];
  readonly buckling?: boolean;
}

export interface Pipe {
  readonly outer: number;
  readonly wall: number;
  readonly nu: number;
}

const FOLDER = join(import.meta.dirname, 'frames');

export const frameNames: readonly string[] = readdirSync(FOLDER)
  .filter((name) => name.endsWith('.json'))
  .map((name) => name.slice(0, -'.json'.length))
  .sort();

export const loadFrame = (name: string): ReferenceFrame =>
  JSON.parse(readFileSync(join(FOLDER, `${name}.json`), 'utf8')) as ReferenceFrame;

const near = (a: number, b: number): boolean => Math.abs(a - b) <= 1e-9 * Math.abs(b);

/**
 * Outer radius, wall and Poisson's ratio of a member: A = π(R² − r²), I = A(R² + r²)/4, G = E/2(1 + ν).
 * @throws where the section is no round pipe.
 */
export function pipeOf(m: PipeMember): Pipe {
  const sum = (4 * m.Iz_mm4) / m.A_mm2;
  const difference = m.A_mm2 / Math.PI;
  const outer = Math.sqrt((sum + difference) / 2);
  const wall = outer - Math.sqrt((sum - difference) / 2);
  const nu = m.E_MPa / (2 * m.G_MPa) - 1;
  if (!(wall > 0 && near(m.Iy_mm4, m.Iz_mm4) && near(m.J_mm4, 2 * m.Iz_mm4)))
    throw new Error(`member ${m.id} is no round pipe`);
  return { outer, wall, nu };
}

/** The same pipes of a material that does not contract sideways: ν = 0, G = E/2, and the shear area that goes with it. */
export function withoutPoisson(frame: ReferenceFrame): ReferenceFrame {
  const members = frame.members.map((m) => {
    const { outer, wall } = pipeOf(m);
    const shear = beamSection('round', 2 * outer, 2 * outer, wall, 0).asy;
    return { ...m, G_MPa: m.E_MPa / 2, shear_area_y_mm2: shear, shear_area_z_mm2: shear };
  });
  return { ...frame, members };
}

/** The same frame of members that do not give in shear (Euler–Bernoulli). */
export function withoutShear(frame: ReferenceFrame): ReferenceFrame {
  const members = frame.members.map(({ shear_area_y_mm2: _y, shear_area_z_mm2: _z, ...m }) => m);
  return { ...frame, members };
}

export const lengthOf = (frame: ReferenceFrame, m: PipeMember): number => {
  const [a, b] = [frame.nodes[m.from]!, frame.nodes[m.to]!];
  const d = a.map((x, i) => b[i]! - x);
  return Math.sqrt(d[0]! * d[0]! + d[1]! * d[1]! + d[2]! * d[2]!);
};

/** Length by which a rigid ring shortens the elastic part of a tube: edge disturbance of a cylinder, ν² √(Rt)/⁴√(3(1 − ν²)). */
export const hamperedLength = ({ outer, wall, nu }: Pipe): number =>
  (nu * nu * Math.sqrt((outer - wall / 2) * wall)) / Math.sqrt(Math.sqrt(3 * (1 - nu * nu)));

/** Stiffness of the hampered part in bending and along the axis, over the pipe's own: as good as rigid, and well conditioned. */
const RIGID = 1e4;

/**
 * The frame as its solid model has it: every tube ends in a rigid ring that keeps it from contracting sideways, so that a
 * length `hamperedLength` at either end does not bend or stretch (it twists and shears as before).
 */
export function withHamperedEnds(frame: ReferenceFrame): ReferenceFrame {
  const nodes: Record<string, Triple> = { ...frame.nodes };
  const members = frame.members.flatMap((m): PipeMember[] => {
    const share = hamperedLength(pipeOf(m)) / lengthOf(frame, m);
    const [a, b] = [frame.nodes[m.from]!, frame.nodes[m.to]!];
    const [p, q] = [`${m.id} begins`, `${m.id} ends`];
    nodes[p] = a.map((x, i) => x + share * (b[i]! - x)) as unknown as Triple;
    nodes[q] = a.map((x, i) => b[i]! - share * (b[i]! - x)) as unknown as Triple;
    const { spring_from, ...plain } = m;
    const [A_mm2, Iy_mm4, Iz_mm4] = [RIGID * m.A_mm2, RIGID * m.Iy_mm4, RIGID * m.Iz_mm4];
    const stiff = { ...plain, A_mm2, Iy_mm4, Iz_mm4 };
    return [
      { ...stiff, id: p, to: p, ...(spring_from ? { spring_from } : {}) },
      { ...plain, from: p, to: q },
      { ...stiff, id: q, from: q },
    ];
  });
  return { ...frame, nodes, members };
}

/**
 * Shear areas by the energy of the shear stress instead of Cowper's mean displacement: for a thin tube the flow follows
 * from equilibrium alone and κ = 1/2 whatever ν, which is what Cowper's formula gives for ν = 0.
 */
export function withEnergyShear(frame: ReferenceFrame): ReferenceFrame {
  const members = frame.members.map((m) => {
    const { outer, wall } = pipeOf(m);
    const shear = beamSection('round', 2 * outer, 2 * outer, wall, 0).asy;
    return { ...m, shear_area_y_mm2: shear, shear_area_z_mm2: shear };
  });
  return { ...frame, members };
}
