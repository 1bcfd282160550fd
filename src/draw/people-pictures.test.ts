import { readFileSync } from 'node:fs';
import { beforeAll, describe, expect, it } from 'vitest';
import {
  bodyLinks,
  COLUMN,
  FIT,
  FIT_STRIDE,
  type FitGeometry,
  fitRider,
  inseam,
  MISS,
  norm,
  RIDER_STRIDE,
  SURVEY,
  sub,
} from '#kernel';
import { readProject } from '#project';
import { type FitResult, type Judged, judgeCandidate, openWorkspace } from '#study';
import { expectWithin } from '../../test/expect-within.ts';
import { beamYaml } from '../../test/fixtures/beam.ts';
import { fitMap, MOST_DOTS, saddleLimits } from './fit-map.ts';
import { foldSteps, foldTime } from './fold-time.ts';
import { handsSection } from './hands-section.ts';
import { kneePath, kneeTurn } from './knee-path.ts';
import { forceScale, moveForce } from './move-force.ts';
import { peopleSection } from './people-section.ts';
import { reachOf, reachZone, type Zone } from './reach-zone.ts';
import { ridersElevation } from './riders-elevation.ts';
import { type SizedRider, threeRiders } from './three-riders.ts';
import { tripLine } from './trip-line.ts';
import { tripSection } from './trip-section.ts';

/** Coordinates are written to a hundredth of a pixel. */
const WRITTEN_PX = 0.011;
const BRIEF = readFileSync(new URL('../../test/fixtures/harbour-brief.yaml', import.meta.url), 'utf8');
const ASKED = [
  'fit.share',
  'effort.fold_seconds',
  'effort.carry_able',
  'hands.greatest_force',
  'hands.pinch_count',
  'foolproof.looks_shut',
  'drive.power_flat',
  'trip.seconds',
];

function judge(only: readonly string[] = ASKED, yaml = beamYaml()): Judged {
  const files = { 'foldwright.yaml': 'format: 1\nproject: p\n', 'brief.yaml': BRIEF, 'candidates/beam.yaml': yaml };
  const { project, problems } = readProject(new Map(Object.entries(files)));
  if (!project) throw new Error(problems.map((p) => p.message).join('\n'));
  const w = openWorkspace(project);
  return judgeCandidate(w, w.candidates[0]!, ['drag', 'settle'], new Set(only));
}
/** The same with other results. */
const withResults = (j: Judged, change: object): Judged => ({
  ...j,
  evaluation: { ...j.evaluation, results: { ...j.evaluation.results, ...change } },
});

let j: Judged;
let fit: FitResult;
let riders: SizedRider[];
beforeAll(() => {
  j = judge();
  fit = j.evaluation.results.fit!;
  riders = threeRiders(j, fit);
});

/** The measures that the mean body of a stand-in has, as a row of a population. */
function rowOf(r: SizedRider): Float64Array {
  const sex = r.rider.sex === 'mixed' ? 'male' : r.rider.sex;
  const { mean } = SURVEY[sex];
  const k = r.rider.stature / mean[COLUMN.stature]!;
  const row = Float64Array.from(mean, (m) => k * m);
  row[COLUMN.inseam] = inseam(r.rider).mean;
  row[COLUMN.mass] = r.rider.mass;
  return row;
}
function fitted(g: FitGeometry, r: SizedRider): { mask: number; row: Float64Array } {
  const row = new Float64Array(FIT_STRIDE);
  return { mask: fitRider(g, fit.limits, rowOf(r), r.rider.sex === 'female', 0, row), row };
}
/** Those of one sex: the mean of both has no row. */
const ofOneSex = (): SizedRider[] => riders.filter((r) => r.rider.sex !== 'mixed');

describe('three riders', () => {
  it('are as tall as 5, 50 and 95 % of the drawn public are short', () => {
    const { people } = fit;
    for (const r of riders) {
      let shorter = 0;
      for (let i = 0; i < people.n; i++)
        if (people.value[i * RIDER_STRIDE + COLUMN.stature]! < r.rider.stature) shorter++;
      expectWithin(shorter / people.n, r.percentile / 100, { absolute: 1 / people.n }, r.name);
    }
    expect(riders.map((r) => r.rider.sex)).toEqual(['female', 'mixed', 'male']);
  });

  it('sit on the elevation to scale, with the height of each saddle beside it', () => {
    const picture = ridersElevation(j, fit);
    for (const r of picture.riders)
      expect(picture.body).toContain(`>${(1000 * r.seated.saddle.saddle[2]).toFixed(0)}<`);
    expect(picture.body.match(/class="rider"/g)).toHaveLength(3);
    for (const r of riders) expect(picture.body).toContain(`>${r.name}, ${r.rider.stature.toFixed(2)} m<`);
  });
});

