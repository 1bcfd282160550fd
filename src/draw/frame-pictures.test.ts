import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import { type CaseId, type CaseResult, STIFFNESS_IDS, type Vec3 } from '#kernel';
import { readProject } from '#project';
import { type Judged, judgeCandidate, memberLine, openWorkspace } from '#study';
import { expectWithin } from '../../test/expect-within.ts';
import { beamYaml } from '../../test/fixtures/beam.ts';
import { frameMoment } from './frame-moment.ts';
import { frameSection } from './frame-section.ts';
import { frameShape } from './frame-shape.ts';
import { frameShares, sharesOf } from './frame-shares.ts';
import { type FrameResult, frameSheet, roundDown } from './frame-sheet.ts';
import { frameStress } from './frame-stress.ts';
import { modelNotes } from './frame-tables.ts';
import { useBars } from './frame-use.ts';
import { scaleOf } from './view.ts';

/** Coordinates of these pictures are written to a tenth of a pixel. */
const WRITTEN_PX = 0.11;
const BRIEF = readFileSync(new URL('../../test/fixtures/harbour-brief.yaml', import.meta.url), 'utf8');
const ASKED = ['frame.service_use', 'frame.bb_lateral', 'frame.least_opening'];

function judge(only: readonly string[], yaml = beamYaml()): Judged {
  const files = { 'foldwright.yaml': 'format: 1\nproject: p\n', 'brief.yaml': BRIEF, 'candidates/beam.yaml': yaml };
  const { project, problems } = readProject(new Map(Object.entries(files)));
  if (!project) throw new Error(problems.map((p) => p.message).join('\n'));
  const w = openWorkspace(project);
  return judgeCandidate(w, w.candidates[0]!, ['drag', 'settle'], new Set(only));
}

let j: Judged;
let frame: FrameResult;
const caseOf = (id: CaseId): CaseResult => frame.cases.get(id)!;
beforeAll(() => {
  j = judge(ASKED);
  frame = j.evaluation.results.frame!;
});

/** Start and end of straight accent lines of a given width. */
const accents = (body: string, width: string): [number, number, number, number][] =>
  [
    ...body.matchAll(
      /<path d="M([\d.-]+) ([\d.-]+)L([\d.-]+) ([\d.-]+)" stroke="var\(--accent\)" stroke-width="([\d.]+)"/g,
    ),
  ]
    .filter((m) => m[5] === width)
    .map((m) => [Number(m[1]), Number(m[2]), Number(m[3]), Number(m[4])]);

describe('the sheet of the beam model', () => {
  it('is to the scale that it names: the wheels stand a wheelbase apart', () => {
    const s = frameSheet(j, frame);
    const { rearAxle, frontAxle } = frame.model.context.places;
    const { nodes } = frame.model.built.structure;
    const [a, b] = [s.place(nodes[rearAxle]!.at), s.place(nodes[frontAxle]!.at)];
    expectWithin(b[0] - a[0], (frame.model.context.wheelbase / 1000) * scaleOf(s.reduction), { absolute: 1e-6 }, 'px');
    expect(s.width).toBeLessThanOrEqual(540);
  });

  it('takes scales and exaggerations from 1, 2, 5, 10, …, never above what was asked', () => {
    for (const [x, y] of [
      [0.99, 0.5],
      [1, 1],
      [4.99, 2],
      [5, 5],
      [73, 50],
      [0.03, 0.02],
    ] as const)
      expectWithin(roundDown(x), y, { relative: 1e-12 }, x);
  });
});

