import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../../test/expect-within.ts';
import { fixed, goTo, moveBy, standingAt, tmuOf } from './hand-work.ts';
import { motion } from './motion-code.ts';

const codes = (w: { elements: readonly { code: string }[] }): string => w.elements.map((e) => e.code).join(' ');
const ENDS = [-0.2, 1.2] as const;

describe('a person beside the bicycle', () => {
  it('reaches across the frame, and walks round to what lies low on the far side', () => {
    const across = standingAt([0.5, 0.3, 0.8], 1, 0.8);
    goTo(across, [0.5, -0.15, 0.3], ENDS, 'a pedal');
    // bent, the hand is 0.3 m above it: 0.45 m across and 0.3 m down are 0.54 m
    expect(codes(across)).toBe('B R21B');
    const round = standingAt([0.5, 0.3, 0.8], 1, 0.8);
    goTo(round, [0.5, -0.3, 0.3], ENDS, 'a catch');
    // over the rear end: 2 × (0.5 + 0.2 + 0.3) + 0.9 = 2.9 m, 4 paces; over the front end just as far
    expect(codes(round)).toBe('TBC1 W4P TBC1 B R13B');
    expect(round.side).toBe(-1);
  });
  it('goes along to what is out of reach, bent where both places are low', () => {
    const upright = standingAt([0.2, 0.3, 0.8], 1, 0.8);
    goTo(upright, [1, 0, 0.9], ENDS, 'the bar');
    expect(codes(upright)).toBe('W2P R12B');
    const low = standingAt([0.2, 0, 0.4], 1, 0.8);
    low.bent = true;
    goTo(low, [0.85, 0, 0.4], ENDS, 'a hook');
    expect(codes(low)).toBe('W1P Rf');
  });
  it('bends once for two low places and rises for a high one', () => {
    const w = standingAt([0.5, 0.2, 0.8], 1, 0.8);
    goTo(w, [0.5, 0, 0.4], ENDS, 'one');
    goTo(w, [0.6, 0, 0.5], ENDS, 'two');
    goTo(w, [0.6, 0, 0.75], ENDS, 'three');
    expect(codes(w).match(/\bA?B\b/g)).toEqual(['B', 'AB']);
  });
  it('writes codes that the table of motion times reads back to the same time', () => {
    const w = standingAt([0.5, 0.2, 0.8], 1, 0.8);
    goTo(w, [1.3, 0, 0.4], ENDS, 'far');
    moveBy(w, 0.83, 'A', 3.2, 'move');
    moveBy(w, 0.4, 'C', 6, 'move', 'both');
    moveBy(w, 0.005, 'B', 0, 'a little');
    fixed(w, 'lock', 'D3E', 'pull');
    expectWithin(
      w.elements.reduce((sum, e) => sum + motion(e.code).tmu, 0),
      tmuOf(w.elements),
      { absolute: 1e-9 },
      codes(w),
    );
  });
  it('knows no element that the table does not know', () => {
    expect(() => fixed(standingAt([0, 0, 1], 1, 0.8), 'lock', 'X9', 'nothing')).toThrow(RangeError);
  });
});