describe('the way of the knees', () => {
  it('keeps the thigh as long as it is, all the way round', () => {
    for (const r of riders) {
      const { hip } = r.seated.seat;
      const { path } = kneeTurn(j, fit, r);
      const thigh = bodyLinks(r.rider).thigh;
      for (const [x, z] of path)
        expectWithin(norm(sub([x, 0, z], [hip[0], 0, hip[2]])), thigh, { relative: 1e-9 }, r.name);
      expect(path[0]).toEqual(path.at(-1)!.map((v) => expect.closeTo(v, 12)));
    }
  });

  it('comes as near to metal as the fit says, which looks at fewer places of the turn', () => {
    // the fit tells a gap too large by up to 5 mm where it is far from its limit, and reads a grid of 10 mm (0.5 mm)
    const COARSE = 0.005;
    const GRID = 0.0005;
    for (const r of ofOneSex()) {
      const { gap, beyond } = kneeTurn(j, fit, r);
      const told = fitted(fit.geometry, r).row[FIT.kneeGap]!;
      expect(beyond).toBe(false);
      expect(told).toBeGreaterThanOrEqual(gap - GRID);
      expect(told).toBeLessThanOrEqual(gap + COARSE + GRID);
    }
  });

  it('marks the tightest of the three with its gap', () => {
    const { side, tightest, turns } = kneePath(j, fit);
    expect(tightest.gap).toBe(Math.min(...turns.map((t) => t.gap)));
    expect(side.body).toContain(`>${(1000 * tightest.gap).toFixed(0)} mm from<`);
    expect(side.body.match(/r="7"/g)).toHaveLength(1);
  });
});

describe('the reach zone', () => {
  const inside = (z: Zone, [x, y]: readonly [number, number]): boolean => {
    let odd = false;
    z.outline.forEach(([x1, y1], i) => {
      const [x0, y0] = z.outline.at(i - 1)!;
      if (y0 > y !== y1 > y && x < x0 + ((y - y0) / (y1 - y0)) * (x1 - x0)) odd = !odd;
    });
    return odd;
  };
  const distance = (z: Zone, [x, y]: readonly [number, number]): number =>
    Math.min(...z.outline.map(([a, b]) => Math.sqrt((a - x) * (a - x) + (b - y) * (b - y))));

  it('is where the fit finds grips neither too far nor too near', () => {
    // corners between the drawn points of the outline
    const EDGE = 0.03;
    let both = [0, 0];
    for (const r of ofOneSex()) {
      const zone = reachOf(fit, r);
      const { hip } = r.seated.seat;
      for (let a = -15; a <= 55; a += 7)
        for (let d = 0.26; d < 1.2; d += 0.07) {
          const at = [hip[0] + d * Math.cos((a * Math.PI) / 180), hip[2] + d * Math.sin((a * Math.PI) / 180)] as const;
          if (distance(zone, at) < EDGE) continue;
          const g = { ...fit.geometry, grip: { ...fit.geometry.grip, x: at[0], z: at[1] } };
          const misses = fitted(g, r).mask & (MISS.reach_far | MISS.reach_near);
          expect(inside(zone, at), `${r.name} grips ${a}° ${d.toFixed(2)} m`).toBe(misses === 0);
          both = [both[0]! + (misses === 0 ? 1 : 0), both[1]! + (misses === 0 ? 0 : 1)];
        }
    }
    expect(Math.min(...both)).toBeGreaterThan(50);
  });

  it('says of this bicycle’s grips what the fit says', () => {
    for (const r of ofOneSex()) {
      const { mask } = fitted(fit.geometry, r);
      const verdict = mask & MISS.reach_far ? 'too far' : mask & MISS.reach_near ? 'too near' : 'inside';
      expect(reachOf(fit, r).verdict).toBe(verdict);
    }
    expect(reachZone(j, fit).body).toContain('>grips<');
  });
});

