import { describe, expect, it } from 'vitest';
import { PUBLICS } from '#kernel';
import { expectWithin } from '../../test/expect-within.ts';
import { readBrief } from './brief.ts';
import { readDocument } from './text.ts';

const read = (text: string) => readBrief(readDocument('brief.yaml', `format: 1\nbrief: Test\n${text}`).document!);
const good = (text: string) => {
  const { brief, problems } = read(text);
  expect(problems).toEqual([]);
  return brief!;
};

describe('the people and the way of a brief', () => {
  it('has a public, a sample and a way where it says nothing', () => {
    const { riders, trip } = good('');
    expect(riders).toMatchObject({
      women: 0.5,
      public: 'germany_2005',
      sample: 4000,
      seed: 1,
      hands: 'anybody',
      limits: {},
    });
    expect(riders.female).toEqual(PUBLICS.germany_2005.female);
    expect(trip).toMatchObject({ distance: 3000, climbLength: 200, step: 0.17, lifts: [] });
    expect(trip.rest).toBe(Number.POSITIVE_INFINITY);
  });

  it('reads units, and keeps of a public what the brief does not change', () => {
    const { riders, trip } = good(
      'riders: {shortest: 1.5 m, tallest: 1.9 m, heaviest: 100 kg, women: 40 %, public: us_2014, female: {mass: 70 kg}, hands: workers, limits: {knee_gap: 3 cm, heel_in: 8 deg, saddle_tolerance: 3 %}}\ntrip: {distance: 2 km, climb_length: 150 m, lifts: {boot: 70 cm}, rest: 20}',
    );
    expect(riders.women).toBe(0.4);
    expect(riders.female).toEqual({ ...PUBLICS.us_2014.female, mass: 70 });
    expect(riders.hands).toBe('workers');
    expectWithin(riders.limits.knee_gap!, 0.03, { absolute: 1e-15 });
    expectWithin(riders.limits.heel_in!, (8 * Math.PI) / 180, { absolute: 1e-15 });
    expectWithin(riders.limits.saddle_tolerance!, 0.03, { absolute: 1e-15 });
    expect(trip).toMatchObject({
      distance: 2000,
      climbLength: 150,
      lifts: [{ name: 'boot', height: 0.7 }],
      rest: 20,
    });
  });

  it.each([
    ['riders: {shortest: 1.5 m, tallest: 1.9 m, heaviest: 100 kg, women: 140 %}', 'riders.women', '0 % to 100 %'],
    ['riders: {shortest: 1.5 m, tallest: 1.9 m, heaviest: 100 kg, sample: 20}', 'riders.sample', '100 to 100000'],
    [
      'riders: {shortest: 1.5 m, tallest: 1.9 m, heaviest: 100 kg, limits: {knee_gap: 400 mm}}',
      'riders.limits.knee_gap',
      '0 to 120 mm',
    ],
    [
      'riders: {shortest: 1.5 m, tallest: 1.9 m, heaviest: 100 kg, male: {mass: 0 kg}}',
      'riders.male.mass',
      'more than 0',
    ],
    ['trip: {distance: 100 m, climb_length: 150 m}', 'trip.climb_length', 'at most 100 m'],
    ['trip: {lifts: {rack: -1 m}}', 'trip.lifts.rack', 'more than 0'],
    ['trip: {step: 0}', 'trip.step', 'more than 0'],
  ])('refuses %s, and says what it expects', (text, path, expected) => {
    const { problems } = read(text);
    expect(problems).toHaveLength(1);
    expect(problems[0]).toMatchObject({ code: 'value.range', path, expected });
    expect(problems[0]!.line).toBe(3);
  });

  it('names the nearest limit to one that there is not', () => {
    const { problems } = read(
      'riders: {shortest: 1.5 m, tallest: 1.9 m, heaviest: 100 kg, limits: {knee_room: 30 mm}}',
    );
    expect(problems[0]!.hint).toMatch(/knee_gap|knee_out/);
  });
});
