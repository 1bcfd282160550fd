import { describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../../../test/expect-within.ts';
import { FOLDED, RIDE } from '../../../../test/fixtures/frame-bicycle.ts';
import { dot, sub, type Vec3 } from '../../math/rigid.ts';
import { frameSolver } from '../beam/index.ts';
import type { FrameContext } from '../places.ts';
import type { NodeLoad } from '../structure.ts';
import {
  bracedRider,
  CASE_IDS,
  type CaseId,
  type CaseLoads,
  caseFigures,
  caseWith,
  FRAME_CASES,
  onWheels,
  resultant,
} from './index.ts';

const G = 9.80665;
/** Sums of some tens of terms, each rounded once, against the largest among them. */
const SUMMED = 256 * EPS;
/** The solver's cancellation through fixture springs of 1e8 N/mm. */
const SOLVED = 1e-6;
const { structure, places } = RIDE;

function run(id: CaseId, context: FrameContext = RIDE, edits: Record<string, number> = {}): CaseLoads {
  const loads = caseWith(id, 'city', edits).load(context);
  if (!loads.applicable) return expect.fail(`${id}: ${loads.reason}`);
  return loads;
}
const finding = (loads: CaseLoads, what: string): number => loads.findings.find((f) => f.what === what)!.value;
const on = (loads: readonly NodeLoad[], ...nodes: number[]): NodeLoad[] => loads.filter((l) => nodes.includes(l.node));
const total = (loads: readonly NodeLoad[], about: Vec3 = [0, 0, 0]) => resultant(structure, loads, about);
/** The largest force and moment among loads: the scale of what must cancel. */
const largest = (loads: readonly NodeLoad[]) => ({
  force: Math.max(...loads.flatMap((load) => total([load]).force.map(Math.abs))),
  moment: Math.max(...loads.flatMap((load) => total([load]).moment.map(Math.abs))),
});

describe('the list of load cases', () => {
  it('has one record for every set of figures, with defaults inside their ranges', () => {
    expect(FRAME_CASES.map((c) => c.id).sort()).toEqual([...CASE_IDS].sort());
    for (const id of CASE_IDS)
      for (const { key, value, range } of caseFigures(id))
        for (const v of [value].flat()) expect(v >= range[0] && v <= range[1], `${id}.${key}`).toBe(true);
  });
  it('refuses a figure that it does not know and one out of range', () => {
    expect(() => caseWith('step', 'city', { hight: 20 })).toThrow('no figure "hight"');
    expect(() => caseWith('step', 'city', { height: -1 })).toThrow('height must be 1 to 150 mm, got -1');
  });
  it('takes the column of the class, and a brief over it', () => {
    expect(caseWith('pedalling', 'mountain').values.force).toBe(1200);
    expect(caseWith('vertical', 'young').values.force).toBe(500);
    expect(caseWith('vertical', 'young', { force: 700 }).values.force).toBe(700);
  });
  it('says what is lacking instead of loading a place that is not there', () => {
    const without: FrameContext = { ...RIDE, places: { ...places, handle: -1, gripLeft: -1 } };
    const reason = (id: CaseId, context: FrameContext) => caseWith(id, 'city').load(context);
    expect(reason('lifting', without)).toEqual({
      applicable: false,
      reason: 'the bicycle has no handle to lift it by',
    });
    expect(reason('seated', without)).toMatchObject({ reason: 'the bicycle has no left grip' });
    expect(reason('start', { ...RIDE, ringRadius: Number.NaN })).toMatchObject({ applicable: false });
    expect(reason('folded_seat', RIDE)).toMatchObject({ reason: expect.stringContaining('three points') });
    expect(reason('step', { ...RIDE, frontRadius: 40 })).toMatchObject({ applicable: false });
  });
  it('leaves luggage out with a note where the bicycle has no place for it', () => {
    const { notes, loads } = run('seated', { ...RIDE, places: { ...places, luggage: -1 } });
    expect(notes).toEqual(['the bicycle has no place for the luggage: 6 kg are left out']);
    expect(loads[0]!.every((load) => load.node >= 0)).toBe(true);
  });
});

describe('every case', () => {
  it.each(FRAME_CASES.map((c) => [c.id, c] as const))(
    '%s holds the structure; supports and fixtures to the ground answer the loads exactly',
    (id, record) => {
      const context = record.postures[0] === 'folded' ? FOLDED : RIDE;
      const loads = run(id, context);
      expect(loads.labels).toHaveLength(loads.loads.length);
      for (const range of loads.ranges)
        for (const state of range.states) expect(state).toBeLessThan(loads.loads.length);
      const solutions = frameSolver(structure).solve(loads);
      solutions.forEach((solution, i) => {
        const answer: NodeLoad[] = loads.supports.map(({ node, component }, k) => {
          const six = [0, 0, 0, 0, 0, 0];
          six[component] = solution.reaction[k]!;
          return { node, force: [six[0]!, six[1]!, six[2]!], moment: [six[3]!, six[4]!, six[5]!] };
        });
        loads.fixtures.forEach((fixture, k) => {
          if (fixture.from !== -1) return;
          const six = solution.joint.subarray(6 * (structure.joints.length + k));
          const along = (o: number): Vec3 => {
            const [a, b, c] = fixture.axes;
            const part = (m: 0 | 1 | 2) => a[m] * six[o]! + b[m] * six[o + 1]! + c[m] * six[o + 2]!;
            return [part(0), part(1), part(2)];
          };
          // Spring forces are positive with the motion of the structure: on it they act the other way.
          answer.push({ node: fixture.to, at: fixture.at, force: scaled(along(0), -1), moment: scaled(along(3), -1) });
        });
        const all = [...loads.loads[i]!, ...answer];
        const size = largest(all);
        const sum = total(all);
        for (const v of sum.force) expectWithin(v, 0, { absolute: SOLVED * size.force }, id);
        for (const v of sum.moment) expectWithin(v, 0, { absolute: SOLVED * size.moment }, id);
      });
    },
  );
});
const scaled = (v: Vec3, k: number): Vec3 => [v[0] * k, v[1] * k, v[2] * k];

describe('on the road nothing but ground and inertia holds the bicycle', () => {
  it.each(['seated', 'stroke', 'start', 'braking', 'step', 'kerb'] as const)(
    '%s: every load vector balances by itself, luggage off the mid-plane included',
    (id) => {
      for (const loads of run(id).loads) {
        const size = largest(loads);
        const sum = total(loads, [500, 0, 300]);
        for (const v of sum.force) expectWithin(v, 0, { absolute: SUMMED * size.force }, id);
        for (const v of sum.moment) expectWithin(v, 0, { absolute: SUMMED * size.moment }, id);
      }
    },
  );
  it('seated: the wheels carry everybody and everything', () => {
    const loads = run('seated');
    const all = (RIDE.rider + RIDE.luggage + RIDE.mass) * G;
    const wheels = finding(loads, 'load on the front wheel') + finding(loads, 'load on the rear wheel');
    expectWithin(wheels, all, { relative: SUMMED });
  });
});

it('lands on both tyres alike, and throws no part of the bicycle or rider sideways', () => {
  const loads = run('kerb');
  const pushed = finding(loads, 'both tyres, greatest force');
  for (const state of loads.loads) {
    const tyres = on(state, places.rearAxle, places.frontAxle).filter((l) => l.at?.[2] === 0);
    expect(tyres).toHaveLength(2);
    expectWithin(tyres[0]!.force[2], tyres[1]!.force[2], { absolute: SUMMED * pushed });
    for (const l of state) expect(Math.abs(l.force[1])).toBeLessThan(0.05 * pushed);
  }
});

describe('a standing start', () => {
  const loads = run('start', RIDE, { factor: 1.6 });
  const weight = RIDE.rider * G;
  it('holds the rider down by what the pedal force exceeds the weight', () => {
    const hands = on(loads.loads[0]!, places.gripLeft, places.gripRight);
    // Lifted by 0.6 W along the vertical; the lean adds no vertical part.
    expectWithin(total(hands).force[2], 0.6 * weight, { relative: SUMMED });
  });
  it('keeps the bicycle upright by the hands: pull on the pushing foot’s side', () => {
    const near = finding(loads, 'hand on the pushing foot’s side, up');
    const far = finding(loads, 'other hand, up');
    // By hand: P − Q = 0.6 W / sin 72°, P + Q = 1.6 W · 140/270 / sin 72°.
    const sin = Math.sin((72 * Math.PI) / 180);
    expectWithin(near + far, (0.6 * weight) / sin, { relative: SUMMED });
    expectWithin(near - far, (1.6 * weight * 140) / 270 / sin, { relative: SUMMED });
    // Order of the pull that is reported for standing starts, from memory: 0.6 to 0.75 W.
    expect(near / weight).toBeGreaterThan(0.6);
    expect(near / weight).toBeLessThan(0.8);
  });
  it('leans by little whatever the push: a pull that lifts as much as the weight presses down leaves it no pole', () => {
    // Between 1.2 and 2.6 W the pull at the grips passes the moment of all weights; the lean once grew without bound there.
    // The lean is what a weight pushes sideways over what it presses down: the bag's, here.
    const lean = Array.from({ length: 57 }, (_, i) => {
      const [bag] = on(run('start', RIDE, { factor: 1.2 + 0.025 * i }).loads[0]!, places.luggage);
      return bag!.force[1] / bag!.force[2];
    });
    expect(Math.max(...lean.map(Math.abs))).toBeLessThan(0.02);
    for (let i = 1; i < lean.length; i++) expectWithin(lean[i]!, lean[i - 1]!, { absolute: 0.001 });
  });
  it('does not turn the bar', () => {
    for (const hand of on(loads.loads[1]!, places.gripLeft, places.gripRight)) {
      const turning = dot(RIDE.steerAxis, total([hand], structure.nodes[places.crown]!.at).moment);
      // Only the lean of a few milliradians is not along the axis.
      expect(Math.abs(turning)).toBeLessThan(0.004 * largest([hand]).moment);
    }
  });
  it('hands the crank’s torque to the chain and the chain’s to the ground', () => {
    const [right] = loads.loads;
    const crank = structure.nodes[places.crank]!.at;
    const foot = on(right!, places.crank).filter((load) => Math.abs((load.at ?? crank)[1]) === RIDE.pedalOut);
    const chain = on(right!, places.crank).filter((load) => load.at?.[1] === RIDE.chainline);
    expect([foot.length, chain.length]).toEqual([1, 1]);
    const torque = total(foot, crank).moment[1];
    expectWithin(torque, 1.6 * weight * 170, { relative: SUMMED });
    expectWithin(total(chain, crank).moment[1], -torque, { relative: SUMMED });
    expectWithin(finding(loads, 'pull of the chain'), torque / 105, { relative: SUMMED });
    const acceleration = finding(loads, 'acceleration');
    const drive = ((torque / 105) * 34) / 200;
    expectWithin(acceleration * (RIDE.rider + RIDE.luggage + RIDE.mass), drive, { relative: SUMMED });
  });
  it('says so when the front wheel would lift', () => {
    expect(run('start', RIDE, { factor: 3 }).notes.join()).toMatch(/front wheel would lift/);
    expect(run('start', RIDE, { factor: 1.2 }).notes).toEqual([]);
  });
});

describe('braking', () => {
  const loads = run('braking');
  it('leaves nothing on the rear wheel at the limit, and something below it', () => {
    const all = (RIDE.rider + RIDE.luggage + RIDE.mass) * G;
    expectWithin(finding(loads, 'load left on the rear wheel'), 0, { absolute: 1e-9 * all });
    expect(finding(run('braking', RIDE, { share: 0.5 }), 'load left on the rear wheel')).toBeGreaterThan(100);
  });
  it('a braced rider balances: forces and moment meet weight and inertia at his centre of mass', () => {
    // Arms by their share; feet that carry nothing; a saddle that carries nothing (crouched far forward).
    const forward: FrameContext = { ...RIDE, riderCom: [520, 0, 1080] };
    const settings = [
      [RIDE, 2, 0.8],
      [RIDE, 6, 0.8],
      [forward, 5, 0.3],
    ] as const;
    const kinds = settings.map(([context, a, share]) => {
      const rider = bracedRider(context, a, share);
      const sum = total(rider.loads, context.riderCom);
      expectWithin(sum.force[0], 110 * a, { relative: SUMMED });
      expectWithin(sum.force[2], -110 * G, { relative: SUMMED });
      expectWithin(sum.moment[1], 0, { absolute: SUMMED * largest(rider.loads).moment });
      return `${rider.saddle > 0 ? 'saddle' : ''} ${rider.pedals > 0 ? 'pedals' : ''}`.trim();
    });
    expect(kinds).toEqual(['saddle pedals', 'saddle', 'pedals']);
  });
  it('a rim brake changes the path of the force and not its sum', () => {
    const [disc, rim] = loads.loads.map((l) => total(on(l, places.frontAxle, places.crown), [1010, 0, 0]));
    for (const k of [0, 1, 2] as const) {
      expectWithin(rim!.force[k], disc!.force[k], { absolute: SUMMED * 2000 });
      expectWithin(rim!.moment[k], disc!.moment[k], { absolute: SUMMED * 2e6 });
    }
    expect(on(loads.loads[1]!, places.crown)).toHaveLength(1);
  });
});

describe('tests of frame and fork', () => {
  it('falling mass: the rear axle feels no moment, clamped or not', () => {
    const loads = run('falling_mass');
    const [solution] = frameSolver(structure).solve(loads);
    const turning = loads.supports.findIndex((s) => s.component === 4);
    expectWithin(solution!.reaction[turning]!, 0, { absolute: SOLVED * 1000 * 200 });
  });
  it('falling frame: energy of each mass by its own drop, reaction at the anvil as asked', () => {
    const loads = run('falling_frame');
    // Masses 50, 10, 30 kg at x = post 270 − 75·100/√125600, head 867.25, crank 400; drop 200 mm over 1010 mm.
    const x = [270 - 7500 / Math.sqrt(125_600), structure.nodes[places.headTop]!.at[0], 400];
    const joules = ((50 * x[0]! + 10 * x[1]! + 30 * x[2]!) * G * 0.2) / 1010;
    expectWithin(finding(loads, 'energy of the three masses in one drop'), joules, { relative: SUMMED });
    const anvil = onWheels({ ...RIDE, rearRadius: 0, frontRadius: 0 }, loads.loads[0]!, 'rear').front[2];
    expectWithin(anvil, 1000, { relative: SUMMED });
  });
  it('pedalling: the crank turns freely, so that foot and tie rod cancel about its axle', () => {
    for (const loads of run('pedalling').loads) {
      const sum = total(on(loads, places.crank), structure.nodes[places.crank]!.at);
      expectWithin(sum.moment[1], 0, { absolute: SUMMED * 122_685 });
    }
  });
  it('pedalling: the rear link pushes through its foot, so that the axle may swing fore and aft', () => {
    const loads = run('pedalling');
    const [solution] = frameSolver(structure).solve(loads);
    const link = solution!.joint.subarray(6 * structure.joints.length);
    expectWithin(link[0]!, 0, { absolute: 1e-9 });
    // Moments about the front axle: F_v (1010 − x_pedal) / 1010, and the sideways force does not enter.
    const share = (1010 - 400 - 175 * Math.SQRT1_2) / 1010;
    expectWithin(Math.abs(link[2]!), 1000 * Math.cos((7.5 * Math.PI) / 180) * share, { relative: SOLVED });
  });
  it('both senses of the sideways lean are there, and the other foot mirrors the first', () => {
    const { loads, ranges } = run('pedalling');
    const sideways = loads.map((l) => Math.sign(total(l).force[1]));
    expect(sideways).toEqual([1, -1, -1, 1]);
    expect(ranges.map((r) => r.states)).toEqual([
      [-1, 0, 1],
      [-1, 2, 3],
    ]);
  });
  it('the seat post’s load keeps 73° and 10° whatever the post’s own angle', () => {
    const { loads } = run('seat_post');
    const [load] = loads[0]!;
    const arm = sub(load!.at!, structure.nodes[places.saddleClamp]!.at);
    const DEG = Math.PI / 180;
    expectWithin(dot(load!.force, RIDE.postAxis), -1000 * Math.sin(73 * DEG), { relative: SUMMED });
    expectWithin(dot(arm, RIDE.postAxis), 70 * Math.cos(83 * DEG), { relative: SUMMED * 8 });
    // On a post at 73° the force is vertical and the bar 10° below level.
    const upright: Vec3 = [-Math.cos(73 * DEG), 0, Math.sin(73 * DEG)];
    const [same] = run('seat_post', { ...RIDE, postAxis: upright }).loads[0]!;
    expectWithin(same!.force[0], 0, { absolute: SUMMED * 1000 });
    const level = sub(same!.at!, structure.nodes[places.saddleClamp]!.at);
    expectWithin(level[2], -70 * Math.sin(10 * DEG), { relative: SUMMED * 8 });
  });
  it('bar tests act 50 mm inside the ends, along the steering axis', () => {
    const [load] = run('bar_lateral').loads[0]!;
    const end = structure.nodes[places.barEndRight]!.at;
    const inset = sub(load!.at!, end);
    expectWithin(Math.sqrt(dot(inset, inset)), 50, { relative: SUMMED });
    expect(inset[1]).toBeGreaterThan(0);
    expectWithin(dot(load!.force, RIDE.steerAxis), -600, { relative: SUMMED });
  });
});

describe('standing still', () => {
  it('lifted, it hangs under the hand, which feels no moment', () => {
    const loads = run('lifting');
    const sum = total(loads.loads[0]!, structure.nodes[places.handle]!.at);
    for (const v of sum.moment) expectWithin(v, 0, { absolute: SUMMED * largest(loads.loads[0]!).moment });
    expectWithin(finding(loads, 'force of the hand'), 2 * (RIDE.mass + RIDE.luggage) * G, { relative: SUMMED });
  });
  it('folded, its feet share the weight by statics', () => {
    const loads = run('folded_seat', FOLDED);
    const [solution] = frameSolver(structure).solve(loads);
    const height = (k: number) => -solution!.joint[6 * (structure.joints.length + k) + 2]!;
    const sum = total(loads.loads[0]!, [390, 0, 0]);
    // Moment about the line through the two front feet, x = 390: the third stands at x = 0.
    expectWithin(height(2), -sum.moment[1] / 390, { relative: SOLVED });
    expectWithin(height(0) + height(1) + height(2), -sum.force[2], { relative: SOLVED });
  });
});