describe('bending moments', () => {
  it('are what statics by hand give at the foot of the seat post, on the stretched side', () => {
    const c = caseOf('seated');
    const { structure, spans, parts, nodeBody } = frame.model.built;
    const post = parts.tubes.findIndex((t) => t.name === 'seat_post.post');
    const body = parts.tubes[post]!.body;
    // all that acts beyond the clamp, about the places where the post's elastic part begins and ends; what hangs on its
    // lowest node goes into the clamp without passing the post
    const held = nodeBody
      .map((b, n) => (b === body ? n : -1))
      .filter((n) => n >= 0)
      .sort((a, b) => structure.nodes[a]!.at[2] - structure.nodes[b]!.at[2])[0]!;
    const about = (p: Vec3): number =>
      c.loads.loads[0]!.filter((l) => nodeBody[l.node] === body && l.node !== held).reduce((sum, l) => {
        const at = l.at ?? structure.nodes[l.node]!.at;
        return sum + l.moment[1] + (at[2] - p[2]) * l.force[0] - (at[0] - p[0]) * l.force[2];
      }, 0);
    const ends = structure.members.flatMap((m, i) =>
      spans[i]!.tube === post ? [m.pieces[0]!.from, m.pieces.at(-1)!.to] : [],
    );
    const hand = Math.max(...ends.map((p) => Math.abs(about(p)))) / 1000;
    const picture = frameMoment(j, frame, c, 0);
    const drawn = picture.peaks.find((p) => p.tube === 'post of seat post')!;
    expect(hand).toBeGreaterThan(20);
    expectWithin(drawn.moment, hand, { relative: 1e-6 }, 'N·m');
    expect(picture.peaks.map((p) => p.moment)).toEqual([...picture.peaks.map((p) => p.moment)].sort((a, b) => b - a));
    // the weight lies behind the post: its front is stretched
    const peak = accents(picture.body, '2');
    expect(peak).toHaveLength(1);
    if (picture.peaks[0]!.tube === drawn.tube) expect(peak[0]![2]).toBeGreaterThan(peak[0]![0]);
  });

  it('draw the greatest ordinate as long as the scale beside it says, and name it with its unit', () => {
    const picture = frameMoment(j, frame, caseOf('seated'), 0);
    const [x1, y1, x2, y2] = accents(picture.body, '2')[0]!;
    const length = Math.sqrt((x2 - x1) * (x2 - x1) + (y2 - y1) * (y2 - y1));
    const scale = /ordinate ([\d.]+) N·m/.exec(picture.body)!;
    const bar = /M[\d.]+ ([\d.]+)H[\d.]+M[\d.]+ ([\d.]+)H/.exec(
      picture.body.slice(0, scale.index).split('<path').at(-1)!,
    )!;
    const px = (Number(bar[1]) - Number(bar[2])) / Number(scale[1]);
    expectWithin(length / px, picture.peaks[0]!.moment, { relative: 0.02 }, 'N·m read off the drawing');
    expect(picture.body).toContain(`>${picture.peaks[0]!.moment.toFixed(0)} N·m<`);
  });

  it('adds tubes that lie one behind the other and leaves out the bar, which runs into the paper', () => {
    const picture = frameMoment(j, frame, caseOf('seated'), 0);
    expect(picture.peaks.find((p) => /^blade/.test(p.tube))?.tubes).toBe(2);
    expect(picture.peaks.some((p) => /^handlebar/.test(p.tube))).toBe(false);
  });
});

describe('strength used', () => {
  it('marks the place and the figure that the ledger has, in words that say what of', () => {
    for (const [, c] of frame.cases) {
      const picture = frameStress(j, frame, c, c.worst.state);
      expectWithin(picture.use, c.worst.use, { relative: 1e-12 }, c.frameCase.id);
      expect(picture.worst).toMatch(/^(× )?\d+\.\d\d of (yield|ultimate), (HAZ, )?[a-z ]+, \d+ mm$/);
      expect(picture.worst.startsWith('× ')).toBe(c.worst.use > 1);
      expect(picture.body).toContain(`>${picture.worst}<`);
    }
  });

  it('is hatched beyond the strength and only there, and states how wide the whole strength is', () => {
    const [most] = [...frame.cases.values()].sort((a, b) => b.worst.use - a.worst.use);
    const [least] = [...frame.cases.values()].sort((a, b) => a.worst.use - b.worst.use);
    expect(most!.worst.use).toBeGreaterThan(1);
    expect(least!.worst.use).toBeLessThan(1);
    const hatched = /stroke="var\(--accent\)" stroke-width="0\.9"/;
    const loud = frameStress(j, frame, most!, most!.worst.state);
    expect(loud.body).toMatch(hatched);
    expect(frameStress(j, frame, least!, least!.worst.state).body).not.toMatch(hatched);
    const tall = Number(/h34v([\d.]+)h-34Z/.exec(loud.body)![1]);
    expectWithin(tall * most!.worst.use, 20, { absolute: WRITTEN_PX * most!.worst.use }, 'band at the worst place, px');
  });
});

