import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { fourBar, type LinkageModel } from '../../../test/fixtures/linkage-models.ts';
import { foldingBicycle } from '../../../test/fixtures/shaped-models.ts';
import { newLinkageWorkspace, planFold, poseAlong } from '../linkage/index.ts';
import { massInto, newMassBuffer } from '../mass/index.ts';
import type { Vec3 } from '../math/rigid.ts';
import type { Holder, State } from '../model/types.ts';
import { foldCables, foldedPackage, type PackageModel, packageHandling } from './folded-package.ts';
import { firstMomentRate } from './hold.ts';
import { attitudes, fitPlace } from './space.ts';

/** One point-like mass per body, a station per named point, nothing else. Invented. */
function dressed(
  base: LinkageModel,
  masses: readonly (readonly [number, Vec3])[],
  stations: readonly Vec3[],
  more: Partial<PackageModel> = {},
  values: readonly number[] = [],
): { m: PackageModel; s: State; first: number } {
  const s: State = {
    ...base.s,
    value: Float64Array.from([...base.s.value, ...values]),
    station: Float64Array.from(stations.flat()),
    mass: Float64Array.from(masses.flatMap(([m, c]) => [m, ...c, 0.01, 0.01, 0.01, 0, 0, 0])),
  };
  const m: PackageModel = {
    ...base.m,
    top: { ...base.m.top, massBody: Int32Array.from(masses, (_, b) => b), massGroup: masses.map(() => 'frame') },
    drive: {
      kind: 'chain',
      fromBody: 0,
      toBody: 0,
      fromStation: 0,
      toStation: 0,
      side: -1,
      ring: -1,
      sprocket: -1,
      releasable: false,
    },
    holders: [],
    handle: { station: -1, body: -1 },
    standsOn: [],
    rollsOn: [],
    cables: [],
    ...more,
  };
  return { m, s, first: base.s.value.length };
}
const BICYCLE: readonly (readonly [number, Vec3])[] = [
  [5, [0.25, 0, 0.35]],
  [1.5, [0.75, 0, 0.52]],
  [2.4, [0.98, 0, 0.35]],
  [0.8, [0.25, 0, 0.88]],
  [1.2, [0.415, 0, 0.3]],
  [0.7, [0.81, 0, 0.95]],
];

describe('the folded bicycle as a package', () => {
  const strap = (force: number): Holder => ({
    name: 'strap',
    kind: 'strap',
    bodies: [0, 1],
    station: 1,
    force,
    joint: -1,
  });
  const make = () => {
    const base = foldingBicycle();
    const at = base.s.value.length;
    return dressed(
      base,
      BICYCLE,
      [
        [0.27, 0, 0.85],
        [0.86, 0, 0.56],
        [0.53, 0, 0.48],
        [0.63, 0, 0.51],
      ],
      {
        holders: [strap(at)],
        handle: { station: 0, body: 3 },
        cables: [{ name: 'brake', bodies: [0, 1], stations: [2, 3], stationBody: [0, 1], slack: at + 1, minBend: -1 }],
      },
      [80, 0.05],
    );
  };

  it('is the same whichever posture the state was left in, and leaves it there', () => {
    const { m, s } = make();
    const plan = planFold(m, s);
    const before = s.bodyT.slice();
    const p = foldedPackage(m, s, plan);
    expect([...s.bodyT]).toEqual([...before]);
    s.bodyT.fill(0.5);
    expect(foldedPackage(m, s, plan)).toEqual(p);
    expectWithin(p.whole.mass, 11.6, { relative: 1e-12 });
  });

  it('opens at the joints of the fold, names the steerer as idle and leaves the cranks out', () => {
    const { m, s } = make();
    const p = foldedPackage(m, s, planFold(m, s));
    expect(p.freedoms.map((f) => f.name)).toEqual(['main', 'seat', 'bar']);
    expect(p.freedoms.map((f) => f.opens)).toEqual([-1, 1, -1]);
    expect(p.idle).toEqual(['steer']);
  });

  it('finds that nothing holds the lowered seat post and the bar, and that the strap holds the main hinge', () => {
    const { m, s } = make();
    const h = packageHandling(m, foldedPackage(m, s, planFold(m, s)));
    const single = (name: string) =>
      h.hold.margins.filter(
        (x) => x.freedoms.length === 1 && x.freedoms[0] === name && x.situation === 'any attitude',
      )[0]!;
    expectWithin(single('seat').ratio, 0, { absolute: 1e-12 });
    expectWithin(single('bar').ratio, 0, { absolute: 1e-12 });
    expect(single('main').holders).toEqual(['strap']);
    expect(single('main').ratio).toBeGreaterThan(1);
    expect(h.hold.least!.ratio).toBeLessThan(1e-9);
    expect(h.carrying).toBeDefined();
    expect(h.standing.rest.reason).toBe('rests');
  });

  it('fits a place that holds its box, and the cable across the hinge is followed through the fold', () => {
    const { m, s } = make();
    const plan = planFold(m, s);
    const p = foldedPackage(m, s, plan);
    const r = fitPlace(p.solid, { kind: 'box', size: [1.2, 1, 1.2] }, attitudes('any', [0, 1, 0], [0, 0, 1]), {
      cleanSideUp: true,
      ...(p.chainSide ? { chainSide: p.chainSide } : {}),
    });
    expect(r.fits).toBe(true);
    expect(r.margin !== undefined && r.attitude).toBe('on its left side');
    expect(r.refused.length).toBe(5);
    const [cable] = foldCables(m, s, plan);
    expect(cable!.longest).toBeGreaterThan(cable!.ridePath);
    // The hinge lies 35 mm beside it: the arms to its axis cannot be longer than straight.
    expect(cable!.longest).toBeLessThan(0.3);
    expect(m.fold[cable!.at.move]!.joint).toBe(0);
  });
});

