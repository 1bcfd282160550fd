/**
 * Input deck of CalculiX (general-purpose finite-element program) for a reference frame, every pipe modelled as what it is:
 * a tube of 20-node bricks (C3D20R), without any beam theory.
 *
 * A tube reaches from node to node of the centre lines. All rings that end at a node move with it as one rigid body, whose
 * reference node carries force and displacement and whose rotation node carries moment and rotation: this is the rigid
 * joint of the beam model. Tubes pass through each other near a joint; meshes are not connected there, as the
 * beam model's are not. A ring behind a spring is a rigid body of its own, tied in translation, with SPRING2 elements
 * between the two rotation nodes.
 * The text is a function of the frame and the mesh; coordinates have six decimals, so that it does not depend on the engine.
 */
import { DIRECTIONS, lengthOf, type PipeMember, pipeOf, type ReferenceFrame, type Triple } from './frames.ts';

export interface Mesh {
  /** Bricks around a tube. */
  readonly around: number;
  /** Lengths of the bricks at a tube's ends, beginning at the end, in outer diameters. */
  readonly ends: readonly number[];
  /** Longest brick between them, in outer diameters. */
  readonly middle: number;
}
/** Chosen by the mesh study of docs/methods/frame-reference.md. */
export const MESH: Mesh = { around: 16, ends: [0.15, 0.25, 0.4], middle: 2.5 };

export interface Deck {
  readonly text: string;
  /** Reference node of each frame node; its rotation node is the next number. */
  readonly reference: Readonly<Record<string, number>>;
  /** Rotation node of the ring behind a spring, by member. */
  readonly springs: Readonly<Record<string, number>>;
}

/** Ends of the bricks along a tube, 0 … length. */
export function stations(length: number, diameter: number, mesh: Mesh): number[] {
  const at: number[] = [0];
  for (const share of mesh.ends) {
    const next = at.at(-1)! + share * diameter;
    if (next > 0.4 * length) break;
    at.push(next);
  }
  const inner = length - 2 * at.at(-1)!;
  const count = Math.max(2, Math.ceil(inner / (mesh.middle * diameter)));
  const first = at.at(-1)!;
  const left = [...at];
  for (let i = 1; i < count; i++) at.push(first + (inner * i) / count);
  for (const x of left.reverse()) at.push(length - x);
  return at;
}

interface Tube {
  readonly nodes: readonly Triple[];
  /** Twenty places in `nodes`, in the program's order. */
  readonly bricks: readonly (readonly number[])[];
  readonly first: readonly number[];
  readonly last: readonly number[];
}

/** Any two directions square to the axis: the section is round. */
function across(x: Triple): [Triple, Triple] {
  const pick: Triple = Math.abs(x[2]) < 0.9 ? [0, 0, 1] : [1, 0, 0];
  const cross = (a: Triple, b: Triple): Triple => [
    a[1] * b[2] - a[2] * b[1],
    a[2] * b[0] - a[0] * b[2],
    a[0] * b[1] - a[1] * b[0],
  ];
  const c = cross(pick, x);
  const size = Math.sqrt(c[0] * c[0] + c[1] * c[1] + c[2] * c[2]);
  const y: Triple = [c[0] / size, c[1] / size, c[2] / size];
  return [y, cross(x, y)];
}

