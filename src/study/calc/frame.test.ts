import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { topic } from './frame.ts';
import { runCalc } from './run.ts';

const path = join(import.meta.dirname, '..', '..', '..', 'examples', 'calc', 'frame.json');
type Input = Parameters<typeof topic.run>[0];
const example = (JSON.parse(readFileSync(path, 'utf8')) as { input: Input }).input;
const ALL: Input['supports'][string] = ['ux', 'uy', 'uz', 'rx', 'ry', 'rz'];
const bar = {
  id: 'm',
  from: 'a',
  to: 'b',
  E_MPa: 70000,
  G_MPa: 26000,
  A_mm2: 200,
  Iy_mm4: 4e4,
  Iz_mm4: 9e4,
  J_mm4: 1e5,
};
const one = (to: [number, number, number], extra: Partial<Input['members'][number]> = {}): Input => ({
  nodes: { a: [0, 0, 0], b: to },
  members: [{ ...bar, ...extra }],
  supports: { a: ALL },
  loads: [],
});
const bent = (EI: number, L: number, F: number): number => (F * L * L * L) / (3 * EI);
const CLOSED = { relative: 1e-9, absolute: 1e-12 };

describe('the local axes', () => {
  const cases: [string, Input, number, [number, number, number], number][] = [
    ['along x: y is global z, so Iz bends it up', one([500, 0, 0]), 2, [0, 0, 60], 9e4],
    ['along x: Iy bends it sideways', one([500, 0, 0]), 1, [0, 60, 0], 4e4],
    ['upright: y is global x, so Iz bends it forward', one([0, 0, 500]), 0, [60, 0, 0], 9e4],
    ['upright: Iy bends it sideways', one([0, 0, 500]), 1, [0, 60, 0], 4e4],
    [
      'y_axis given: only its part normal to the member counts',
      one([500, 0, 0], { y_axis: [9, 3, 0] }),
      1,
      [0, 60, 0],
      9e4,
    ],
  ];
  test.each(cases)('%s', (_, input, c, force_N, I) => {
    const out = topic.run({ ...input, loads: [{ node: 'b', force_N }] });
    expectWithin(out.displacements['b']![c]!, bent(70000 * I, 500, 60), CLOSED);
  });

  test('end forces act on the member, in its axes: a pulled bar is pushed back at its beginning', () => {
    const out = topic.run({ ...one([0, 400, 300]), loads: [{ node: 'b', force_N: [0, 80, 60] }] });
    expectWithin(out.members['m']!.from[0], -100, CLOSED);
    expectWithin(out.members['m']!.to[0], 100, CLOSED);
    expect(Object.keys(out.reactions)).toEqual(['a']);
    expectWithin(out.reactions['a']![1], -80, CLOSED);
  });
});

describe('springs at the ends', () => {
  test('a spring adds M/k, 0 releases, absent is rigid', () => {
    const load = [{ node: 'b', force_N: [0, 0, 60] as [number, number, number] }];
    const sprung = topic.run({ ...one([500, 0, 0], { spring_from: { rz_Nmm_per_rad: 3e6 } }), loads: load });
    expectWithin(sprung.displacements['b']![2]!, bent(70000 * 9e4, 500, 60) + (60 * 500 * 500) / 3e6, CLOSED);
    const released = { ...one([500, 0, 0], { spring_to: { ry_Nmm_per_rad: 0 } }), loads: load };
    // Local y is global z: the free node turns about that.
    expect(runCalc(topic, JSON.stringify(released))).toMatchObject({ problems: [{ node: 'b', direction: 'rz' }] });
  });

  test('a beam with all bending released is a rod, and a lattice of rods carries loads', () => {
    const free = { rx_Nmm_per_rad: 0, ry_Nmm_per_rad: 0, rz_Nmm_per_rad: 0 };
    const rod = (id: string, from: string) => ({ ...bar, id, from, to: 'top', spring_from: free, spring_to: free });
    const input: Input = {
      nodes: { a: [-300, -200, 0], b: [300, -200, 0], c: [0, 400, 0], top: [0, 0, 400] },
      members: [rod('1', 'a'), rod('2', 'b'), rod('3', 'c')],
      supports: { a: ALL, b: ALL, c: ALL, top: ['rx', 'ry', 'rz'] },
      loads: [{ node: 'top', force_N: [0, 0, -900] }],
      buckling: true,
      second_order: true,
    };
    const out = topic.run(input);
    for (const id of ['1', '2', '3'])
      for (const i of [1, 2, 3, 4, 5]) expectWithin(out.members[id]!.from[i]!, 0, { absolute: 1 });
    // Each rod buckles as a pinned column in its weak plane; the third carries most.
    const push = (id: string): number => out.members[id]!.from[0]!;
    const long = (x: number, y: number): number => x * x + y * y + 400 * 400;
    const least = Math.min(
      (Math.PI * Math.PI * 70000 * 4e4) / long(300, 200) / push('1'),
      (Math.PI * Math.PI * 70000 * 4e4) / long(0, 400) / push('3'),
    );
    expectWithin(out.buckling_factor!, least, { relative: 2e-3 });
  });
});