describe('the map of who fits', () => {
  it('draws every rider of its sample once, by the reason that most people have', () => {
    const map = fitMap(fit);
    expect(map.shown).toBe(MOST_DOTS);
    expect(map.counts.reduce((a, b) => a + b, 0)).toBe(MOST_DOTS);
    const fits = Array.from({ length: MOST_DOTS }, (_, i) => fit.riders[i * FIT_STRIDE + FIT.mask]).filter(
      (m) => m === 0,
    );
    expect(map.counts[0]).toBe(fits.length);
    const most = [...fit.misses].sort((a, b) => b.all.share - a.all.share)[0]!;
    expect(map.body).toContain(`>${most.words}: ${(100 * most.all.share).toFixed(1)} %<`);
    const masks = Array.from({ length: MOST_DOTS }, (_, i) => fit.riders[i * FIT_STRIDE + FIT.mask]!);
    expect(map.counts[1]).toBe(masks.filter((m) => m & MISS[most.key]).length);
    // dots are filled, misses are open: told without colour
    expect(map.body).toMatch(/h0" stroke="var\(--ink\)" stroke-width="3.4" stroke-linecap="round"/);
    expect(map.body).toMatch(/fill="none" stroke="var\(--accent\)"/);
  });

  it('has its line where one millimetre of inseam leaves a rider out', () => {
    const [high] = saddleLimits(fit);
    const r = riders[2]!;
    const miss = (leg: number): number => {
      const row = rowOf(r);
      row[COLUMN.inseam] = leg;
      return fitRider(fit.geometry, fit.limits, row, false, 0, new Float64Array(FIT_STRIDE)) & MISS.post_short;
    };
    expect(miss(high!.inseam - 0.001)).toBe(0);
    expect(miss(high!.inseam + 0.001)).toBe(MISS.post_short);
  });

  it('has no open shape where nobody is left out', () => {
    const all = {
      ...fit,
      riders: fit.riders.slice(),
      misses: fit.misses.map((m) => ({ ...m, all: { ...m.all, share: 0 } })),
    };
    for (let i = 0; i < fit.people.n; i++) all.riders[i * FIT_STRIDE + FIT.mask] = 0;
    const map = fitMap(all);
    expect(map.counts).toEqual([MOST_DOTS, 0, 0, 0, 0, 0]);
    expect(peopleSection(withResults(j, { fit: { ...all, leftOut: undefined } })).markup).toContain(
      'Nobody is left out.',
    );
  });
});

describe('the fold in time', () => {
  it('gives every step that takes a hand a bar as long as it lasts, one after the other', () => {
    const { fold } = j.evaluation.results.effort!;
    const { body } = foldTime(fold)!;
    const bars = [...body.matchAll(/<rect x="([\d.]+)" y="[\d.]+" width="([\d.]+)" height="9"/g)].map((m) => [
      Number(m[1]),
      Number(m[2]),
    ]);
    const steps = foldSteps(fold);
    // the last bar is the whole, on its own scale
    expect(bars).toHaveLength(steps.length + 1);
    const px = bars[0]![1]! / steps[0]!.seconds;
    let start = bars[0]![0]!;
    steps.forEach((s, i) => {
      expectWithin(bars[i]![1]!, px * s.seconds, { absolute: 3 * WRITTEN_PX }, s.words);
      expectWithin(bars[i]![0]!, start, { absolute: 3 * WRITTEN_PX }, s.words);
      start += px * s.seconds;
    });
    expect(body).toContain(`>${fold.firstTime[0].toFixed(0)}–${fold.firstTime[1].toFixed(0)} s<`);
    expect(body).toContain('>one hand<');
    expect(body).toContain('>bend<');
  });

  it('draws nothing for a procedure without work', () => {
    expect(foldTime({ ...j.evaluation.results.effort!.fold, steps: [], seconds: 0 })).toBeUndefined();
  });
});

describe('force along a move', () => {
  it('starts and ends at the forces of the first and last sample, on the scale of its marks', () => {
    const moves = j.evaluation.results.hands!.moves.filter((m) => m !== undefined);
    const scale = forceScale(moves);
    const m = moves.reduce((a, b) => (b.greatest.force > a.greatest.force ? b : a));
    const { body } = moveForce(j, m, scale);
    const zero = Number(/<path d="M34 ([\d.]+)L332 [\d.]+" stroke="var\(--ink\)" stroke-width="0.7"/.exec(body)![1]);
    const curve =
      /<path d="M([^"]*)" fill="none" stroke="var\(--ink\)" stroke-width="1.6" stroke-linejoin="round"\/>/.exec(
        body,
      )![1]!;
    const ys = curve.split('L').map((p) => Number(p.split(' ')[1]));
    const px = (zero - ys[0]!) / m.fold.force[0]!;
    expect(px).toBeGreaterThan(0);
    m.fold.force.forEach((f, k) => {
      expectWithin(zero - ys[k]!, px * f, { absolute: 3 * WRITTEN_PX }, `sample ${k}`);
    });
    expect(body).toContain('stroke-dasharray="5 3"');
  });

  it('says where a part runs away, and how hard to hold', () => {
    const moves = j.evaluation.results.hands!.moves.filter((m) => m !== undefined);
    const m = moves[0]!;
    const force = m.fold.force.map((_, k) => 10 - 3 * k);
    const falls = { ...m, fold: { ...m.fold, force, back: 26, backAt: force.length - 1 } };
    expect(moveForce(j, falls, forceScale([falls])).body).toContain('>runs away: hold 26 N<');
    expect(moveForce(j, m, forceScale(moves)).body).not.toContain('runs away');
  });
});