function tubeMesh(frame: ReferenceFrame, m: PipeMember, mesh: Mesh): Tube {
  const { outer, wall } = pipeOf(m);
  const length = lengthOf(frame, m);
  const [from, to] = [frame.nodes[m.from]!, frame.nodes[m.to]!];
  const x = from.map((a, i) => (to[i]! - a) / length) as unknown as Triple;
  const [y, z] = across(x);
  const along = stations(length, 2 * outer, mesh);
  const nodes: Triple[] = [];
  const places = new Map<string, number>();
  /** Half steps: layer i along, j around, k through the wall (0 inside, 2 outside). */
  const node = (i: number, around: number, k: number): number => {
    const j = around % (2 * mesh.around);
    const key = `${i} ${j} ${k}`;
    const known = places.get(key);
    if (known !== undefined) return known;
    const s = (along[Math.floor(i / 2)]! + along[Math.ceil(i / 2)]!) / 2;
    const r = outer - wall + (wall * k) / 2;
    const a = (Math.PI * j) / mesh.around;
    const [cy, cz] = [r * Math.cos(a), r * Math.sin(a)];
    nodes.push(from.map((o, d) => o + s * x[d]! + cy * y[d]! + cz * z[d]!) as unknown as Triple);
    places.set(key, nodes.length - 1);
    return nodes.length - 1;
  };
  const bricks: number[][] = [];
  const layers = along.length - 1;
  for (let e = 0; e < layers; e++)
    for (let c = 0; c < mesh.around; c++) {
      const [i, j] = [2 * e, 2 * c];
      const corners = [j, 0, j, 2, j + 2, 2, j + 2, 0];
      const edges = [j, 1, j + 1, 2, j + 2, 1, j + 1, 0];
      const face = (layer: number, at: readonly number[]): number[] =>
        [0, 2, 4, 6].map((p) => node(layer, at[p]!, at[p + 1]!));
      bricks.push([
        ...face(i, corners),
        ...face(i + 2, corners),
        ...face(i, edges),
        ...face(i + 2, edges),
        ...face(i + 1, corners),
      ]);
    }
  const ring = (layer: number): number[] =>
    [...places].filter(([key]) => key.startsWith(`${layer} `)).map(([, place]) => place);
  return { nodes, bricks, first: ring(0), last: ring(2 * layers) };
}

/** A coordinate with six decimals; no negative zero. */
export const shown = (v: number): string => {
  const text = v.toFixed(6);
  return /^-0\.0+$/.test(text) ? text.slice(1) : text;
};
/** With a decimal point: the program stumbles over long whole numbers where it expects reals. */
export const real = (v: number): string => (Number.isInteger(v) ? `${v}.` : `${v}`);
const rows = (numbers: readonly number[]): string[] => {
  const lines: string[] = [];
  for (let i = 0; i < numbers.length; i += 12) lines.push(numbers.slice(i, i + 12).join(','));
  return lines;
};

/** Places of a node's loads and supports on its reference and rotation node. */
export function caseCards(
  frame: ReferenceFrame,
  at: (node: string, component: number) => readonly [number, number],
): { boundary: string[]; loads: string[] } {
  const boundary = Object.entries(frame.supports).flatMap(([name, held]) =>
    held.map((word) => {
      const [node, dof] = at(name, DIRECTIONS.indexOf(word));
      return `${node},${dof},${dof}`;
    }),
  );
  const loads = frame.loads.flatMap(({ node: name, force_N: f = [0, 0, 0], moment_Nmm: q = [0, 0, 0] }) =>
    [...f, ...q].flatMap((value, component) => {
      const [node, dof] = at(name, component);
      return value === 0 ? [] : [`${node},${dof},${real(value)}`];
    }),
  );
  return { boundary, loads };
}