test('units are anyone’s: metres and newtons give the same frame', () => {
  const mm = topic.run({ ...example, second_order: false });
  const m: Input = {
    ...example,
    second_order: false,
    nodes: Object.fromEntries(Object.entries(example.nodes).map(([k, p]) => [k, p.map((v) => v / 1000) as typeof p])),
    members: example.members.map((b) => ({
      ...b,
      E_MPa: b.E_MPa * 1e6,
      G_MPa: b.G_MPa * 1e6,
      A_mm2: b.A_mm2 * 1e-6,
      Iy_mm4: b.Iy_mm4 * 1e-12,
      Iz_mm4: b.Iz_mm4 * 1e-12,
      J_mm4: b.J_mm4 * 1e-12,
      shear_area_y_mm2: b.shear_area_y_mm2! * 1e-6,
      shear_area_z_mm2: b.shear_area_z_mm2! * 1e-6,
      ...(b.spring_from ? { spring_from: { ry_Nmm_per_rad: 25e3, rz_Nmm_per_rad: 18e3 } } : {}),
    })),
    loads: example.loads.map((l) => ({
      ...l,
      ...(l.moment_Nmm ? { moment_Nmm: [0, 5, 0] as [number, number, number] } : {}),
    })),
  };
  const out = topic.run(m);
  for (const node of Object.keys(example.nodes))
    for (const c of [0, 1, 2])
      expectWithin(out.displacements[node]![c]! * 1000, mm.displacements[node]![c]!, { absolute: 1e-9 });
  expectWithin(out.buckling_factor!, mm.buckling_factor!, { relative: 1e-6 });
});

test('no buckling factor where nothing is compressed', () => {
  const out = topic.run({ ...one([500, 0, 0]), loads: [{ node: 'b', force_N: [100, 0, 0] }], buckling: true });
  expect(out.buckling_factor).toBe(null);
});

describe('is refused with the place and the reason', () => {
  const first = example.members[0]!;
  const cases: [string, unknown, string, RegExp][] = [
    [
      'a member to nowhere',
      { ...example, members: [{ ...first, to: 'nowhere' }] },
      'members.0.to',
      /no node "nowhere"/,
    ],
    ['an id used twice', { ...example, members: [first, first] }, 'members.1.id', /twice/],
    ['a member of no length', { ...example, members: [{ ...first, to: first.from }] }, 'members.0.to', /no length/],
    ['negative E', { ...example, members: [{ ...first, E_MPa: -1 }] }, 'members.0.E_MPa', /above 0/],
    ['y_axis along it', { ...example, members: [{ ...first, y_axis: [0, 0, 2] }] }, 'members.0.y_axis', /parallel/],
    ['y_axis of nothing', { ...example, members: [{ ...first, y_axis: [0, 0, 0] }] }, 'members.0.y_axis', /parallel/],
    ['a support word', { ...example, supports: { foot: ['ux', 'up'] } }, 'supports.foot.1', /choices/],
    ['a support of no node', { ...example, supports: { feet: ['ux'] } }, 'supports.feet', /no node/],
    ['a load on no node', { ...example, loads: [{ node: 'x' }] }, 'loads.0.node', /no node/],
    ['loads above buckling', { ...example, loads: [{ node: 'grip', force_N: [0, 0, -1e6] }] }, 'loads', /buckle/],
  ];
  test.each(cases)('%s', (_, input, where, words) => {
    const answer = runCalc(topic, JSON.stringify(input));
    expect(answer).toMatchObject({ problems: [{ path: where, code: 'calc.input' }] });
    expect('problems' in answer && answer.problems[0]!.message).toMatch(words);
  });

  test.each([
    ['turn about the post', ALL.filter((w) => w !== 'rz'), 'foot', 'rz'],
    ['sliding', ALL.filter((w) => w !== 'uy'), 'foot', 'uy'],
    ['nothing but a word too few: ux and rz', ALL.filter((w) => w !== 'ux' && w !== 'rz'), 'foot', 'ux'],
  ])('a mechanism, with node and direction: %s', (_, held, node, direction) => {
    const answer = runCalc(topic, JSON.stringify({ ...example, supports: { foot: held } }));
    expect(answer).toMatchObject({ problems: [{ code: 'calc.mechanism', node, direction }] });
  });
});
