/** Materials, details and stock: what holds for every row, and a few rows by name. */
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { cyclesAtRange, fatigueCurve } from '#kernel';
import { expectWithin } from '../../../test/expect-within.ts';
import { DETAILS, type Detail, type DetailClass, detailNames, detailsFor, findDetail, usualDetail } from './details.ts';
import { STRENGTH } from './material-strength.ts';
import { bareMetal, findMaterial, MATERIALS, materialIn } from './materials.ts';
import { STOCK_LISTS, stockFor } from './stock.ts';

describe('strength data of materials', () => {
  it('belong to the materials, one row each', () => {
    expect(Object.keys(STRENGTH).sort()).toEqual(MATERIALS.map((m) => m.name).sort());
  });
  it.each(MATERIALS.map((m) => [m.name, m] as const))(
    '%s: welded means as-welded figures, a family and a width',
    (_, m) => {
      expect(m.fatigueFamily === 'none').toBe(!m.weldable);
      expect(Number.isFinite(m.hazYield_MPa)).toBe(m.weldable);
      expect(Number.isFinite(m.hazUltimate_MPa)).toBe(m.weldable);
      expect(m.hazWidth_mm.tig > 0).toBe(m.weldable);
      if (!m.weldable) return;
      expect(m.hazYield_MPa).toBeLessThanOrEqual(m.yield_MPa);
      expect(m.hazUltimate_MPa).toBeLessThanOrEqual(m.ultimate_MPa);
    },
  );
  it.each(MATERIALS.filter((m) => m.fatigue).map((m) => [m.name, m] as const))(
    '%s: its fatigue strength lies in the band of its kind and has a source',
    (_, m) => {
      const { amplitude_MPa, cycles, source } = m.fatigue!;
      const share = amplitude_MPa / m.ultimate_MPa;
      // Smooth rotating beams: 0.25-0.65 of the ultimate strength over all wrought metals, less for plastics.
      expect(share).toBeGreaterThan(m.name.startsWith('PA66') ? 0.1 : 0.25);
      expect(share).toBeLessThan(0.65);
      expect(cycles).toBeGreaterThanOrEqual(1e6);
      expect(source.length).toBeGreaterThan(10);
    },
  );
  it('let magnesium yield earlier in compression', () => {
    for (const name of ['AZ91D', 'AZ61', 'AZ31']) {
      const m = findMaterial(name)!;
      expect(m.compressiveYield_MPa, name).toBeLessThan(m.yield_MPa);
    }
  });
  it('soften plastics from dry over conditioned to long-term, G with E', () => {
    for (const name of ['PA66-GF30', 'POM']) {
      const m = findMaterial(name)!;
      const [dry, wet, long] = (['dry', 'conditioned', 'long_term'] as const).map((s) => materialIn(m, s));
      expect(dry!.E_GPa >= wet!.E_GPa && wet!.E_GPa > long!.E_GPa, name).toBe(true);
      expect(dry!.ultimate_MPa >= wet!.ultimate_MPa && wet!.ultimate_MPa > long!.ultimate_MPa, name).toBe(true);
      expectWithin(long!.E_GPa / long!.G_GPa, m.E_GPa / m.G_GPa, { relative: 1e-14 });
      expect(long!.source).toMatch(/long_term/);
      expect(wet!.E_GPa, 'the row itself is the conditioned state').toBe(m.E_GPa);
    }
  });
  it('turn into fully reversed strength of bare metal, by Goodman where the test was not reversed', () => {
    expect(bareMetal(findMaterial('6061-T6')!)).toEqual({ ultimate: 260, amplitude: 96.5, cycles: 5e8 });
    // R = 0.1: mean 20·1.1/0.9 = 24.44 of 125 MPa, 20/(1 − 24.44/125) = 24.86.
    expectWithin(bareMetal(findMaterial('nylon')!)!.amplitude, 24.86, { absolute: 0.005 });
    expect(bareMetal(findMaterial('beech')!)).toBeUndefined();
  });
  it('give a metal back as it is in any state', () => {
    const m = findMaterial('6061-T6')!;
    expect(materialIn(m, 'dry')).toBe(m);
    expect(materialIn(findMaterial('POM')!, 'constructor')).toBe(findMaterial('POM'));
  });
  it('carry the heat-treatment classes of chromium-molybdenum steel in rising order', () => {
    const yields = ['25CrMo4', '25CrMo4-HT125', '25CrMo4-HT150', '25CrMo4-HT180'].map(
      (n) => findMaterial(n)!.yield_MPa,
    );
    expect(yields).toEqual([...yields].sort((a, b) => a - b));
    expect(new Set(yields).size).toBe(4);
  });
});

