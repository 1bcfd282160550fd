/** Drive and trip on whole candidates: what a change of the file does to the figures, and what variants do to everything else. */
import { describe, expect, it } from 'vitest';
import { readDocument, readProject, resolveCandidate } from '#project';
import { expectWithin } from '../../../test/expect-within.ts';
import { plainBeamFiles } from '../../../test/fixtures/plain-beam.ts';
import { quayside, quaysideText } from '../../../test/fixtures/quayside.ts';
import { quantitiesFor } from '../catalogue.ts';
import { evaluate, namesFor, plan } from '../evaluate.ts';
import { openWorkspace, type Workspace } from '../workspace.ts';

const w = quayside();
const all = (from: Workspace) => [...from.candidates, ...from.extras];
function figures(id: string, from: Workspace = w) {
  const candidate = all(from).find((c) => c.id === id)!;
  const wanted = quantitiesFor(namesFor(candidate, from.setting)).filter(
    (q) => q.family.tier === 'drag' || q.id.startsWith('trip.'),
  );
  const only = new Set(wanted.map((q) => q.id));
  const e = evaluate(plan(candidate, from.setting, from.reference, ['drag', 'settle'], only));
  const value = (q: string): number => e.value[e.quantities.findIndex((x) => x.id === q)]!;
  const why = (q: string): string | undefined => e.reason[e.quantities.findIndex((x) => x.id === q)];
  return { value, why, results: e.results, candidate };
}
const beam = figures('side_beam');
const ROUNDOFF = { relative: 1e-9 };

describe('the drive of a candidate', () => {
  it('turns the cranks at the brief’s speed as often as development and cadence say', () => {
    const cruise = beam.results.drive!.cruise!;
    expectWithin(cruise.cadence * cruise.gear.development, w.setting.speed, ROUNDOFF);
    expectWithin(beam.value('drive.gear_range'), 1.364 / 0.733, ROUNDOFF);
  });
  it('leaves a chain alone whose wheels are on one body, and stretches one that the fold parts', () => {
    expectWithin(beam.value('drive.folded_slack'), beam.value('drive.loop_slack'), ROUNDOFF);
    const swing = figures('swing_rear').results.drive!.loop!;
    expect(swing.fold!.moves).toBe(true);
    expect(swing.fold!.longest.need).toBeGreaterThan(swing.loop.length + 0.05);
    // sized by its tensioner to reach round at the worst, and no more than two links longer
    const spare = swing.length - swing.fold!.longest.need;
    expect(spare).toBeGreaterThanOrEqual(0);
    expect(spare).toBeLessThan(2 * swing.pitch);
  });
  it('keeps its chain’s distance at both ends of the fold between least and most', () => {
    for (const c of w.candidates) {
      const f = figures(c.id).results.drive!.loop!.fold!;
      for (const p of [f.ride, f.folded]) {
        expect(p.reach).toBeGreaterThanOrEqual(f.shortest.reach - 1e-12);
        expect(p.reach).toBeLessThanOrEqual(f.longest.reach + 1e-12);
      }
    }
  });
  it('has no motor, and says so', () => {
    for (const q of ['drive.motor_power', 'drive.range', 'drive.legal_misses'])
      expect(beam.why(q)).toBe('this candidate has no motor');
  });
  it('bounds its stops: no wheel alone stops shorter than both, and dry is shorter than wet', () => {
    const { dry, wet } = beam.results.drive!.braking!;
    for (const b of [dry, wet]) {
      expect(b.best.both.distance).toBeLessThanOrEqual(b.best.front.distance);
      expect(b.best.both.distance).toBeLessThan(b.best.rear.distance);
      expect(b.passing.distance).toBeGreaterThanOrEqual(b.best.both.distance);
    }
    expect(dry.best.both.distance).toBeLessThan(wet.best.both.distance);
  });
});