describe('a closed loop', () => {
  it("opens with its followers: virtual work equals the change of the bodies' first moment along the fold", () => {
    const base = fourBar({
      fold: [
        { move: 'release', joint: 'a' },
        { move: 'turn', joint: 'a', to: 0.6 },
      ],
    });
    const { m, s } = dressed(
      base,
      [
        [3, [0.2, 0, 0.3]],
        [0.6, [0.6, 0.02, 0.36]],
        [4, [0.95, 0, 0.5]],
        [0.5, [0.55, -0.02, 0.61]],
      ],
      [],
    );
    const plan = planFold(m, s);
    const p = foldedPackage(m, s, plan);
    expect(p.freedoms.map((f) => f.name)).toEqual(['a']);
    const w = firstMomentRate(p.freedoms[0]!.rates, p.bodies, 0);
    const ws = newLinkageWorkspace(m.top);
    const here: State = { ...s, q: s.q.slice(), bodyT: s.bodyT.slice() };
    const moment = (u: number): readonly number[] => {
      poseAlong(m, plan, 0, u, here, ws);
      const buffer = newMassBuffer(m.top.bodyCount);
      massInto(m.top, here, buffer);
      return [1, 2, 3].map((k) => buffer.whole[0]! * buffer.whole[k]!);
    };
    // Backward difference of second order at the end of the fold, step 0.006 rad: error about h²/3 of the third derivative.
    const h = 0.01;
    const [a, b, c] = [moment(1), moment(1 - h), moment(1 - 2 * h)];
    for (let k = 0; k < 3; k++) {
      const slope = (3 * a[k]! - 4 * b[k]! + c[k]!) / (2 * h * 0.6);
      expectWithin(w[k]!, slope, { absolute: 2e-4 });
    }
    expect(Math.abs(w[2]) + Math.abs(w[0])).toBeGreaterThan(0.5);
  });

  it('locked again, nothing is free', () => {
    const { m, s } = dressed(
      fourBar(),
      [
        [3, [0.2, 0, 0.3]],
        [0.6, [0.6, 0, 0.36]],
        [4, [0.95, 0, 0.5]],
        [0.5, [0.55, 0, 0.61]],
      ],
      [],
    );
    const p = foldedPackage(m, s, planFold(m, s));
    expect(p.freedoms).toEqual([]);
    expect(p.idle).toEqual([]);
  });
});
