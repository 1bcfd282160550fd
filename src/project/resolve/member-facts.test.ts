/** What strength asks of a tube: welded or not, which detail, which state. */
import { describe, expect, it } from 'vitest';
import { beamYaml, fixtureModel } from '../../../test/fixtures/beam.ts';
import { resolveCandidate } from '../resolve.ts';
import { readDocument } from '../text.ts';

const BEAM = 'section: round beam_od x 2 mm, material: 6061-T6';
const member = (...changes: readonly (readonly [string, string])[]) =>
  fixtureModel(undefined, beamYaml(...changes)).model.members.find((m) => m.name === 'rear.beam')!;
const problems = (to: string) => {
  const { document } = readDocument('candidates/beam.yaml', beamYaml([BEAM, to]));
  return resolveCandidate(document!).problems.map((p) => ({
    code: p.code,
    place: p.path.replace('bodies.rear.tubes.0.', ''),
    words: [p.message, p.expected, p.hint].join(' | '),
  }));
};

describe('a tube', () => {
  it('is welded unless the file says no or its material is not joined so', () => {
    expect(member().welded).toBe(true);
    expect(member([BEAM, `${BEAM}, welded: no`]).welded).toBe(false);
    expect(member([BEAM, BEAM.replace('6061-T6', '7075-T6')]).welded).toBe(false);
  });
  it('carries its detail and its state, and has neither where the file is silent', () => {
    expect(member()).not.toHaveProperty('detail');
    expect(member()).not.toHaveProperty('state');
    expect(member([BEAM, `${BEAM}, detail: tube butt plate`]).detail).toBe('tube butt plate');
    const plastic = BEAM.replace('6061-T6', 'PA66-GF30');
    expect(member([BEAM, `${plastic}, state: long_term`]).state).toBe('long_term');
  });
  it('of a material that cannot be welded may not be', () => {
    expect(problems(`${BEAM.replace('6061-T6', '7075-T6')}, welded: yes`)).toMatchObject([
      { code: 'value.choice', place: 'welded', words: expect.stringMatching(/not joined by welding.*welded: no/) },
    ]);
  });
  it('with an unknown detail is told the near one, and with one of another family those of its own', () => {
    expect(problems(`${BEAM}, detail: tube side filet`)).toMatchObject([
      { code: 'name.unknown', place: 'detail', words: expect.stringMatching(/did you mean `tube side fillet`/) },
    ]);
    expect(problems(`${BEAM}, detail: brazed lug`)).toMatchObject([
      { code: 'value.choice', place: 'detail', words: expect.stringMatching(/no class for 6061-T6.*tube butt/) },
    ]);
  });
  it('of metal has no state of a plastic', () => {
    expect(problems(`${BEAM}, state: dry`)).toMatchObject([
      { code: 'value.choice', place: 'state', words: expect.stringMatching(/6061-T6 has no state `dry`/) },
    ]);
  });
});
