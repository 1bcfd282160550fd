import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { BEAM_YAML, beamYaml } from '../../test/fixtures/beam.ts';
import { readProject } from './project.ts';

const BRIEF = readFileSync(new URL('../../test/fixtures/harbour-brief.yaml', import.meta.url), 'utf8');
const files = (more: Record<string, string> = {}): Map<string, string> =>
  new Map(
    Object.entries({
      'foldwright.yaml': 'format: 1\nproject: Trial\n',
      'brief.yaml': BRIEF.replace('reference: city', 'reference: beam'),
      'candidates/beam.yaml': BEAM_YAML,
      ...more,
    }),
  );
const LONG = `format: 1
candidate: Longer beam
base: beam
set:
  dimensions.wheelbase: 1040 mm
  bodies.rear.tubes.mast.section: round 36 x 2 mm
`;

describe('a project', () => {
  it('is read from the text of its files, each candidate followed by its variants', () => {
    const { project, problems } = readProject(files({ 'README.md': 'not ours' }));
    expect(problems).toEqual([]);
    expect(project!.name).toBe('Trial');
    expect(project!.candidates.map((c) => c.id)).toEqual(['beam', 'beam+light']);
    expect(project!.brief.name).toBe('Harbour');
  });
  it('may hold a candidate that is nothing but differences from another', () => {
    const { project, problems } = readProject(files({ 'candidates/long.yaml': LONG }));
    expect(problems).toEqual([]);
    const long = project!.candidates.find((c) => c.id === 'long')!;
    expect(long.name).toBe('Longer beam');
    expect(long.model.x[0]).toBe(1.04);
    expect(project!.candidates.map((c) => c.id)).toEqual(['beam', 'beam+light', 'long']);
  });
  it('tells a fault of a difference in the file of the difference', () => {
    const wrong = LONG.replace('round 36 x 2 mm', 'round 36 x 20 mm');
    const { problems } = readProject(files({ 'candidates/long.yaml': wrong }));
    expect(problems).toMatchObject([{ code: 'section.wall', file: 'candidates/long.yaml', line: 6, column: 35 }]);
  });
  it('tells a base that is not there, and one that leads in a circle', () => {
    const lost = readProject(files({ 'candidates/long.yaml': LONG.replace('base: beam', 'base: baem') }));
    expect(lost.problems).toMatchObject([{ code: 'name.unknown', line: 3, hint: 'did you mean `beam`?' }]);
    const circle = readProject(
      files({
        'candidates/long.yaml': LONG.replace('base: beam', 'base: other'),
        'candidates/other.yaml': LONG.replace('base: beam', 'base: long'),
      }),
    );
    expect(circle.problems.map((p) => p.message).join('\n')).toMatch(/based on itself/);
    expect(circle.project!.candidates.map((c) => c.id)).toEqual(['beam', 'beam+light']);
  });
  it('takes its own parts before the built-in ones', () => {
    const own = 'format: 1\nparts:\n  bench saddle: {like: saddle city, mass: 0.5 kg, price: 24 EUR, note: weighed}\n';
    const { project, problems } = readProject(
      files({ 'parts.yaml': own, 'candidates/beam.yaml': beamYaml(['part: saddle city', 'part: bench saddle']) }),
    );
    expect(problems).toEqual([]);
    const { model } = project!.candidates[0]!;
    const s = model.newState();
    model.fill(model.x, s);
    expect(s.mass[10 * model.top.names.masses.indexOf('saddle')]).toBe(0.5);
  });
  it('tells own parts that are like nothing, or have fields of another part', () => {
    const own = 'format: 1\nparts:\n  a: {like: sadle city}\n  b: {like: saddle city, rings: 3}\n  c: {mass: 1 kg}\n';
    const { problems } = readProject(files({ 'parts.yaml': own }));
    expect(problems.map((p) => `${p.code} ${p.line}`)).toEqual(['part.unknown 3', 'key.unknown 4', 'part.unknown 5']);
  });
  it('needs foldwright.yaml and a brief; candidates that cannot be used are left out', () => {
    const none = readProject(new Map());
    expect(none.project).toBeUndefined();
    expect(none.problems.map((p) => `${p.code} ${p.file}`)).toEqual([
      'file.missing foldwright.yaml',
      'file.missing brief.yaml',
    ]);
    const broken = readProject(files({ 'candidates/broken.yaml': 'format: 1\ncandidate: X\n' }));
    expect(broken.project!.candidates.map((c) => c.id)).toEqual(['beam', 'beam+light']);
    expect(broken.project!.candidateNames).toEqual(['beam', 'broken']);
    expect(broken.problems.map((p) => p.code)).toEqual(['key.missing', 'key.missing']);
  });
  it('passes over no file beside the candidates: another name or ending is told', () => {
    const { project, problems } = readProject(
      files({
        'candidates/Side-Beam 2.yaml': BEAM_YAML,
        'candidates/a+b.yaml': BEAM_YAML,
        'candidates/long.yml': LONG,
        'candidates/old/x.yml': '',
      }),
    );
    expect(project!.candidateNames).toEqual(['beam']);
    expect(problems.map((p) => `${p.code} ${p.file} ${p.hint}`)).toEqual([
      'name.invalid candidates/Side-Beam 2.yaml call it candidates/side_beam_2.yaml',
      'name.invalid candidates/a+b.yaml call it candidates/a_b.yaml',
      'name.invalid candidates/long.yml call it candidates/long.yaml',
    ]);
  });
  it('tells an alias once, not also as a value that is missing', () => {
    const { problems } = readProject(
      files({ 'candidates/beam.yaml': beamYaml(['wheelbase: 1000 mm', 'wheelbase: *base']) }),
    );
    expect(problems.map((p) => p.code)).toEqual(['yaml.unsupported']);
  });
  it('tells a reference that is not there', () => {
    const { problems } = readProject(files({ 'brief.yaml': BRIEF.replace('reference: city', 'reference: beem') }));
    expect(problems).toMatchObject([{ code: 'name.unknown', file: 'brief.yaml', hint: 'did you mean `beam`?' }]);
  });
  it('computes nothing from a file whose text is at fault, nor from what is based on it', () => {
    const twice = beamYaml(['  beam_height:', '  wheelbase: 900 mm\n  beam_height:']);
    const read = readProject(files({ 'candidates/beam.yaml': twice, 'candidates/long.yaml': LONG }));
    expect(read.problems.map((p) => p.code)).toEqual(['yaml.duplicate_key']);
    expect(read.project!.candidates).toEqual([]);
    const brief = BRIEF.replace('reference: city', 'reference: beam\nnote: twice\nnote: twice');
    expect(readProject(files({ 'brief.yaml': brief })).project).toBeUndefined();
    const own = 'format: 1\nparts:\n  saddle city: {mas: 0.5 kg}\n';
    const parts = readProject(files({ 'parts.yaml': own }));
    expect(parts.problems.map((p) => p.code)).toEqual(['key.unknown']);
    expect(parts.project!.candidates).toEqual([]);
    expect(readProject(files({ 'parts.yaml': 'format: 1\nparts: [' })).project!.candidates).toEqual([]);
  });
  it('names the variant whose value shows its fault elsewhere, and refuses names that change nothing', () => {
    const wrong = (set: string) =>
      readProject(files({ 'candidates/beam.yaml': `${BEAM_YAML}  wrong: {set: {${set}}}\n` })).problems;
    expect(wrong('dimensions.wheelbase: 1 kg')[0]!.message).toMatch(/^in the variant `wrong`: a length is needed/);
    expect(wrong('dimensions.wheelbse: 1 m')).toMatchObject([
      { code: 'variant.path', found: 'wheelbse', hint: 'did you mean `wheelbase`?' },
    ]);
    expect(wrong('stations.crnk: [0, 0, 1 m]')).toMatchObject([
      { code: 'variant.path', hint: 'did you mean `crank`?' },
    ]);
    expect(wrong('dimensions.half: 500 mm, dimensions.wheelbase: 2 * half')).toEqual([]);
  });
  it('adds a new part of a variant under its name, and still refuses a mistyped one', () => {
    const read = (set: string, more = '') =>
      readProject(files({ 'candidates/beam.yaml': `${BEAM_YAML}  more: {${more}set: {${set}}}\n` }));
    const added = read('parts.pack: {part: battery 250, body: rear, at: crank}', 'competes: no, ');
    expect(added.problems).toEqual([]);
    const [base, light, more] = added.project!.candidates.filter((c) => c.id.startsWith('beam'));
    expect(more!.parts.map((p) => p.name)).toEqual([...base!.parts.map((p) => p.name), 'pack']);
    expect([base, light, more].map((c) => c!.competes)).toEqual([true, true, false]);
    expect(read('parts.bga.mass: 1 kg').problems).toMatchObject([{ code: 'variant.path', found: 'bga' }]);
    expect(read('parts.bga: 1 kg').problems).toMatchObject([{ code: 'variant.path', found: 'bga' }]);
    expect(read('parts.pack: {part: batery 250, body: rear, at: crank}').problems).toMatchObject([
      { code: 'part.unknown', line: BEAM_YAML.split('\n').length },
    ]);
  });
  it('tells a fault of a candidate once, not again for each variant', () => {
    const { problems } = readProject(
      files({ 'candidates/beam.yaml': beamYaml(['round 38 x 2 mm', 'round 38 x 20 mm']) }),
    );
    expect(problems.map((p) => p.code)).toEqual(['section.wall']);
  });
});