describe('the deflected shape', () => {
  it('says the greatest motion of all members, and how many times too large a round number draws it', () => {
    for (const id of ['seated', 'stroke', 'pedalling'] as const) {
      const c = caseOf(id);
      const shape = frameShape(j, frame, c, 0);
      const { structure } = frame.model.built;
      let most = 0;
      for (let m = 0; m < structure.members.length; m++)
        for (const p of memberLine(structure, c.solutions[0]!, m, 4).points)
          most = Math.max(most, Math.sqrt(p.moved[0] ** 2 + p.moved[1] ** 2 + p.moved[2] ** 2));
      expectWithin(shape.most, most, { relative: 1e-12 }, id);
      expect(String(shape.times)).toMatch(/^[125]0*$/);
      expect(shape.side.body).toContain(
        shape.times === 1 ? 'drawn as large as it is' : `drawn ${shape.times} × too large`,
      );
      // as drawn: not lost, not off the sheet
      const px = (most / 1000) * scaleOf(shape.reduction) * shape.times;
      expect(px).toBeGreaterThan(12);
      expect(px).toBeLessThan(60);
    }
  });

  it('is drawn from above too where it goes sideways, and only there', () => {
    expect(frameShape(j, frame, caseOf('seated'), 0).above).toBeUndefined();
    expect(frameShape(j, frame, caseOf('pedalling'), 0).above).toBeDefined();
  });
});

describe('bars of use', () => {
  const LONG = 'a name that goes on and on until no drawing could have room for it';
  const list = [
    { label: 'over', value: 1.5 },
    { label: LONG, value: 0.5 },
  ];
  it('are as long as their figures, solid up to the limit and hatched beyond it', () => {
    const { body } = useBars(list, { limit: 'all', misses: true });
    const widths = [...body.matchAll(/<rect [^>]*width="([\d.]+)"/g)].map((m) => Number(m[1]));
    // the longest takes all of 278 px
    expectWithin(widths[0]!, 278 / 1.5, { absolute: WRITTEN_PX }, 'solid part of what is over');
    expectWithin(widths[1]!, 278 / 3, { absolute: WRITTEN_PX }, 'half');
    expect(body).toContain('>× 1.50<');
    expect(body).toContain('>0.50<');
    expect(body.match(/stroke="var\(--accent\)" stroke-width="0\.91"/g)).toHaveLength(1);
  });

  it('of a reserve miss nothing: below 1 they rank', () => {
    const { body } = useBars([{ label: 'low', value: 0.25 }], { limit: 'the code', misses: false });
    expect(body).not.toContain('×');
    expect(body).toContain('1: the code');
  });

  it('cut off what would crush the others, and shorten what no drawing has room for', () => {
    const { body } = useBars([{ label: 'wild', value: 40 }, ...list], { limit: 'all', misses: true });
    expect(body).toContain('>× 40.00<');
    for (const [, words] of body.matchAll(/<text [^>]*>([^<]*)</g)) expect([...words!].length).toBeLessThan(60);
  });
});

