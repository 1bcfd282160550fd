/** The recorded values belong to the decks that the code writes today, and they balance by themselves. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { beamSection } from '#kernel';
import { expectWithin } from '../../../test/expect-within.ts';
import { frameNames, lengthOf, loadFrame, pipeOf, type Triple } from './frames.ts';
import { beamDeckOf, beamNames, digest, readRecorded, solidDeckOf } from './recorded.ts';
import { stations } from './solid-deck.ts';

const recorded = readRecorded();
/** Section values are given with twelve digits; recovering a wall from them loses about two. */
const TWELVE_DIGITS = { relative: 1e-9 };
/** Seven digits printed, of the largest value; sums of up to eight of them. */
const SEVEN_DIGITS = 8e-7;

test('every frame is recorded, and nothing else', () => {
  expect(Object.keys(recorded.frames).sort()).toEqual([...frameNames]);
});

describe.each(frameNames)('%s', (name) => {
  const frame = loadFrame(name);

  test('the decks are those that were run', () => {
    expect(digest(solidDeckOf(name, 'own').text)).toBe(recorded.frames[name]!.own.deck);
    expect(digest(solidDeckOf(name, 'no_contraction').text)).toBe(recorded.frames[name]!.no_contraction.deck);
  });

  test('shear areas in the file are Cowper’s for the pipe that its other values describe', () => {
    for (const m of frame.members) {
      const { outer, wall, nu } = pipeOf(m);
      const section = beamSection('round', 2 * outer, 2 * outer, wall, nu);
      expectWithin(m.shear_area_y_mm2!, section.asy, TWELVE_DIGITS, m.id);
      expectWithin(m.shear_area_z_mm2!, section.asz, TWELVE_DIGITS, m.id);
      expectWithin(m.A_mm2, section.area, TWELVE_DIGITS, m.id);
      expectWithin(m.J_mm4, section.j, TWELVE_DIGITS, m.id);
    }
  });

  test.each(['own', 'no_contraction'] as const)('recorded reactions balance the loads: %s', (variant) => {
    const sum = [0, 0, 0, 0, 0, 0];
    let size = 0;
    const add = (p: Triple, f: readonly number[], q: readonly number[]): void => {
      const arm = [p[1] * f[2]! - p[2] * f[1]!, p[2] * f[0]! - p[0] * f[2]!, p[0] * f[1]! - p[1] * f[0]!];
      for (let c = 0; c < 3; c++) {
        sum[c]! += f[c]!;
        sum[3 + c]! += q[c]! + arm[c]!;
        size = Math.max(size, Math.abs(f[c]!));
      }
    };
    for (const { node, force_N, moment_Nmm } of frame.loads)
      add(frame.nodes[node]!, force_N ?? [0, 0, 0], moment_Nmm ?? [0, 0, 0]);
    for (const [node, r] of Object.entries(recorded.frames[name]![variant].reactions))
      add(frame.nodes[node]!, r.slice(0, 3), r.slice(3));
    for (let c = 0; c < 6; c++)
      expectWithin(sum[c]!, 0, { absolute: SEVEN_DIGITS * size * (c < 3 ? 1 : 1000) }, { name, component: c });
  });

  test('bricks along each tube rise from 0 to its length', () => {
    for (const m of frame.members) {
      const at = stations(lengthOf(frame, m), 2 * pipeOf(m).outer, recorded.mesh);
      expect(at[0]).toBe(0);
      expectWithin(at.at(-1)!, lengthOf(frame, m), { relative: 4 * Number.EPSILON });
      expect(at.every((x, i) => i === 0 || x > at[i - 1]!)).toBe(true);
    }
  });
});

test.each(beamNames)('%s: the deck of beam elements is the one on file', (name) => {
  const { text } = beamDeckOf(name);
  expect(readFileSync(join(import.meta.dirname, 'decks', `${name}-b32r.inp`), 'utf8')).toBe(text);
  expect(digest(text)).toBe(recorded.frames[name]!.beam_element!.deck);
});

test('a member that is no pipe is refused', () => {
  const m = loadFrame('column').members[0]!;
  expect(() => pipeOf({ ...m, Iy_mm4: 1.01 * m.Iy_mm4 })).toThrow('no round pipe');
});
