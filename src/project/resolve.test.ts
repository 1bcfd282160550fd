import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../test/expect-within.ts';
import { BEAM_YAML, beamYaml, fixtureModel } from '../../test/fixtures/beam.ts';
import type { Problem } from './problems.ts';
import { type ResolvedCandidate, resolveCandidate } from './resolve.ts';
import { readDocument } from './text.ts';

/** Unit conversion and a handful of additions: some units in the last place. */
const ROUNDOFF = { absolute: 1e-14, relative: 1e-13 };

function resolveText(yaml: string, variant?: string): { candidate?: ResolvedCandidate; problems: Problem[] } {
  const { document, problems } = readDocument('candidates/beam.yaml', yaml);
  expect(problems).toEqual([]);
  return resolveCandidate(document!, variant === undefined ? {} : { variant });
}
const filled = (c: ResolvedCandidate, x = c.model.x) => {
  const s = c.model.newState();
  c.model.fill(x, s);
  return s;
};
const at = (c: ResolvedCandidate, list: 'stations' | 'shapes' | 'joints' | 'bodies' | 'masses', name: string) => {
  const i = c.model.top.names[list].indexOf(name);
  expect(i, name).toBeGreaterThanOrEqual(0);
  return i;
};

describe('a candidate that is right', () => {
  it('resolves without any problem', () => {
    expect(resolveText(BEAM_YAML).problems).toEqual([]);
  });
  it('puts dimensions in the first slots, in SI, with the unit as written', () => {
    const c = fixtureModel();
    expect(c.model.top.names.dimensions[4]).toBe('head_lean');
    expectWithin(c.model.x[4]!, (18 * Math.PI) / 180, ROUNDOFF);
    expect(c.displayUnits).toEqual(['mm', 'mm', 'mm', 'mm', 'deg', 'mm', 'mm']);
    expect([...filled(c).value.subarray(0, 7)]).toEqual([...c.model.x]);
  });
  it('lets a dimension that refers to others follow them, whatever x says', () => {
    const c = fixtureModel();
    expect(c.free).toEqual([0, 1, 2, 3, 4, 5]);
    const x = c.model.x.slice();
    x[0] = 1.1;
    const s = filled(c, x);
    expectWithin(s.value[6]!, 0.55, ROUNDOFF);
    expectWithin(s.station[3 * at(c, 'stations', 'hinge')]!, 0.61, ROUNDOFF);
  });
  it('computes stations from others: offsets, shares of the way, coordinates, one unit for a list', () => {
    const c = fixtureModel();
    const { station } = filled(c);
    const point = (name: string) => [...station.subarray(3 * at(c, 'stations', name), 3 * at(c, 'stations', name) + 3)];
    expect(point('grip_left')).toEqual([0.76, 0.23, 0.96]);
    expect(point('grip_right')).toEqual([0.76, -0.23, 0.96]);
    const [foot, saddle, clamp] = [point('seat_foot'), point('saddle'), point('seat_clamp')];
    for (let k = 0; k < 3; k++) expectWithin(clamp[k]!, foot[k]! + 0.55 * (saddle[k]! - foot[k]!), ROUNDOFF);
    expect(point('hinge_mid')).toEqual([point('hinge')[0], 0, 0.5]);
  });
  it('adds the body and the joint of the cranks, about y through the bottom bracket', () => {
    const c = fixtureModel();
    const j = at(c, 'joints', 'cranks');
    const { joint } = filled(c);
    expect([...joint.subarray(6 * j, 6 * j + 6)]).toEqual([0.4, 0, 0.29, 0, 1, 0]);
    expect(c.model.roles.cranks).toBe(j);
    expect(c.model.top.shapeBody[at(c, 'shapes', 'pedal_left')]).toBe(at(c, 'bodies', 'cranks'));
  });
  it('keeps the axes of joints at unit length and their ranges in radians', () => {
    const c = fixtureModel();
    const { joint, range } = filled(c);
    for (let j = 0; j < c.model.top.kind.length; j++) {
      const [x, y, z] = joint.subarray(6 * j + 3, 6 * j + 6);
      expectWithin(x! * x! + y! * y! + z! * z!, 1, ROUNDOFF, c.model.top.names.joints[j]);
    }
    expectWithin(range[1]!, (178 * Math.PI) / 180, ROUNDOFF);
  });
  it('gives finite numbers everywhere', () => {
    const s = filled(fixtureModel());
    for (const array of [s.value, s.station, s.joint, s.range, s.capsule, s.disc, s.box, s.mass, s.bodyT])
      expect(array.every(Number.isFinite)).toBe(true);
  });
  it('gives wheels the radius of ISO 5775, loaded 1.5 % less', () => {
    const c = fixtureModel();
    const { value } = filled(c);
    expectWithin(value[c.model.wheels.front.radius]!, 0.305 / 2 + 0.04, ROUNDOFF);
    expectWithin(value[c.model.wheels.front.loadedRadius]!, (0.305 / 2 + 0.04) * 0.985, ROUNDOFF);
  });
  it('names shapes so that a person can find them, capsules before discs before boxes', () => {
    const { names, nCapsule, nDisc, nBox } = fixtureModel().model.top;
    expect(names.shapes.length).toBe(nCapsule + nDisc + nBox);
    expect(names.shapes[0]).toBe('rear.beam');
    expect(names.shapes.slice(nCapsule, nCapsule + nDisc)).toEqual(['front_wheel', 'rear_wheel', 'crankset chainring']);
    expect(names.shapes).toContain('main hardware on front');
    expect(names.shapes).toContain('rear.stay_left (2 of 5)');
  });
  it('fills the same state twice alike, also after somebody has written into it', () => {
    const c = fixtureModel();
    const s = filled(c);
    const once = structuredClone(s);
    for (const array of [s.value, s.mass, s.box, s.capsule, s.disc, s.station, s.joint, s.q]) array.fill(7);
    c.model.fill(c.model.x, s);
    expect(s).toEqual(once);
  });
  it('has no memory of other dimensions', () => {
    const c = fixtureModel();
    const first = filled(c);
    const x = c.model.x.slice();
    x[0] = 1.05;
    x[3] = 0.06;
    filled(c, x);
    expect(filled(c)).toEqual(first);
  });
});