describe('shares of a deflection', () => {
  it('sum to 100.0 % as printed, in all measurements', () => {
    const { stiffness } = j.evaluation.results;
    expect([...stiffness!.keys()]).toEqual(STIFFNESS_IDS);
    for (const [id, s] of stiffness!) {
      const tenths = sharesOf(s.shares).reduce((sum, x) => sum + Math.round(10 * x.percent), 0);
      expect([id, tenths]).toEqual([id, 1000]);
    }
  });

  const part = (name: string, kind: 'member' | 'wall' | 'joint' | 'fixture', value: number) => ({ name, kind, value });
  const made = {
    total: 2,
    parts: [
      part('rear.stay_left', 'member', 0.5),
      part('rear.stay_right', 'member', 0.4),
      part('wall of rear.mast at rear.stay_left', 'wall', 0.25),
      part('steering lower bearing', 'joint', 0.3),
      part('steering upper bearing', 'joint', 0.25),
      part('front.beam (1)', 'member', 0.1),
      part('front.beam (2)', 'member', 0.1),
      part('steering lock', 'fixture', 0.2),
      part('fork.blade', 'member', -0.1),
    ],
  };
  it('take both sides, the pieces of a tube and the bearings of a joint together, largest first', () => {
    expect(sharesOf(made).map((s) => [s.name, s.kind, s.percent])).toEqual([
      ['stays of rear', 'member', 45],
      ['steering', 'joint', 27.5],
      ['mast of rear under stays', 'wall', 12.5],
      ['beam of front', 'member', 10],
      ['steering lock', 'fixture', 10],
      ['blade of fork', 'member', -5],
    ]);
  });

  it('tell the kind by filling and by word, and run to the left where a part bends against the motion', () => {
    const { body } = frameShares(made);
    for (const word of ['member', 'joint', 'wall at a weld', 'test fixture']) expect(body).toContain(`>${word}<`);
    expect(body).toContain('>−5.0 %<');
    const bars = [...body.matchAll(/<rect x="([\d.-]+)" y="[\d.]+" width="([\d.]+)"/g)].map((m) => [
      Number(m[1]),
      Number(m[2]),
    ]);
    const zero = bars[0]![0]!;
    expectWithin(bars[5]![0]! + bars[5]![1]!, zero, { absolute: WRITTEN_PX }, 'ends where the others begin');
    expectWithin(bars[0]![1]! / bars[5]![1]!, 9, { relative: 0.01 }, '45 to 5');
  });
});

describe('the frame on the candidate’s sheet', () => {
  it('says how to ask for it where the frame was not computed, and why where it failed', () => {
    expect(frameSection(judge(['steer.trail'])).markup).toContain('<code>frame.service_use</code>');
    const failed = {
      ...j.evaluation,
      results: { ...j.evaluation.results, failures: { frame: 'nothing holds the beam' } },
    };
    const { frame: _, ...without } = failed.results;
    const words = frameSection({ ...j, evaluation: { ...failed, results: without } }).markup;
    expect(words).toContain('Nothing holds the beam.');
    expect(words).not.toContain('<svg');
  });

  it('shows use, pictures, shares, locks with their ages and both cautions, within its share of the page', () => {
    const { markup, scale } = frameSection(j);
    for (const words of [
      'Use in service.',
      'Reserve in fatigue tests.',
      'Use by tube.',
      'Bending moments',
      'How it bends',
      'Softest joint: bar hinge',
      '5000 folds',
      'test base of the fatigue codes',
      'competent laboratory',
    ])
      expect(markup).toContain(words);
    expect(scale).toEqual(['frame', 15]);
    expect(markup).not.toMatch(/NaN|undefined|Infinity/);
    expect(markup.length).toBeLessThan(110_000);
  });

  it('says what the model tied and sums up what lies outside ranges instead of listing it', () => {
    const notes = modelNotes({
      ...frame,
      model: {
        ...frame.model,
        built: {
          ...frame.model.built,
          bridges: Array.from({ length: 9 }, (_, i) => ({ a: `a.${i}`, b: 'b', gap: i + 1 })),
          outside: Array.from({ length: 30 }, (_, i) => `tube_${i} on chord: too thick`),
        },
      },
      points: {
        ...frame.points,
        outside: ['x: wall ratio 1.2 outside 0.2 to 1', 'y: wall ratio 1.4 outside 0.2 to 1'],
      },
    });
    expect(notes[0]).toBe('The file leaves 9 mm between a 8 and b; the model ties them rigidly.');
    expect(notes).toContain('3 smaller gaps are tied likewise.');
    expect(notes).toContain('Outside the range of a published formula: too thick (tube 0 on chord and 29 more).');
    expect(notes).toContain('Outside the range of a published formula: wall ratio outside 0.2 to 1 (x and 1 more).');
  });
});