describe('variants with a motor', () => {
  const [hub, mid] = [figures('side_beam+hub_motor'), figures('side_beam+mid_drive')];
  it('do not stand in the choice, and are judged when they are named', () => {
    expect(w.candidates.map((c) => c.id)).toEqual(['four_bar', 'side_beam', 'spine', 'swing_rear']);
    expect(w.extras.map((c) => c.id)).toEqual(['side_beam+hub_motor', 'side_beam+mid_drive']);
  });
  it('put their mass where it sits: steering, carrying and frame see it', () => {
    for (const v of [hub, mid]) expect(v.value('mass.total')).toBeGreaterThan(beam.value('mass.total') + 3);
    // in the front hub it loads the front wheel and the steered side; at the cranks it does not
    expect(hub.value('steer.front_load')).toBeGreaterThan(mid.value('steer.front_load') + 0.005);
    const front = (f: typeof hub) => f.results.steer!.assembled.bicycle;
    expect(JSON.stringify(front(hub))).not.toBe(JSON.stringify(front(beam)));
    expect(Math.abs(hub.value('steer.weave_speed') - beam.value('steer.weave_speed'))).toBeGreaterThan(0.1);
    const body = (f: typeof hub, name: string) => f.results.mass!.bodies.find((b) => b.name === name)!.mass;
    expect(body(hub, 'fork') - body(beam, 'fork')).toBeGreaterThan(1.5);
    expectWithin(body(mid, 'fork'), body(beam, 'fork'), ROUNDOFF);
    for (const v of [hub, mid]) expect(body(v, 'rear')).toBeGreaterThan(body(beam, 'rear') + 0.9);
    const offset = (f: typeof hub): number => {
      const only = new Set(['fold.carry_offset']);
      return evaluate(plan(f.candidate, w.setting, w.reference, ['settle'], only)).value[0]!;
    };
    expect(Math.abs(offset(hub) - offset(beam))).toBeGreaterThan(0.002);
    expect(Math.abs(offset(mid) - offset(beam))).toBeGreaterThan(0.002);
    // kerbs and steps press harder on a heavier bicycle
    for (const v of [hub, mid])
      expect(v.value('frame.service_use')).toBeGreaterThan(beam.value('frame.service_use') + 0.01);
  });
  it('go up the steepest street faster with less of the rider, within the law, and reach as far as the battery', () => {
    for (const v of [hub, mid]) {
      expect(v.value('drive.climb_speed')).toBeGreaterThan(1.6 * beam.value('drive.climb_speed'));
      expect(v.value('trip.energy')).toBeLessThan(beam.value('trip.energy'));
      expect(v.value('trip.seconds')).toBeLessThan(beam.value('trip.seconds'));
      expect(v.value('drive.legal_misses')).toBe(0);
      const m = v.results.drive!.motor!;
      expectWithin(m.range * m.perMetre, 160 * 3600 * 0.9, ROUNDOFF);
      // without the motor's help it is heavier to start
      expect(v.value('drive.climb_force')).toBeGreaterThan(beam.value('drive.climb_force'));
    }
    expect(hub.results.drive!.motor!.grip!.wet).toBeGreaterThan(0);
    expect(mid.results.drive!.motor!.grip).toBeUndefined();
  });
});

describe('the trip', () => {
  it('is a time line without gaps, whose sums are its figures', () => {
    for (const c of all(w)) {
      const { results, value } = figures(c.id);
      const { legs, energy, seconds } = results.trip!;
      let at = 0;
      for (const leg of legs) {
        expectWithin(leg.start, at, { absolute: 1e-9 }, leg);
        expect(leg.seconds).toBeGreaterThan(0);
        expect(leg.energy).toBeGreaterThan(0);
        at += leg.seconds;
      }
      expectWithin(seconds, at, ROUNDOFF);
      expectWithin(
        energy,
        legs.reduce((sum, l) => sum + l.energy, 0),
        ROUNDOFF,
      );
      expect(value('trip.hand_seconds')).toBeLessThan(value('trip.seconds'));
      const { effort } = results;
      expectWithin(value('trip.folding_seconds'), effort!.fold.seconds + effort!.unfold.seconds, ROUNDOFF);
    }
  });
  it('has a leg for each lift and each part of the way that the brief names', () => {
    const { legs, lifts } = beam.results.trip!;
    const { journey } = w.setting;
    expect(legs.filter((l) => l.kind === 'lift')).toHaveLength(journey.lifts.length);
    expect(legs.filter((l) => l.kind === 'fold' || l.kind === 'unfold')).toHaveLength(2);
    const rests = journey.rest < Infinity ? Math.ceil(journey.stairs / journey.rest) - 1 : 0;
    expect(lifts).toBe(1 + rests + journey.lifts.length);
  });
  it('costs more on foot with a heavier bicycle, and pushes where the hill is too steep to ride', () => {
    const steep = { ...w, setting: { ...w.setting, climb: 0.2 } };
    const pushed = figures('side_beam', steep).results;
    expect(pushed.drive!.climb!.pushed).toBe(true);
    expect(pushed.trip!.legs.some((l) => l.kind === 'push')).toBe(true);
    const stairs = (f: typeof beam) => f.results.trip!.legs.find((l) => l.kind === 'stairs')!.energy;
    expect(stairs(figures('side_beam+mid_drive'))).toBeGreaterThan(stairs(beam));
  });
  it('is not that of a bicycle that does not fold, and says so', () => {
    const city = w.project.candidates.find((c) => c.id === 'city')!;
    const e = evaluate(plan(city, w.setting, undefined, ['settle'], new Set(['trip.seconds'])));
    expect(e.reason[0]).toMatch(/does not fold/);
  });
  it('rolls what rolls, and carries all the way what does not', () => {
    const way = (f: typeof beam) => f.results.trip!.legs.filter((l) => l.kind === 'roll' || l.kind === 'carry');
    const { journey } = w.setting;
    expect(beam.results.burden!.roll).toBeDefined();
    expect(way(beam).map((l) => l.kind)).toEqual(['roll', 'carry']);
    const bar = figures('four_bar');
    expect(bar.results.burden!.roll).toBeUndefined();
    expect(way(bar).map((l) => l.kind)).toEqual(['carry']);
    const [rolled, carried] = way(beam);
    // at one pace: as long in all, and in the hands for as much longer as the other rolls
    expectWithin(way(bar)[0]!.seconds, rolled!.seconds + carried!.seconds, ROUNDOFF);
    expectWithin(way(bar)[0]!.seconds / carried!.seconds, (journey.roll + journey.carry) / journey.carry, ROUNDOFF);
  });
});