describe('the trip', () => {
  it('is drawn so that the area of its blocks is the energy', () => {
    const trip = j.evaluation.results.trip!;
    const { body } = tripLine(trip)!;
    const blocks = [...body.matchAll(/<rect x="([\d.]+)" y="[\d.]+" width="([\d.]+)" height="([\d.]+)"/g)].map((m) => [
      Number(m[2]),
      Number(m[3]),
    ]);
    const upper = blocks.slice(0, trip.legs.length);
    const seconds = trip.seconds / upper.reduce((sum, b) => sum + b[0]!, 0);
    const [first] = trip.legs;
    const watt = first!.energy / first!.seconds / upper[0]![1]!;
    upper.forEach(([w, h], i) => {
      const leg = trip.legs[i]!;
      // a leg of 0.3 px is written to 3 %
      const written = WRITTEN_PX * (w! + h!) * seconds * watt;
      expectWithin(w! * h! * seconds * watt, leg.energy, { absolute: 2 * written }, leg.words);
    });
    expect(blocks.length).toBeGreaterThan(trip.legs.length);
  });
});

describe('the section', () => {
  const figures = (markup: string): number => (markup.match(/<figure>/g) ?? []).length;

  it('has a table for what its figures say, and no number that is none', () => {
    const { markup } = peopleSection(j);
    expect(markup).not.toMatch(/NaN|Infinity|undefined/);
    expect(figures(markup)).toBeGreaterThan(7);
    for (const caption of [
      'What leaves riders out',
      'Who fits, by stature',
      'Three riders as they sit',
      'Room round the legs',
      'Steps',
      'Greatest forces of the moves',
      'The trip leg by leg',
    ])
      expect(markup).toContain(`<caption>${caption}`);
    for (const svg of markup.match(/<svg [^>]*>/g)!) {
      const [, w, h] = /viewBox="0 0 ([\d.]+) ([\d.]+)"/.exec(svg)!;
      expect(Number(w)).toBeGreaterThan(200);
      expect(Number(h)).toBeGreaterThan(100);
      expect(svg).toMatch(/aria-label="[^"]{40,}"/);
    }
  });

  it('shows cautions where it can hurt', () => {
    const { markup } = peopleSection(j);
    expect(markup).toContain('fingers have been lost');
    expect(markup).toContain('has thrown riders');
  });

  it('escapes the names that a project file gives', () => {
    const evil = judge(ASKED, beamYaml().replace(/^candidate: .*$/m, 'candidate: "<b>A & B</b>"'));
    const { markup } = peopleSection(evil);
    expect(markup).toContain('&lt;b&gt;A &amp; B&lt;/b&gt;');
    expect(markup).not.toContain('<b>');
  });

  it('says why a part is missing', () => {
    const none = {
      fit: undefined,
      effort: undefined,
      hands: undefined,
      pinch: undefined,
      foolproof: undefined,
      burden: undefined,
      trip: undefined,
      drive: undefined,
    };
    const failed = withResults(j, {
      ...none,
      failures: { fit: 'this candidate has no <saddle>', trip: 'no way', drive: 'no wheels' },
    });
    const { markup } = peopleSection(failed);
    expect(markup).toContain('This candidate has no &lt;saddle&gt;.');
    expect(markup).toContain('No way.');
    expect(markup).toContain('Drive: no wheels.');
    expect(markup).toContain('effort.fold_seconds');
    expect(figures(markup)).toBe(0);
  });

  it('says that a bicycle without moves does not fold', () => {
    const { model } = j.evaluation.results;
    const rigid = withResults(j, { model: { ...model, fold: [] } });
    expect(handsSection(rigid)).toContain('This bicycle does not fold.');
    expect(tripSection(withResults(j, { trip: { ...j.evaluation.results.trip!, legs: [] } }))).toContain(
      'no way to go',
    );
  });

  it('names the limits of a bicycle without pedals instead of drawing them', () => {
    const yaml = beamYaml();
    const bare = judge(['fit.share', 'fit.toe_room', 'fit.lean'], yaml.replace(/^.*part: pedals?.*\n/gm, ''));
    const { toe, lean } = bare.evaluation.results.fit!;
    expect([toe, lean]).toEqual([undefined, undefined]);
    const { markup } = peopleSection(bare);
    expect(markup).toMatch(/no figure<\/td><td class="text">[^<]*pedal/);
  });
});