/** @throws where a spring's member does not lie along global x: springs are told about global axes. */
export function solidDeck(title: string, frame: ReferenceFrame, mesh: Mesh = MESH): Deck {
  const names = Object.keys(frame.nodes);
  const reference = Object.fromEntries(names.map((name, i) => [name, 2 * i + 1]));
  let next = 2 * names.length + 1;
  const head: string[] = names.flatMap((name) => {
    const p = frame.nodes[name]!.map(shown).join(',');
    return [`${reference[name]},${p}`, `${reference[name]! + 1},${p}`];
  });
  const extra: string[] = [];
  const tubes: string[] = [];
  const bodies: string[] = [];
  const rings = new Map<string, number[]>(names.map((name) => [name, []]));
  const springs: Record<string, number> = {};
  let element = 1;
  for (const [index, m] of frame.members.entries()) {
    const tube = tubeMesh(frame, m, mesh);
    const set = `T${index + 1}`;
    const base = next;
    next += tube.nodes.length;
    head.push(...tube.nodes.map((p, i) => `${base + i},${p.map(shown).join(',')}`));
    tubes.push(`** ${m.id}`, `*ELEMENT,TYPE=C3D20R,ELSET=${set}`);
    for (const brick of tube.bricks) {
      const n = brick.map((place) => base + place);
      tubes.push(`${element++},${n.slice(0, 10).join(',')},`, n.slice(10).join(','));
    }
    const { nu } = pipeOf(m);
    tubes.push(`*MATERIAL,NAME=${set}`, '*ELASTIC', `${real(m.E_MPa)},${shown(nu)}`);
    tubes.push(`*SOLID SECTION,ELSET=${set},MATERIAL=${set}`);
    const first = tube.first.map((place) => base + place);
    rings.get(m.to)!.push(...tube.last.map((place) => base + place));
    if (m.spring_from === undefined) {
      rings.get(m.from)!.push(...first);
      continue;
    }
    const [a, b] = [frame.nodes[m.from]!, frame.nodes[m.to]!];
    if (!(b[0] > a[0] && b[1] === a[1] && b[2] === a[2])) throw new Error(`${m.id}: a spring's member lies along +x`);
    // Local y is global z there and local z is −y, so that rx, ry, rz are about global x, z, y.
    const [own, rotation] = [next++, next++];
    springs[m.id] = rotation;
    const p = a.map(shown).join(',');
    head.push(`${own},${p}`, `${rotation},${p}`);
    bodies.push(`*NSET,NSET=S${index + 1}`, ...rows(first));
    bodies.push(`*RIGID BODY,NSET=S${index + 1},REF NODE=${own},ROT NODE=${rotation}`);
    const node = reference[m.from]!;
    for (const dof of [1, 2, 3]) extra.push('*EQUATION', '2', `${own},${dof},1.,${node},${dof},-1.`);
    const { rx_Nmm_per_rad: rx, ry_Nmm_per_rad: ry, rz_Nmm_per_rad: rz } = m.spring_from;
    for (const [dof, k] of [rx, rz, ry].entries()) {
      const name = `K${index + 1}${dof + 1}`;
      extra.push(`*ELEMENT,TYPE=SPRING2,ELSET=${name}`, `${element++},${node + 1},${rotation}`);
      extra.push(`*SPRING,ELSET=${name}`, `${dof + 1},${dof + 1}`, real(k));
    }
  }
  for (const [i, name] of names.entries()) {
    const ring = rings.get(name)!;
    bodies.push(`** ${name}`, `*NSET,NSET=N${i + 1}`, ...rows(ring));
    bodies.push(`*RIGID BODY,NSET=N${i + 1},REF NODE=${reference[name]},ROT NODE=${reference[name]! + 1}`);
  }
  const { boundary, loads } = caseCards(frame, (name, c) => [reference[name]! + (c < 3 ? 0 : 1), (c % 3) + 1]);
  const out = [...names.flatMap((name) => [reference[name]!, reference[name]! + 1]), ...Object.values(springs)];
  const lines = ['*HEADING', title, '*NODE,NSET=NALL', ...head, ...tubes, ...extra, ...bodies];
  lines.push('*NSET,NSET=OUT', ...rows(out), '*BOUNDARY', ...boundary);
  lines.push('*STEP', '*STATIC', '*CLOAD', ...loads, '*NODE PRINT,NSET=OUT', 'U,RF', '*END STEP');
  if (frame.buckling === true) lines.push('*STEP', '*BUCKLE', '2,1e-8,20,10000', '*CLOAD', ...loads, '*END STEP');
  return { text: `${lines.join('\n')}\n`, reference, springs };
}
