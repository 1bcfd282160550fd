import { describe, expect, test } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { quayside } from '../../../test/fixtures/quayside.ts';
import { type Flap, flaps, type ShapedModel } from '../../../test/fixtures/rod-models.ts';
import { gapBetween } from '../envelope/gap.ts';
import { newPosedShapes, poseShapes } from '../envelope/posed-shapes.ts';
import { newLinkageWorkspace, planFold, postureLike } from '../linkage/index.ts';
import type { Model, State } from '../model/types.ts';
import { newMeetings, TOUCH } from './fold-meets.ts';
import { foldStates, motionTables, poseMotion } from './fold-states.ts';
import { forgottenMoves } from './forgotten.ts';
import { NEARLY, wrongOrders } from './wrong-orders.ts';

const HALF = Math.PI;
/** Pointing along x, turned a quarter: where it pointed, `under` wants to go. */
const OVER: Flap = { name: 'over', at: [0, 0, 0], length: 0.6, to: HALF / 2 };
/** Below the first one; turned a quarter it reaches up across the first one's place. */
const UNDER: Flap = { name: 'under', at: [0.25, -0.3, 0], length: 0.4, to: HALF / 2 };

function orders({ m, s }: { m: ShapedModel['m']; s: State }) {
  const ws = newLinkageWorkspace(m.top);
  const plan = planFold(m, s, ws);
  const states = foldStates(m, plan);
  const meetings = newMeetings(m, s, plan, states, ws);
  const here = postureLike(s);
  return {
    plan,
    states,
    meetings,
    ...wrongOrders(m, plan, states, meetings, here, ws),
    forgotten: forgottenMoves(m, s, plan, states, meetings, here, ws),
  };
}

const crossing = (): ShapedModel => flaps([OVER, UNDER]);

describe('two flaps in one another’s way', () => {
  const found = orders(crossing());
  test('have one wrong order each way, and it meets', () => {
    expect(found.every).toBe(true);
    expect(found.fold).toEqual({ total: 1, harmless: 0, clash: 1, blocked: 0, looksShut: 0 });
    expect(found.unfold).toEqual({ total: 1, harmless: 0, clash: 1, blocked: 0, looksShut: 0 });
  });
  test('name what should have been first, the shapes, and where they touch', () => {
    const [fold, unfold] = (['fold', 'unfold'] as const).map((way) => found.causes.find((c) => c.way === way)!);
    expect(fold).toMatchObject({ motion: 1, before: [0], after: [] });
    expect(unfold).toMatchObject({ motion: 0, before: [1], after: [] });
    expect(fold!.meeting!.shapes).toEqual([0, 1]);
    expect(fold!.meeting!.left).toBeGreaterThan(NEARLY);
    // the tip comes up to the other's axis as near as both radii, less the overlap that counts
    const sine = (0.3 - (0.02 - TOUCH)) / 0.4;
    expectWithin(fold!.meeting!.value, Math.asin(sine), BISECTED);
  });
});
/** Twelve halvings of a step of at most 0.4 rad. */
const BISECTED = { absolute: 2e-4 };

/** Least gap of all pairs along motion i with `done` done, every degree (or 17 mm). */
function scan(m: ShapedModel['m'] | Model, s: State, i: number, done: number): { value: number; gap: number }[] {
  const ws = newLinkageWorkspace(m.top);
  const plan = planFold(m, s, ws);
  const states = foldStates(m, plan);
  const here: State = { ...s, q: new Float64Array(s.q.length), bodyT: s.bodyT.slice() };
  const tables = motionTables(m, plan, states, postureLike(s), ws);
  const posed = newPosedShapes(m.top);
  const w = new Float64Array(7);
  const { from, to } = plan.segments[states.motions[i]!.segment]!;
  const steps = Math.ceil(Math.abs(to - from) / (Math.PI / 180));
  return Array.from({ length: steps + 1 }, (_, k) => {
    poseMotion(m, plan, states, tables, done, i, k / steps, here);
    poseShapes(m.top, here, posed);
    let gap = Infinity;
    for (let p = 0; p < m.top.pairs.length; p += 2)
      gap = Math.min(gap, gapBetween(posed, m.top.pairs[p]!, m.top.pairs[p + 1]!, 0.05, w));
    return { value: from + ((to - from) * k) / steps, gap };
  });
}

