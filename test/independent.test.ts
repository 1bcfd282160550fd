/**
 * The figures of the quayside bicycles, computed a second time from the ride posture by other means: motions move by move, distances
 * by search over points, the box by turning it. Nothing here calls the kernel's poses, distances, proofs or boxes; only the
 * figures that it prints are compared. See `independent-geometry.ts`.
 */
import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import type { Model, State } from '#kernel';
import { type ResolvedCandidate, readProject } from '#project';
import { evaluate, openWorkspace, plan } from '#study';
import { expectWithin } from './expect-within.ts';
import {
  after,
  behind,
  carry,
  jointMotion,
  type Motion,
  moveShape,
  type Nearest,
  nearest,
  pairKey,
  pairsOf,
  reach,
  rideShapes,
  type Shape,
  still,
  turnAbout,
  type V,
} from './independent-geometry.ts';

const root = join(import.meta.dirname, '..', 'examples', 'quayside');
const files = readdirSync(root, { recursive: true, encoding: 'utf8' }).filter((f) => f.endsWith('.yaml'));
const { project } = readProject(
  new Map(files.map((f) => [f.replaceAll('\\', '/'), readFileSync(join(root, f), 'utf8')])),
);
const workspace = openWorkspace(project!);

/** A proof may stop this far above the true least, and the sampled least lies above it too (0.2 mm + 5 % is what the page promises). */
const CLEARANCE = { absolute: 0.0003 };
/** Supports are exact on both sides; what is left is the step of the turn. */
const BOX = { absolute: 0.0005 };
/** Sums of some fifty numbers in another order, of the size of a metre. */
const ROUNDOFF = { absolute: 1e-9 };
/** A closed loop is solved by the kernel to this gap and drawn in closed form here, m. */
const CLOSURE = { absolute: 1e-6 };
/** Gaps from here on are of no interest, m. */
const BEYOND = 0.012;
/** Between postures, rad and m. */
const TURN_STEP = (1.5 * Math.PI) / 180;
const SLIDE_STEP = 0.005;

const density: Record<string, number> = {
  '6061-T6': 2700,
  '6082-T6': 2700,
  '7075-T6': 2810,
  '25CrMo4': 7830,
  '42CrMo4+QT': 7850,
};

interface Bench {
  readonly model: Model;
  readonly state: State;
  readonly shapes: readonly Shape[];
  readonly pairs: readonly [number, number][];
  readonly figure: (id: string) => number;
  readonly foldedCom: V;
}
function benchOf(c: ResolvedCandidate): Bench {
  const state = c.model.newState();
  c.model.fill(c.model.x, state);
  const shapes = rideShapes(c.model, state);
  const result = evaluate(plan(c, workspace.setting, workspace.reference, ['drag', 'settle']));
  return {
    model: c.model,
    state,
    shapes,
    pairs: pairsOf(shapes, new Set(c.excluded.map((e) => pairKey(e.a, e.b)))),
    figure: (id) => {
      const i = result.quantities.findIndex((q) => q.id === id);
      expect(i, id).toBeGreaterThanOrEqual(0);
      return result.value[i]!;
    },
    foldedCom: result.results.box!.folded.whole.com,
  };
}

/** Where all bodies are when joint `j` has gone by `amount` from the posture `base`. */
function moved({ model, state }: Bench, base: readonly Motion[], j: number, amount: number): Motion[] {
  const { joints, bodies } = model.top.names;
  if (joints[j] === 'swing' && joints.includes('lead')) {
    // Two equal links that start parallel stay parallel: what they carry is shifted, not turned.
    const named = (name: string): number => joints.indexOf(name);
    const out = base.slice();
    for (const [link, pivot] of [
      ['link_b', 'swing'],
      ['link_a', 'lead'],
    ] as const) {
      const b = bodies.indexOf(link);
      out[b] = after(jointMotion(model, state, named(pivot), base[model.top.jointA[named(pivot)]!]!, amount), base[b]!);
    }
    const tip = [0, 1, 2].map((k) => state.joint[6 * named('swing_tip') + k]!) as [number, number, number];
    const link = bodies.indexOf('link_b');
    const [from, to] = [carry(base[link]!, tip), carry(out[link]!, tip)];
    const shifted: Motion = { ...still, t: [to[0] - from[0], to[1] - from[1], to[2] - from[2]] };
    for (const name of ['front', 'fork', 'bar']) {
      const b = bodies.indexOf(name);
      out[b] = after(shifted, base[b]!);
    }
    return out;
  }
  const motion = jointMotion(model, state, j, base[model.top.jointA[j]!]!, amount);
  const carried = behind(model, j, pins(model));
  return base.map((t, b) => (carried.has(b) ? after(motion, t) : t));
}
const pins = ({ top }: Model): Set<number> => new Set([...top.kind.keys()].filter((k) => top.kind[k] === 4));