describe('clearance shapes', () => {
  const c = fixtureModel();
  const s = filled(c);
  it('cut a member short by the cut-out where it ends at a joint, or beside its pin', () => {
    const o = 7 * at(c, 'shapes', 'rear.beam');
    const [from, to] = [at(c, 'stations', 'beam_rear'), at(c, 'stations', 'hinge_mid')];
    const point = (i: number) => s.station.subarray(3 * i, 3 * i + 3);
    const gap = (p: Float64Array, q: Float64Array) =>
      Math.sqrt(p.reduce((sum, v, k) => sum + (v - q[k]!) * (v - q[k]!), 0));
    expectWithin(gap(s.capsule.subarray(o + 3, o + 6), point(to)), 0.045, ROUNDOFF);
    expect([...s.capsule.subarray(o, o + 3)]).toEqual([...point(from)]);
    expect(s.capsule[o + 6]).toBe(0.025);
  });
  it('contain the arc of a bend', () => {
    const radius = 0.05;
    const stations = c.model.members.find((m) => m.name === 'rear.stay_left')!.path;
    const [a, b, d] = stations.map((i) => s.station.subarray(3 * i, 3 * i + 3)) as [
      Float64Array,
      Float64Array,
      Float64Array,
    ];
    const unit = (p: Float64Array, q: Float64Array) => {
      const v = [0, 1, 2].map((k) => q[k]! - p[k]!);
      const n = Math.sqrt(v.reduce((sum, x) => sum + x * x, 0));
      return v.map((x) => x / n);
    };
    const [t, u] = [unit(a, b), unit(b, d)];
    const cosine = t.reduce((sum, x, k) => sum + x * u[k]!, 0);
    const angle = Math.acos(cosine);
    const setback = radius * Math.tan(angle / 2);
    const normal = u.map((x, k) => (x - cosine * t[k]!) / Math.sin(angle));
    const o = 7 * at(c, 'shapes', 'rear.stay_left (2 of 5)');
    const [p, q, r] = [s.capsule.subarray(o, o + 3), s.capsule.subarray(o + 3, o + 6), s.capsule[o + 6]!];
    for (let i = 0; i <= 20; i++) {
      const f = (angle * i) / 20;
      const onArc = [0, 1, 2].map(
        (k) => b[k]! - setback * t[k]! + radius * (Math.sin(f) * t[k]! + (1 - Math.cos(f)) * normal[k]!),
      );
      const run = [0, 1, 2].map((k) => q[k]! - p[k]!);
      const along = [0, 1, 2].reduce((sum, k) => sum + (onArc[k]! - p[k]!) * run[k]!, 0);
      const share = Math.max(0, Math.min(1, along / run.reduce((sum, x) => sum + x * x, 0)));
      const off = Math.sqrt([0, 1, 2].reduce((sum, k) => sum + (onArc[k]! - p[k]! - share * run[k]!) ** 2, 0));
      // The tube's wall about this point of the arc lies inside the capsule.
      expect(off + 0.01).toBeLessThanOrEqual(r + 1e-12);
    }
    expect(r).toBeLessThan(0.01 + radius * (1 - Math.cos(angle / 2)));
  });
  it('make a box of an oval tube, its height seen from the side', () => {
    const { nCapsule, nDisc } = c.model.top;
    const o = 15 * (at(c, 'shapes', 'front.beam') - nCapsule - nDisc);
    expect([...s.box.subarray(o + 13, o + 15)]).toEqual([0.02, 0.028]);
    expectWithin(Math.abs(s.box[o + 7]!), 1, ROUNDOFF);
  });
  it('split the hardware of a pivot: half on each body, as large together as the file says', () => {
    const { nCapsule, nDisc, shapeBody, shapeEstimated } = c.model.top;
    const halves = ['main hardware on rear', 'main hardware on front'].map((name) => at(c, 'shapes', name));
    expect(halves.map((i) => c.model.top.names.bodies[shapeBody[i]!])).toEqual(['rear', 'front']);
    const boxes = halves.map((i) => s.box.subarray(15 * (i - nCapsule - nDisc), 15 * (i - nCapsule - nDisc) + 15));
    expect(boxes.map((b) => [...b.subarray(12)])).toEqual([
      [0.015, 0.0225, 0.035],
      [0.015, 0.0225, 0.035],
    ]);
    const along = (b: Float64Array) => b[0]! * b[3]! + b[1]! * b[4]! + b[2]! * b[5]!;
    expectWithin(along(boxes[1]!) - along(boxes[0]!), 0.03, { absolute: 1e-12 });
    expect(halves.map((i) => shapeEstimated[i])).toEqual([1, 1]);
  });
  it('lay hardware along the member that ends at its joint, also where the pin stands beside two ends that butt', () => {
    const alongOf = (yaml: string) => {
      const beside = fixtureModel(undefined, yaml);
      const { nCapsule, nDisc } = beside.model.top;
      const o = 15 * (at(beside, 'shapes', 'bar_hinge hardware on fork') - nCapsule - nDisc);
      return [...filled(beside).box.subarray(o + 3, o + 6)];
    };
    const under = alongOf(beamYaml());
    expect(under[2]).toBeGreaterThan(0.9);
    const pin = '  bar_pin: {from: bar_foot, by: [0, -30 mm, 0]}\n  bar_clamp: [774 mm';
    const moved = beamYaml(['  bar_clamp: [774 mm', pin], ['at: [bar_foot, bar_foot]', 'at: bar_pin']);
    for (const [k, x] of alongOf(moved).entries()) expectWithin(x, under[k]!, ROUNDOFF);
  });
});

