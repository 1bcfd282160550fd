import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { caseWith, useSpectrum } from '#kernel';
import { readBrief, readDocument } from '#project';
import { settingOf } from './setting.ts';

const TEXT = readFileSync(new URL('../../test/fixtures/harbour-brief.yaml', import.meta.url), 'utf8');
const setting = settingOf(readBrief(readDocument('brief.yaml', TEXT).document!).brief!);

it('hands the brief’s figures to the load cases in their own units', () => {
  expect(setting.loads).toEqual({
    class: 'city',
    cases: { step: { height: 20, speed: 15 }, pedalling: { force: 1200, crank_angle: 90 } },
    use: { distance: 15_000, kerbs: 0.1 },
  });
});

it('edits replace defaults and nothing else; a range’s own end is inside it after the way through SI', () => {
  const { values } = caseWith('pedalling', setting.loads.class, setting.loads.cases.pedalling);
  expect(values).toMatchObject({ force: 1200, crank_angle: 90, rod_arm: 75 });
  const kerbs = useSpectrum(setting.loads.use).find((event) => event.key === 'kerbs')!;
  expect(kerbs.count).toBe(1500);
});