/** Least gap among pairs whose bodies move against one another, over evenly spaced postures. */
function sweep(b: Bench, base: readonly Motion[], j: number, by: number): Nearest | undefined {
  const slides = b.model.top.kind[j] === 1 || b.model.top.kind[j] === 3;
  const steps = Math.ceil(Math.abs(by) / (slides ? SLIDE_STEP : TURN_STEP));
  const half = moved(b, base, j, by / 2);
  // Two bodies keep still to each other when the distances between three marks on each stay as they are.
  const alike = (p: number, q: number): boolean =>
    MARKS.every((x) => MARKS.every((y) => Math.abs(apart(base, p, x, q, y) - apart(half, p, x, q, y)) < 1e-9));
  const pairs = b.pairs.filter(([x, y]) => !alike(b.shapes[x]!.body, b.shapes[y]!.body));
  let least: Nearest | undefined;
  for (let i = 0; i <= steps; i++) {
    const now = moved(b, base, j, (by * i) / steps);
    const found = nearest(
      b.shapes.map((s) => moveShape(s, now[s.body]!)),
      pairs,
      least?.gap ?? BEYOND,
    );
    if (found) least = found;
  }
  return least;
}
/** Sides of the least box with one axis along the rear axle: the longer one across it, along it, the shorter one. */
function boxOf({ model, shapes }: Bench, posture: readonly Motion[]): V {
  const folded = shapes.map((s) => moveShape(s, posture[s.body]!));
  const { r } = posture[model.wheels.rear.body]!;
  const axle: V = [r[0][1], r[1][1], r[2][1]];
  const extent = (d: V): number => {
    const back: V = [-d[0], -d[1], -d[2]];
    return Math.max(...folded.map((s) => reach(s, d))) + Math.max(...folded.map((s) => reach(s, back)));
  };
  const flat = Math.sqrt(axle[0] * axle[0] + axle[1] * axle[1]);
  const u: V = [axle[1] / flat, -axle[0] / flat, 0];
  const v: V = [-axle[2] * u[1], axle[2] * u[0], axle[0] * u[1] - axle[1] * u[0]];
  const mix = (c: number, s: number): V => [c * u[0] + s * v[0], c * u[1] + s * v[1], c * u[2] + s * v[2]];
  let least: readonly [number, number] = [Number.POSITIVE_INFINITY, 1];
  for (let i = 0; i < 1800; i++) {
    const [c, s] = [Math.cos((i * Math.PI) / 3600), Math.sin((i * Math.PI) / 3600)];
    const sides = [extent(mix(c, s)), extent(mix(-s, c))] as const;
    if (sides[0] * sides[1] < least[0] * least[1]) least = sides;
  }
  return [Math.max(...least), extent(axle), Math.min(...least)];
}

const MARKS: readonly V[] = [
  [0, 0, 0],
  [1, 0.3, 0.2],
  [0.1, -0.7, 0.9],
];
function apart(m: readonly Motion[], p: number, x: V, q: number, y: V): number {
  const [u, v] = [carry(m[p]!, x), carry(m[q]!, y)];
  return Math.sqrt((u[0] - v[0]) ** 2 + (u[1] - v[1]) ** 2 + (u[2] - v[2]) ** 2);
}
const told = (b: Bench, n: Nearest | undefined): string =>
  n ? `${(n.gap * 1000).toFixed(2)} mm: ${b.shapes[n.pair[0]]!.name}, ${b.shapes[n.pair[1]]!.name}` : 'nothing near';

