import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../../test/expect-within.ts';
import { bandSlip, type HingePin, pinLoad } from './hand-checks.ts';

/** Sums of a few products. */
const EXACT = { relative: 1e-12 };

describe('the force on the pin of a hinge', () => {
  const bare: HingePin = { latched: false, arm: Number.POSITIVE_INFINITY, length: 60, preload: 0, share: 1 };
  const latched: HingePin = { latched: true, arm: 40, length: 60, preload: 5000, share: 0.2 };

  it('is the resultant of pull and shear where nothing bends it, pushed or pulled', () => {
    expectWithin(pinLoad(bare, [300, -400, 77, 0, 0, 0]).load, 500, EXACT);
    expectWithin(pinLoad(bare, [-300, 400, 77, 0, 0, 0]).load, 500, EXACT);
  });
  it('loads one shear plane of a tilted bare pin with M over its length: as much as a force of 2 M/l does', () => {
    // 120 N·m on 60 mm: couple of 2000 N, as half of 4000 N
    expectWithin(pinLoad(bare, [0, 0, 0, 0, 120_000, 0]).load, 4000, EXACT);
    expectWithin(pinLoad(bare, [0, 0, 0, -120_000, 0, 0]).load, 4000, EXACT);
  });
  it('is halved there by a latch on the other flank', () => {
    const loose = { ...latched, preload: 0 };
    expectWithin(pinLoad(loose, [0, 0, 0, 0, 120_000, 0]).load, 2000, EXACT);
  });
  it('grows by the share of pin and latch until the face opens, then takes all', () => {
    // about the pin 80 N·m on an arm of 40 mm: 2000 N; 5000 + 0.2 · 2000
    expectWithin(pinLoad(latched, [0, 0, 0, 0, 0, 80_000]).load, 5400, EXACT);
    // 400 N·m: 10 000 N is more than 5000 + 2000
    expectWithin(pinLoad(latched, [0, 0, 0, 0, 0, -400_000]).load, 10_000, EXACT);
  });
  it('does not feel what presses the faces together', () => {
    expectWithin(pinLoad(latched, [-9000, 0, 0, 0, 0, 0]).load, 5000, EXACT);
  });
  it('is not moved by a push along the pin', () => {
    expect(pinLoad(bare, [0, 0, 1234, 0, 0, 0]).load).toBe(0);
  });
});

describe('a post in a band', () => {
  const clamp = { pull: 2500, diameter: 34, length: 34, friction: 0.15 };
  it('slips at 1500 N along it: 2500 N on both sides, two lines of contact, friction 0.15', () => {
    expectWithin(bandSlip(clamp, -1500, 0), 1, EXACT);
  });
  it('slips at 25.5 N·m about it: the same grip at a radius of 17 mm', () => {
    expectWithin(bandSlip(clamp, 0, 25_500), 1, EXACT);
  });
  it('feels both as the sides of a right-angled triangle', () => {
    expectWithin(bandSlip(clamp, 900, 0.8 * 25_500), 1, EXACT);
  });
});