describe('masses', () => {
  it('follow the tube: 2.7 g/cm³ times area times length', () => {
    const c = fixtureModel();
    const s = filled(c);
    const [a, b] = [at(c, 'stations', 'beam_rear'), at(c, 'stations', 'hinge_mid')];
    const l = Math.sqrt([0, 1, 2].reduce((sum, k) => sum + (s.station[3 * a + k]! - s.station[3 * b + k]!) ** 2, 0));
    const area = (Math.PI / 4) * (0.05 * 0.05 - 0.046 * 0.046);
    expectWithin(s.mass[10 * at(c, 'masses', 'rear.beam')]!, 2700 * area * l, { relative: 1e-12 });
  });
  it('of a weighed body add up to the weighing, and so do wheel slots and spread', () => {
    const c = fixtureModel();
    const s = filled(c);
    const fork = at(c, 'bodies', 'fork');
    let sum = 0;
    let variance = 0;
    c.model.top.massBody.forEach((body, e) => {
      if (body !== fork) return;
      sum += s.mass[10 * e]!;
      variance += (s.mass[10 * e]! * c.model.massSpread[e]!) ** 2;
    });
    expectWithin(sum, 2.4, ROUNDOFF);
    expectWithin(Math.sqrt(variance), 0.02, { relative: 1e-9 });
    const wheel = c.model.wheels.front;
    expect(s.value[wheel.mass]).toBe(s.mass[10 * wheel.massElement]);
    expect(c.weighed.map((w) => w.name)).toEqual(['fork']);
  });
  it('of parts take the values that the candidate gives', () => {
    const c = fixtureModel();
    expect(filled(c).mass[10 * at(c, 'masses', 'bag')]).toBe(0.6);
  });
});