describe.each(workspace.candidates.map((c) => [c.id, c] as const))('%s, computed a second time', (_, candidate) => {
  const b = benchOf(candidate);
  const { model, state, figure } = b;
  const { top } = model;
  const start: Motion[] = Array.from({ length: top.bodyCount }, () => still);

  it('weighs every tube as area × length × density of its text', () => {
    let tubes = 0;
    for (const [body, { tubes: list = [] }] of Object.entries(candidate.data.bodies))
      list.forEach((tube, i) => {
        if (tube.bend_radius !== undefined) return;
        const name = `${body}.${tube.name ?? `${tube.from}_to_${tube.to}`}`;
        const member = model.members.find((m) => m.name === name);
        expect(member, `${name} (${i})`).toBeDefined();
        const [kind] = tube.section.split(' ');
        const n = [...tube.section.matchAll(/[\d.]+/g)].map((m) => Number(m[0]) / 1000);
        const [h, w, t] = kind === 'round' ? [n[0]!, n[0]!, n[1]!] : [n[0]!, n[1]!, n[2]!];
        const box = h * w - (h - 2 * t) * (w - 2 * t);
        const area = kind === 'rectangular' ? box : (box * Math.PI) / 4;
        let length = 0;
        for (let k = 1; k < member!.path.length; k++) {
          const [p, q] = [member!.path[k - 1]!, member!.path[k]!];
          const d = [0, 1, 2].map((x) => state.station[3 * q + x]! - state.station[3 * p + x]!);
          length += Math.sqrt(d.reduce((sum, x) => sum + x * x, 0));
        }
        expectWithin(
          state.mass[10 * top.names.masses.indexOf(name)]!,
          area * length * density[tube.material]!,
          ROUNDOFF,
          name,
        );
        tubes++;
      });
    expect(tubes).toBeGreaterThan(8);
  });

  it('looks at every pair on different bodies that is not named as left out, with a reason', () => {
    const looked = new Set<number>();
    for (const list of [top.pairs, top.ridePairs])
      for (let i = 0; i < list.length; i += 2) looked.add(pairKey(list[i]!, list[i + 1]!));
    expect(b.pairs.filter(([x, y]) => !looked.has(pairKey(x, y)))).toEqual([]);
    expect(looked.size).toBe(b.pairs.length);
    for (const e of candidate.excluded) expect(e.because.length).toBeGreaterThan(5);
  });

  it('comes no nearer in any move than the tool says, and fills the box that it says', () => {
    let posture = start;
    const q = new Float64Array(top.kind.length);
    for (const move of model.fold) {
      if (move.to < 0) continue;
      const by = state.value[move.to]! - q[move.joint]!;
      const joint = top.names.joints[move.joint]!;
      const own = sweep(b, posture, move.joint, by);
      const said = figure(`fold.move.${joint}.clearance`);
      if (own && said < BEYOND) expectWithin(own.gap, said, CLEARANCE, `${joint}, ${told(b, own)}`);
      else expect(said, `${joint}, ${told(b, own)}`).toBeGreaterThan(BEYOND - CLEARANCE.absolute);
      posture = moved(b, posture, move.joint, by);
      q[move.joint] = state.value[move.to]!;
    }

    const [length, width, height] = boxOf(b, posture);
    expectWithin(figure('fold.box.length'), length, BOX);
    expectWithin(figure('fold.box.width'), width, BOX);
    expectWithin(figure('fold.box.height'), height, BOX);

    // The folded masses are where the second computation puts them.
    let mass = 0;
    const com = [0, 0, 0];
    top.massBody.forEach((body, e) => {
      const at = carry(posture[body]!, [state.mass[10 * e + 1]!, state.mass[10 * e + 2]!, state.mass[10 * e + 3]!]);
      mass += state.mass[10 * e]!;
      for (let k = 0; k < 3; k++) com[k]! += state.mass[10 * e]! * at[k]!;
    });
    expectWithin(mass, figure('mass.total'), ROUNDOFF);
    for (let k = 0; k < 3; k++) expectWithin(b.foldedCom[k]!, com[k]! / mass, CLOSURE);
  });

  it('turns its cranks as far from everything as the tool says', () => {
    const own = sweep(b, start, top.names.joints.indexOf('cranks'), 2 * Math.PI);
    const said = figure('fold.crank_clearance');
    if (said < BEYOND) expectWithin(own!.gap, said, CLEARANCE, told(b, own));
    else expect(own === undefined || own.gap > BEYOND - CLEARANCE.absolute).toBe(true);
  });

  it('touches nothing when the handlebar turns as far as the tool says that it is free', () => {
    const free = figure('steer.free_angle');
    for (const side of [1, -1]) {
      const own = sweep(b, start, model.roles.steerer, side * free * 0.999);
      expect(own?.gap ?? BEYOND, told(b, own)).toBeGreaterThan(0);
    }
  });
});

it('would notice a hinge that leans by half a degree more than the file says', () => {
  const b = benchOf(workspace.candidates.find((c) => c.id === 'side_beam')!);
  const { model, state, figure } = b;
  const j = model.top.names.joints.indexOf('main');
  const axis = [0, 1, 2].map((k) => state.joint[6 * j + 3 + k]!) as [number, number, number];
  const leaning = turnAbout([0, 0, 0], [1, 0, 0], (0.5 * Math.PI) / 180);
  state.joint.set(carry(leaning, axis), 6 * j + 3);
  let posture: Motion[] = Array.from({ length: model.top.bodyCount }, () => still);
  for (const move of model.fold) if (move.to >= 0) posture = moved(b, posture, move.joint, state.value[move.to]!);
  expect(Math.abs(boxOf(b, posture)[1] - figure('fold.box.width'))).toBeGreaterThan(5 * BOX.absolute);
});
