import { describe, expect, it } from 'vitest';
import { standingAt } from './hand-work.ts';
import { type LockKind, openLock, shutLock, worksAlone } from './lock-work.ts';

const LEVER = 0.1;
const codes = (kind: LockKind, way: 'open' | 'shut', actions = 1, riding = false): string => {
  const w = standingAt([0.5, 0.2, 0.8], 1, 0.8);
  const lock = { kind, lever: LEVER, actions };
  if (way === 'open') openLock(w, lock, 'main');
  else shutLock(w, lock, 'main', riding);
  return w.elements.map((e) => e.code).join(' ');
};

describe('work on a lock', () => {
  it('follows its mechanism', () => {
    const table: readonly (readonly [LockKind, string, string])[] = [
      ['toggle', 'G1A APA M8B RL1', 'G1A P1SE M8A APA RL1'],
      ['cam', 'G1A APA M12B RL1', 'G1A M12A APA RL1'],
      ['wedge', 'G1A APA M8B D3E RL1', 'G1A M8A APA RL1'],
      [
        'screw',
        'G1A APA T180M RL1 T180S G1A T180M RL1 T180S G1A T180M RL1',
        'G1A T180M RL1 T180S G1A T180M RL1 T180S G1A T180M APA RL1',
      ],
      ['plunger', 'G1B APA D1E', 'APA'],
      ['pin', 'G1B D2E M4B RL1', 'G1B M4C P2SE APA RL1'],
      ['detent', '', ''],
      ['none', '', ''],
    ];
    for (const [kind, opens, shuts] of table) {
      expect(codes(kind, 'open'), kind).toBe(opens);
      expect(codes(kind, 'shut'), kind).toBe(shuts);
      expect(worksAlone({ kind, lever: LEVER, actions: 1 })).toBe(opens === '');
    }
  });
  it('lifts every catch beyond the first action, and looks when it is shut for riding', () => {
    expect(codes('toggle', 'open', 3)).toBe('G1B APA M2B RL1 G5 G1B APA M2B RL1 G5 G1A APA M8B RL1');
    expect(codes('cam', 'shut', 1, true)).toBe('G1A M12A APA RL1 EF');
  });
});