describe('the tree and the pairs', () => {
  const c = fixtureModel();
  const { top, roles } = c.model;
  it('hang every body on its parent, the first body of the file at the root', () => {
    expect(top.names.bodies[0]).toBe('rear');
    expect(top.order[0]).toBe(0);
    expect(top.parent[at(c, 'bodies', 'fork')]).toBe(at(c, 'bodies', 'front'));
    expect([...top.cuts]).toEqual([]);
  });
  it('find the roles', () => {
    expect(top.names.joints[roles.steerer]).toBe('steering');
    expect(top.names.joints[roles.seatPost]).toBe('post_clamp');
    expect(top.names.bodies[roles.gripBody]).toBe('bar');
    expect(top.names.bodies[roles.crankBody]).toBe('rear');
  });
  const listed = (list: Int32Array) =>
    new Set(Array.from({ length: list.length / 2 }, (_, i) => `${list[2 * i]} ${list[2 * i + 1]}`));
  it('list every pair of shapes on different bodies once: fold, ride or excluded', () => {
    const [fold, ride] = [listed(top.pairs), listed(top.ridePairs)];
    const out = new Set(c.excluded.map((e) => `${e.a} ${e.b}`));
    const n = top.shapeBody.length;
    let count = 0;
    for (let a = 0; a < n; a++)
      for (let b = a + 1; b < n; b++) {
        if (top.shapeBody[a] === top.shapeBody[b]) continue;
        count++;
        const key = `${a} ${b}`;
        expect(Number(fold.has(key)) + Number(ride.has(key)) + Number(out.has(key))).toBe(1);
      }
    expect(fold.size + ride.size + out.size).toBe(count);
  });
  it('leave pairs out of the fold only where their bodies never move against one another', () => {
    // The fold turns main and bar_hinge and lowers the post; steering and cranks stay.
    const groups = [['rear', 'cranks'], ['front', 'fork'], ['seat_post'], ['bar']];
    const groupOf = (shape: number) => groups.findIndex((g) => g.includes(top.names.bodies[top.shapeBody[shape]!]!));
    for (let i = 0; i < top.ridePairs.length; i += 2)
      expect(groupOf(top.ridePairs[i]!)).toBe(groupOf(top.ridePairs[i + 1]!));
    for (let i = 0; i < top.pairs.length; i += 2) expect(groupOf(top.pairs[i]!)).not.toBe(groupOf(top.pairs[i + 1]!));
  });
  it('list for the crank sweep the pairs with the cranks on one side, and for steering those across the steerer', () => {
    const cranks = at(c, 'bodies', 'cranks');
    const steered = [at(c, 'bodies', 'fork'), at(c, 'bodies', 'bar')];
    for (let i = 0; i < top.crankPairs.length; i += 2) {
      const bodies = [top.shapeBody[top.crankPairs[i]!]!, top.shapeBody[top.crankPairs[i + 1]!]!];
      expect(bodies.filter((b) => b === cranks).length).toBe(1);
    }
    for (let i = 0; i < top.steerPairs.length; i += 2) {
      const bodies = [top.shapeBody[top.steerPairs[i]!]!, top.shapeBody[top.steerPairs[i + 1]!]!];
      expect(bodies.filter((b) => steered.includes(b)).length).toBe(1);
    }
    expect(top.crankPairs.length).toBeGreaterThan(0);
  });
  it('are sorted by kinds', () => {
    const kind = (i: number) => (i < top.nCapsule ? 0 : i < top.nCapsule + top.nDisc ? 1 : 2);
    const keys = Array.from(
      { length: top.pairs.length / 2 },
      (_, i) => 3 * kind(top.pairs[2 * i]!) + kind(top.pairs[2 * i + 1]!),
    );
    expect(keys).toEqual(keys.toSorted((a, b) => a - b));
  });
  const reasons = (candidate: ResolvedCandidate) =>
    candidate.excluded.map(
      (e) => `${candidate.model.top.names.shapes[e.a]} / ${candidate.model.top.names.shapes[e.b]}: ${e.because}`,
    );
  it('leave out what the file excludes and what meets at a joint, with the reason', () => {
    expect(reasons(c)).toContain('front.head / fork.steerer: the steerer runs in the head tube');
    expect(reasons(c)).toContain('main hardware on rear / main hardware on front: they meet at the joint main');
  });
  it('keep two halves of a beam that a cut-out has parted: they may clash when folded', () => {
    expect(listed(top.pairs)).toContain(`${at(c, 'shapes', 'rear.beam')} ${at(c, 'shapes', 'front.beam')}`);
    const beside = fixtureModel(undefined, beamYaml(['    cut_out: 45 mm\n', '    cut_out: 30 mm\n']));
    expect(reasons(beside)).not.toContain('rear.beam / front.beam: they meet at the joint main');
    const uncut = fixtureModel(undefined, beamYaml(['    cut_out: 45 mm\n', '']));
    expect(reasons(uncut)).toContain('rear.beam / front.beam: they meet at the joint main');
  });
  it('leave out three links that meet on one pin, also where no joint ties two of them', () => {
    const three = fixtureModel(
      undefined,
      beamYaml(
        [
          '  post_clamp:\n',
          '  link: {kind: pivot, held: clamp, between: [rear, link], at: hinge, axis: z, turn: [0, 90 deg]}\n  post_clamp:\n',
        ],
        [
          '  bar:\n',
          '  link:\n    tubes: [{name: stub, from: hinge, to: bag_point, section: round 20 x 1 mm, material: 25CrMo4}]\n  bar:\n',
        ],
      ),
    );
    expect(reasons(three)).toContain('link.stub / main hardware on front: they meet at the joint main');
  });
  it('do not excuse a chainring that cuts a tube beside the bottom bracket', () => {
    const pair = [at(c, 'shapes', 'rear.stay_right (1 of 5)'), at(c, 'shapes', 'crankset chainring')];
    expect(listed(top.ridePairs)).toContain(pair.join(' '));
  });
  it('do not excuse a brake that is drawn into the head tube', () => {
    const drawn = fixtureModel(
      undefined,
      beamYaml(['parts:\n', 'parts:\n  - {part: brake rim, name: caliper, body: fork, at: head_bottom}\n']),
    );
    const pair = ['front.head', 'caliper'].map((name) => at(drawn, 'shapes', name));
    expect(listed(drawn.model.top.ridePairs)).toContain(pair.join(' '));
    expect(reasons(drawn)).toContain('front.head / fork.steerer: the steerer runs in the head tube');
  });
  it('cut a loop at its pin, and drive joints of the fold from the tree', () => {
    const loop = fixtureModel(
      undefined,
      beamYaml(
        ['    axis: {to: saddle}\n', '    axis: {to: saddle}\n'],
        [
          'parts:\n',
          '  strut_foot: {kind: pivot, held: loop, between: [rear, strut], at: crank, axis: y}\n  strut_pin: {kind: pin, held: latch, between: [strut, front], at: head_bottom, axis: y}\nparts:\n',
        ],
        [
          '  bar:\n',
          '  strut:\n    tubes: [{from: crank, to: head_bottom, section: round 20 x 1 mm, material: 25CrMo4}]\n  bar:\n',
        ],
      ),
    );
    const { cuts, names } = loop.model.top;
    expect([...cuts].map((j) => names.joints[j])).toEqual(['strut_pin']);
  });
});

