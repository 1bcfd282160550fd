import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { readProject } from '#project';
import { type Choice, choose, type Judged, judgeCandidate, openWorkspace, type Workspace } from '#study';
import { beamYaml } from '../../test/fixtures/beam.ts';
import { page } from './page.ts';

const BRIEF = readFileSync(new URL('../../test/fixtures/harbour-brief.yaml', import.meta.url), 'utf8');
const HOSTILE = '<script>alert(1)</script>';
/** Fixture as reference: likeness then has something to compare with. */
const CITY = beamYaml(['candidate: Side beam', 'candidate: City']);

function open(
  files: Readonly<Record<string, string>>,
  brief = BRIEF,
): { w: Workspace; judged: Judged[]; choice: Choice } {
  const { project, problems } = readProject(
    new Map([['foldwright.yaml', 'format: 1\nproject: harbour\n'], ['brief.yaml', brief], ...Object.entries(files)]),
  );
  if (!project) throw new Error(problems.map((p) => p.message).join('\n'));
  const w = openWorkspace(project);
  const judged = w.candidates.map((c) => judgeCandidate(w, c));
  return { w, judged, choice: choose(judged, w.brief.weightsSweep) };
}
const count = (text: string, what: RegExp): number => (text.match(what) ?? []).length;

describe('the page', () => {
  let html: string;
  let input: ReturnType<typeof open>;
  beforeAll(() => {
    input = open({ 'candidates/beam.yaml': beamYaml(), 'candidates/city.yaml': CITY });
    html = page({ workspace: input.w, judged: input.judged, choice: input.choice });
  });

  it('is the same bytes for the same input, also when everything is computed anew', () => {
    const again = open({ 'candidates/beam.yaml': beamYaml(), 'candidates/city.yaml': CITY });
    expect(page({ workspace: again.w, judged: again.judged, choice: again.choice })).toBe(html);
  });

  it('needs nothing from outside: no script, no link, no address, and a policy that forbids them', () => {
    expect(html).toContain("default-src 'none'; style-src 'unsafe-inline'; img-src data:");
    expect(html).not.toMatch(/<script|<link|<img|@import|url\(|\son[a-z]+=/i);
    expect(html.replaceAll('http://www.w3.org/2000/svg', '')).not.toMatch(/https?:/);
  });

  it('closes every element that it opens, in order', () => {
    const empty = new Set(['meta', 'rect', 'path', 'circle']);
    const stack: string[] = [];
    for (const [, slash, name, rest] of html.matchAll(/<(\/?)([a-z][a-z0-9]*)([^>]*)>/g)) {
      if (slash) expect(stack.pop()).toBe(name);
      else if (!rest!.endsWith('/') && !empty.has(name!)) stack.push(name!);
    }
    expect(stack).toEqual([]);
  });

  it('has headings in order: one first, and none that skips a level', () => {
    const levels = [...html.matchAll(/<h([1-6])/g)].map((m) => Number(m[1]));
    expect(levels.filter((l) => l === 1)).toHaveLength(1);
    for (const [i, level] of levels.entries()) expect(level - (levels[i - 1] ?? 0)).toBeLessThanOrEqual(1);
  });

  it('says in words what each picture shows, and gives each table but the title block a caption', () => {
    const pictures = [...html.matchAll(/<svg [^>]*>/g)].map((m) => m[0]);
    expect(pictures.length).toBeGreaterThan(8);
    for (const picture of pictures) expect(picture).toMatch(/role="img" aria-label="[^"]{10,}"/);
    expect(count(html, /<svg [^>]*><title>/g)).toBe(pictures.length);
    expect(count(html, /<table>(?!<caption>)/g)).toBe(count(html, /class="titleblock"/g));
  });

  it('shows every demand and wish of every candidate, with the word for its state beside the figure', () => {
    for (const j of input.judged) {
      const misses = j.ledger.rows.filter((r) => r.kind === 'demand' && !r.holds).length;
      expect(misses).toBeGreaterThan(0);
      expect(html).toContain(`× ${misses} missed`);
    }
    expect(count(html, /weight 3</g)).toBeGreaterThan(input.judged.length);
  });

  it('numbers the fold figures from 1 to the last motion of each candidate', () => {
    const motions = input.judged.map((j) => j.evaluation.results.fold!.plan.segments.length);
    for (const n of [1, 2, 3])
      expect(count(html, new RegExp(`<strong>Fig\\. ${n}\\. `, 'g'))).toBe(motions.filter((m) => m >= n).length);
  });

  it('carries the usual caution at the top and at the end', () => {
    expect(count(html, /testing to ISO 4210/g)).toBe(2);
  });

  it('stays under 1.5 MB for four candidates', () => {
    const perCandidate = html.length / input.judged.length;
    expect(4 * perCandidate).toBeLessThan(1_500_000);
  });
});

describe('hostile and missing input', () => {
  it('renders markup in names, notes and reasons as text', () => {
    const yaml = beamYaml(
      ['candidate: Side beam', `candidate: '${HOSTILE}'`],
      ['note: An invented bicycle', `note: '"onload=x ${HOSTILE} & so on' # An invented bicycle`],
    );
    const brief = BRIEF.replace('because: 60 steps in one hand', `because: '${HOSTILE}'`).replace(
      'brief: Harbour',
      `brief: '</title>${HOSTILE}'`,
    );
    const { w, judged, choice } = open({ 'candidates/beam.yaml': yaml }, brief);
    const html = page({ workspace: w, judged, choice });
    expect(html).not.toContain('<script');
    expect(html).toContain('&lt;script&gt;alert(1)&lt;/script&gt;');
    expect(count(html, /<\/title>/g)).toBe(1 + count(html, /<svg /g));
  });

  it('keeps a very long name whole in the text and shortened in pictures', () => {
    const long = 'beam '.repeat(200).trim();
    const { w, judged } = open({ 'candidates/beam.yaml': beamYaml(['candidate: Side beam', `candidate: ${long}`]) });
    const html = page({ workspace: w, judged });
    expect(html).toContain(`<h2 id="candidate-1-name">${long}</h2>`);
    for (const [, words] of html.matchAll(/<text [^>]*>([^<]*)<\/text>/g)) expect(words!.length).toBeLessThan(60);
  });

  it('says what is missing for a bicycle that does not fold and has no rider, instead of leaving holes', () => {
    const { w } = open({ 'candidates/beam.yaml': beamYaml(), 'candidates/city.yaml': CITY });
    const [candidate] = w.candidates;
    const bare = {
      ...candidate!,
      model: { ...candidate!.model, fold: [], roles: { ...candidate!.model.roles, steerer: -1 } },
    };
    const j = judgeCandidate(w, bare);
    expect(j.evaluation.results.failures.box).toBeDefined();
    const html = page({ workspace: w, judged: [j], choice: choose([j], 0.3) });
    expect(html).toContain('This bicycle does not fold.');
    expect(html).toContain('This bicycle has no fold.');
    expect(html).toContain('No rider is shown');
    expect(html).not.toMatch(/NaN|undefined|Infinity/);
  });

  it('says that there is nothing to judge', () => {
    const { w } = open({ 'candidates/beam.yaml': beamYaml() });
    expect(page({ workspace: w, judged: [] })).toContain('There is no candidate that can be judged.');
  });
});