describe('fatigue details', () => {
  const classes = DETAILS.flatMap((d) => Object.entries(d.classes).map(([family, c]) => [d.name, family, c] as const));
  it.each(classes)('%s of %s has a usable curve and says where its figure comes from', (_, _family, c) => {
    expectWithin(cyclesAtRange(fatigueCurve(c.curve), c.curve.category), 2e6, { relative: 1e-12 });
    expect(c.source).toMatch(
      c.standing === 'memory' ? /from memory/ : c.standing === 'no code' ? /^no code; / : /FITNET/,
    );
    expect(Number.isNaN(c.leastWall_mm)).toBe(c.standing === 'no code');
  });
  it('are found by name in any case, and each name is one detail', () => {
    expect(new Set(detailNames()).size).toBe(DETAILS.length);
    expect(findDetail(' Tube Side Fillet ')?.stress).toBe('hot-spot');
    expect(findDetail('snail')).toBeUndefined();
  });
  it('rank bare metal over a butt weld over a fillet on a plate, in every welded family', () => {
    for (const family of ['steel-weld', 'aluminium-weld', 'titanium-weld'] as const) {
      const [parent, butt, fillet] = ['parent', 'tube butt', 'tube fillet plate'].map(
        (n) => findDetail(n)!.classes[family]!.curve.category,
      );
      expect(parent! > butt! && butt! > fillet!, family).toBe(true);
    }
  });
  it('have no code for titanium, and say so', () => {
    for (const name of detailsFor('titanium-weld'))
      expect(findDetail(name)!.classes['titanium-weld']!.standing, name).toBe('no code');
  });
  it('have a usual one for every end, with a class in each welded family', () => {
    for (const welded of [true, false])
      for (const round of [true, false])
        for (const onto of ['tube side', 'plate'] as const) {
          const detail = usualDetail({ welded, round, onto });
          expect(detail.classes['aluminium-weld'] && detail.classes['steel-weld'], detail.name).toBeTruthy();
          expect(detail.stress === 'hot-spot').toBe(welded && round && onto === 'tube side');
        }
  });
});

describe('stock tubes', () => {
  it('are possible, listed once, and for materials that exist', () => {
    for (const list of STOCK_LISTS) {
      const keys = list.tubes.map((t) => [t.od_mm, t.wall_mm, t.butted?.ends_mm].join());
      expect(new Set(keys).size, list.name).toBe(keys.length);
      for (const m of list.materials) expect(findMaterial(m)?.name, m).toBe(m);
      for (const t of list.tubes) {
        expect(t.wall_mm > 0 && t.wall_mm <= t.od_mm / 6, `${list.name} ${t.od_mm} x ${t.wall_mm}`).toBe(true);
        if (t.butted) expect(Math.min(...t.butted.ends_mm), list.name).toBeGreaterThan(t.wall_mm);
      }
    }
  });
  it('come sorted, by name or alias, and the same each time', () => {
    const tubes = stockFor('6061');
    expect(tubes).toEqual(stockFor('AW-6061-T6'));
    expect(tubes.length).toBe(20);
    for (const [a, b] of tubes.slice(1).map((t, i) => [tubes[i]!, t] as const))
      expect(a.od_mm < b.od_mm || (a.od_mm === b.od_mm && a.wall_mm <= b.wall_mm)).toBe(true);
  });
  it('hold what the trade knows: 50 x 2 aluminium, butted 28.6 steel, 22 gauge', () => {
    expect(stockFor('6061-T6')).toContainEqual({ od_mm: 50, wall_mm: 2, list: 'aluminium round' });
    expect(stockFor('4130')).toContainEqual({
      od_mm: 28.6,
      wall_mm: 0.6,
      butted: { ends_mm: [0.9, 0.9] },
      list: 'butted steel',
    });
    expect(stockFor('1020').some((t) => t.wall_mm === 0.71)).toBe(true);
  });
  it('are none for what no list has', () => {
    expect(stockFor('CFRP UD')).toEqual([]);
    expect(stockFor('unobtainium')).toEqual([]);
  });
});

const CODE = { 'EN1993-1-9': 'EC3', IIW: 'IIW', 'EN1999-1-3': 'EC9' } as const;
/** `71 EC3`, with the slope where it is not the code's first: `70-5 IIW`; estimates carry a question mark. */
function classText(c: DetailClass | undefined): string {
  if (!c) return '–';
  const { code, category, slope } = c.curve;
  const figure = slope === (code === 'EN1999-1-3' ? 3.4 : 3) ? `${category}` : `${category}-${slope}`;
  return c.standing === 'no code' ? `${figure} ?` : `${figure} ${CODE[code]}`;
}
const detailRow = (d: Detail): string =>
  `| ${[
    d.name,
    d.meaning,
    d.stress,
    ...(['steel-weld', 'aluminium-weld', 'titanium-weld'] as const).map((f) => classText(d.classes[f])),
  ].join(' | ')} |`;

it('the table of details in the method page is that of the data', () => {
  const page = readFileSync(new URL('../../../docs/methods/frame-fatigue.md', import.meta.url), 'utf8');
  for (const d of DETAILS) expect(page.includes(`\n${detailRow(d)}\n`), detailRow(d)).toBe(true);
});
