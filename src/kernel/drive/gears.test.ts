import { describe, expect, it } from 'vitest';
import { EPS, expectWithin } from '../../../test/expect-within.ts';
import { crankLoad } from './crank-load.ts';
import { cadenceAt, gearSet, nearestGear } from './gears.ts';
import { HUB_RATIOS } from './hub-gears.ts';
import { rollingBySize, sharedRolling } from './rolling.ts';
import { rollingRadius, rollOut, tyreDiameter } from './wheel-size.ts';

const ROUNDOFF = { relative: 32 * EPS };

describe('a gear set', () => {
  const set = gearSet({ rollOut: 1.31, rings: [44, 34], sprockets: [13, 17], ratios: [0.733, 1, 1.364] });
  it('has every combination, lowest first, and ranges from end to end', () => {
    expect(set.gears).toHaveLength(12);
    for (let i = 1; i < 12; i++)
      expect(set.gears[i]!.development).toBeGreaterThanOrEqual(set.gears[i - 1]!.development);
    expectWithin(set.range, ((44 / 13) * 1.364) / ((34 / 17) * 0.733), ROUNDOFF);
    expect(set.gears[0]).toMatchObject({ ring: 34, sprocket: 17, ratio: 0.733 });
  });
  it('needs a cadence that gives the speed back, and picks the gear nearest to the wished one as a ratio', () => {
    for (const g of set.gears) expectWithin(cadenceAt(g.development, 5) * g.development, 5, ROUNDOFF);
    const single = gearSet({ rollOut: 2, rings: [40], sprockets: [20], ratios: [1, 2] });
    // 4 m and 8 m a turn at 6 m/s: 1.5 and 0.75 turns; of 1.1 the first is 1.36 times off, the second 1.47 times
    expect(nearestGear(single, 6, 1.1).ratio).toBe(1);
    expect(nearestGear(single, 6, 1.0).ratio).toBe(2);
    expect(single.largestStep).toBe(2);
  });
  it('of one gear has range and step 1', () => {
    expect(gearSet({ rollOut: 2, rings: [40], sprockets: [20], ratios: [1] })).toMatchObject({
      range: 1,
      largestStep: 1,
    });
  });
  it('refuses an empty list and teeth below 1', () => {
    const train = { rollOut: 2, rings: [40], sprockets: [20], ratios: [1] };
    expect(() => gearSet({ ...train, sprockets: [] })).toThrow(/no sprocket/);
    expect(() => gearSet({ ...train, rings: [0] })).toThrow(/chainring/);
    expect(() => gearSet({ ...train, rollOut: Number.NaN })).toThrow(/way per turn/);
  });
});

it('hub gears rise from gear to gear within the ranges known to the trade', () => {
  const known: Readonly<Record<number, readonly [number, number]>> = {
    3: [1.85, 1.87],
    5: [2.24, 2.57],
    7: [2.43, 2.46],
    8: [3.05, 3.26],
    11: [3.79, 4.1],
    14: [5.2, 5.3],
  };
  for (const [n, ratios] of HUB_RATIOS) {
    expect(ratios).toHaveLength(n);
    for (let i = 1; i < n; i++) expect(ratios[i]!).toBeGreaterThan(ratios[i - 1]!);
    const range = ratios.at(-1)! / ratios[0]!;
    const [low, high] = known[n] ?? [1, 1.4];
    expect(range, `${n} gears`).toBeGreaterThanOrEqual(low);
    expect(range, `${n} gears`).toBeLessThanOrEqual(high);
  }
});

describe('wheels', () => {
  it('roll between their loaded and their outside radius', () => {
    expect(rollingRadius(0.21, 0.207)).toBeGreaterThan(0.207);
    expect(rollingRadius(0.21, 0.207)).toBeLessThan(0.21);
    expectWithin(rollOut(0.21), 2 * Math.PI * 0.21, ROUNDOFF);
    expect(() => tyreDiameter(0.4, 0)).toThrow(/no size/);
  });
  it('roll harder when smaller: at the reference size as given, at half of it 1.4 to 2 times as hard', () => {
    expectWithin(rollingBySize(0.678).value, 0.005, ROUNDOFF);
    const half = rollingBySize(0.339);
    expectWithin(half.low, 0.005 * Math.SQRT2, { relative: 1e-14 });
    expectWithin(half.high, 0.01, { relative: 1e-14 });
    expect(half.value).toBeGreaterThan(half.low);
    expect(half.value).toBeLessThan(half.high);
    const large = rollingBySize(0.8);
    expect(large.low).toBeLessThan(large.high);
    expectWithin(sharedRolling(0.008, 0.006, 0.4), 0.0068, ROUNDOFF);
    expect(() => rollingBySize(0)).toThrow(/roll/);
  });
});

it('the cranks give over a turn what the wheel takes: energy is kept, less the losses', () => {
  for (const development of [2.2, 4.4, 6.05]) {
    const load = crankLoad(106, development, 0.165, 0.95);
    expectWithin(load.meanTorque * 2 * Math.PI * 0.95, 106 * development, ROUNDOFF);
    // the mean of peak·|sin| over a turn is the mean torque
    let sum = 0;
    const n = 20000;
    for (let i = 0; i < n; i++) sum += load.peakTorque * Math.abs(Math.sin((2 * Math.PI * (i + 0.5)) / n));
    expectWithin(sum / n, load.meanTorque, { relative: 1e-7 });
    expectWithin(load.pedalForce * 0.165, load.peakTorque, ROUNDOFF);
  }
  expect(() => crankLoad(100, 4, 0, 1)).toThrow(/crank/);
});