describe('counting', () => {
  test('agrees with every permutation tried one by one', () => {
    const four: Flap[] = [
      OVER,
      UNDER,
      { name: 'free', at: [-0.5, 0.3, 0], length: 0.3, to: 0.4 },
      // across the place of `under`, as that one across the first
      { name: 'last', at: [0.6, -0.5, 0], length: 0.35, to: HALF / 2 },
    ];
    const { m, s } = flaps(four);
    const found = orders({ m, s });
    const clear = new Map<string, boolean>();
    const passes = (i: number, done: number): boolean => {
      const key = `${i} ${done}`;
      if (!clear.has(key))
        clear.set(
          key,
          scan(m, s, i, done).every((x) => x.gap >= -TOUCH),
        );
      return clear.get(key)!;
    };
    let [harmless, clash] = [0, 0];
    for (const order of permutations([0, 1, 2, 3])) {
      let done = 0;
      const through = order.every((i) => {
        const goes = passes(i, done);
        done |= 1 << i;
        return goes;
      });
      if (through) harmless++;
      else clash++;
    }
    expect(clash).toBeGreaterThan(0);
    // three of them must follow one another, the fourth is free: 4!/3!
    expect(harmless).toBe(4);
    expect(found.fold).toMatchObject({ total: 23, harmless: harmless - 1, clash });
  });

  test('adds up, and as many orders unfold without harm as fold', () => {
    for (const candidate of quayside().candidates.slice(0, 2)) {
      const { model } = candidate;
      const s = model.newState();
      model.fill(model.x, s);
      const found = orders({ m: model, s });
      for (const c of [found.fold, found.unfold]) expect(c.harmless + c.clash + c.blocked + c.looksShut).toBe(c.total);
      const reasons = found.causes.filter((c) => c.way === 'fold').reduce((sum, c) => sum + c.orders, 0);
      expect(reasons).toBe(found.fold.total - found.fold.harmless);
      expect(found.unfold.harmless).toBe(found.fold.harmless);
    }
  });

  test('groups of pairs find what all pairs in every state find: a real candidate', () => {
    const { model } = quayside().candidates.find((c) => c.id === 'four_bar')!;
    const s = model.newState();
    model.fill(model.x, s);
    const { states, meetings } = orders({ m: model, s });
    const n = states.motions.length;
    let met = 0;
    for (let i = 0; i < n; i++)
      for (let done = 0; done < 2 ** n; done += 5) {
        if ((done >> i) & 1) continue;
        const right = done === 2 ** i - 1;
        const least = Math.min(...scan(model, s, i, done).map((x) => x.gap));
        const meeting = meetings.first(i, done, 'fold');
        if (meeting) met++;
        // what is passed over in a step of 10 mm overlaps by little: nothing in between here
        if (!right) expect(meeting !== undefined, `motion ${i}, done ${done}`).toBe(least < -TOUCH);
      }
    expect(met).toBeGreaterThan(0);
  });
});

function permutations(items: readonly number[]): number[][] {
  if (items.length < 2) return [[...items]];
  return items.flatMap((x) => permutations(items.filter((y) => y !== x)).map((rest) => [x, ...rest]));
}

test('a move whose release belongs to a later one is blocked', () => {
  const apart: Flap[] = [
    { name: 'a', at: [0, 0, 0], length: 0.2, to: 1 },
    { name: 'b', at: [1, 0, 0], length: 0.2, to: 1, held: 'latch' },
  ];
  const found = orders(
    flaps(apart, [
      { move: 'release', joint: 'b' },
      { move: 'turn', joint: 'a', to: 1 },
      { move: 'turn', joint: 'b', to: 1 },
    ]),
  );
  expect(found.fold).toEqual({ total: 1, harmless: 0, clash: 0, blocked: 1, looksShut: 0 });
  expect(found.causes[0]).toMatchObject({ motion: 1, before: [0], why: 'locked' });
});

describe('a move that meets something just before its end', () => {
  /** Turned by 1 rad, its tip comes to where a rod that should have been turned away first stands across, 15 mm before the end. */
  const short = 0.015 / 0.3;
  const tip = [0.3 * Math.cos(1 - short), 0.3 * Math.sin(1 - short)] as const;
  const stopping = flaps([
    { name: 'stop', at: [tip[0] - 0.02, tip[1] + 0.019, 0], length: 0.2, to: HALF / 2 },
    { name: 'flap', at: [0, 0, 0], length: 0.3, to: 1 },
  ]);
  test('looks shut and is not', () => {
    const found = orders(stopping);
    expect(found.fold).toEqual({ total: 1, harmless: 0, clash: 0, blocked: 0, looksShut: 1 });
    const { left, value } = found.causes.find((c) => c.way === 'fold')!.meeting!;
    expect(left).toBeLessThan(NEARLY);
    expectWithin(left, 2 * 0.31 * Math.sin((1 - value) / 2), { relative: 0.01 });
  });
});

describe('a move forgotten', () => {
  test('is seen where the part stands off, and noticed where it is in the way', () => {
    const { forgotten } = orders(crossing());
    const of = (way: string, motion: number) => forgotten.find((f) => f.way === way && f.motion === motion)!;
    expect(of('fold', 1).end).toBe('seen');
    // chord of the tip's corner, 10 mm beyond its axis
    expectWithin(of('fold', 1).off, 2 * 0.41 * Math.sin(HALF / 4), { relative: 0.01 });
    expect(of('fold', 0)).toMatchObject({ end: 'clash', stops: 1 });
    expect(of('unfold', 1)).toMatchObject({ end: 'clash', stops: 0 });
  });
  test('of 2° looks right: harmless without a catch, a hazard where a catch does not reach', () => {
    const twice: Flap[] = [
      { name: 'a', at: [0, 0, 0], length: 0.3, to: (2 * HALF) / 180 },
      { name: 'b', at: [1, 0, 0], length: 0.2, to: 1 },
    ];
    const plain = flaps(twice);
    expect(orders(plain).forgotten.find((f) => f.way === 'fold' && f.motion === 0)!.end).toBe('harmless');
    const state = { ...plain.s, station: Float64Array.of(0.3, 0, 0) };
    const caught = {
      m: {
        ...plain.m,
        holders: [{ name: 'catch', kind: 'catch' as const, bodies: [0, 1] as const, station: 0, force: 0, joint: -1 }],
      },
      s: state,
    };
    const hazard = orders(caught).forgotten.find((f) => f.way === 'fold' && f.motion === 0)!;
    expect(hazard).toMatchObject({ end: 'looks_shut', loose: [0] });
  });
});

test('motions that share a joint are not counted in every order, and that is said', () => {
  const found = orders(
    flaps(
      [OVER, { name: 'b', at: [1, 0, 0], length: 0.2, to: 1 }],
      [
        { move: 'turn', joint: 'over', to: 0.5 },
        { move: 'turn', joint: 'b', to: -HALF / 2 },
        { move: 'turn', joint: 'over', to: 1 },
      ],
    ),
  );
  expect(found.every).toBe(false);
  expect(found.fold.total).toBe(3);
});