describe('what the file says about the drive', () => {
  const text = (from: string, to: string) =>
    new Map([...plainBeamFiles()].map(([name, yaml]) => [name, yaml.replace(from, to)]));
  const first = (files: Map<string, string>) => {
    const from = openWorkspace(readProject(files).project!);
    return figures(from.candidates[0]!.id, from);
  };
  const DRIVE = 'drive: {kind: chain, from: crank, to: rear_hub, side: right}';
  it('is missing from the sheet where it is not said', () => {
    expect(first(plainBeamFiles()).why('drive.line_angle')).toMatch(/drive\.hub_line/);
  });
  it('sets gears, links and line where it is', () => {
    const said = first(
      text(
        DRIVE,
        DRIVE.replace('}', ', sprockets: [13, 16, 20, 25, 32], links: 110, hub_line: 44 mm, ratios: [0.8, 1.25]}'),
      ),
    );
    expect(said.results.drive!.gears!.gears).toHaveLength(10);
    expectWithin(said.value('drive.gear_range'), (32 / 13) * (1.25 / 0.8), ROUNDOFF);
    expect(said.value('drive.loop_links')).toBe(110);
    const { loop } = said.results.drive!;
    expect(loop!.sprocket).toBe(32);
    expect(loop!.span).toBeGreaterThan(0.1);
    // 1 mm off the middle and two sprockets of 5.5 mm beyond
    expectWithin(Math.tan(said.value('drive.line_angle')) * loop!.loop.run, 0.001 + 2 * 0.0055, ROUNDOFF);
  });
  it('is refused where it cannot be', () => {
    const problems = (extra: string) => readProject(text(DRIVE, DRIVE.replace('}', `, ${extra}}`))).problems;
    expect(problems('sprockets: []').length).toBeGreaterThan(0);
    expect(problems('ratios: [0]').length).toBeGreaterThan(0);
    expect(problems('hub_line: 3 kg').map((p) => p.code)).toEqual(['expression.unit']);
    expect(problems('motor: {power: 250 W}').map((p) => p.code)).toEqual(['role.missing']);
    expect(problems('motor: {powr: 250 W}').map((p) => p.code)).toEqual(['key.unknown']);
  });
  it('leaves out what is not there: no drive goes nowhere, no brake stops nowhere, no battery helps nobody', () => {
    const none = first(text(DRIVE, 'drive: {kind: none, from: crank, to: rear_hub}'));
    expect(none.why('trip.seconds')).toMatch(/nothing drives/);
    expect(none.why('drive.climb_speed')).toMatch(/nothing drives/);
    const withoutBrakes = new Map(
      [...plainBeamFiles()].map(([name, yaml]) => [name, yaml.replace(/^.*part: brake rim.*$/gm, '')]),
    );
    expect(first(withoutBrakes).why('drive.braking_dry')).toMatch(/no brake/);
    const bare = beam.results.drive!;
    const dead = evaluate(
      plan(withMotor(''), w.setting, w.reference, ['drag'], new Set(['drive.climb_speed', 'drive.range'])),
    ).results.drive!;
    expect(dead.motor!.battery).toBe(0);
    // its mass slows, nothing helps
    expect(dead.climb!.ridden.speed).toBeLessThan(bare.climb!.ridden.speed);
  });
});

/** The side beam with a hub motor, and a battery where the text of a part says so. */
function withMotor(battery: string) {
  const file = 'candidates/side_beam.yaml';
  const source = quaysideText('side_beam')
    .replace(
      '  - {part: chain, body: rear, at: crank}',
      `  - {part: chain, body: rear, at: crank}\n  - {part: hub motor, body: rear, at: rear_hub}\n${battery}`,
    )
    .replace(/^drive: \{(.*)\}$/m, 'drive: {$1, motor: {power: 250 W}}');
  const read = readDocument(file, source);
  const { candidate, problems } = resolveCandidate(read.document!, { id: 'side_beam' });
  if (!candidate) throw new Error(problems.map((p) => p.message).join('; '));
  return candidate;
}