describe('variants', () => {
  it('change what they set and nothing else', () => {
    const [base, light] = [fixtureModel(), fixtureModel('light')];
    expect(light.id).toBe('beam+light');
    expect(light.model.x[0]).toBe(0.99);
    expect(filled(light).mass[10 * at(light, 'masses', 'bag')]).toBe(0.4);
    expect(filled(light).mass[0]!).toBeLessThan(filled(base).mass[0]!);
    expect(light.model.x[2]).toBe(base.model.x[2]);
  });
  it('point to their own entry when a changed value is wrong', () => {
    const yaml = beamYaml(['section: round 50 x 1.5 mm', 'section: round 50 x 30 mm']);
    const problem = resolveText(yaml, 'light').problems[0]!;
    expect(problem.code).toBe('section.wall');
    const line = yaml.split('\n')[problem.line - 1]!;
    expect(line.slice(problem.column - 1, problem.column - 1 + problem.length)).toBe('round 50 x 30 mm');
  });
  it('are told that a path leads nowhere, with the nearest name', () => {
    const { problems } = resolveText(
      beamYaml(['bodies.rear.tubes.beam.section', 'bodies.rear.tubes.bean.section']),
      'light',
    );
    expect(problems[0]).toMatchObject({ code: 'variant.path', found: 'bean', hint: 'did you mean `beam`?' });
    expect(resolveText(BEAM_YAML, 'lite').problems[0]).toMatchObject({
      code: 'name.unknown',
      expected: 'one of light',
    });
  });
});
