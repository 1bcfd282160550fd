/** Every agreement with the outside world, as one test each; and proof that the tolerances can be missed. */
import { describe, expect, test } from 'vitest';
import { expectWithin } from '../test/expect-within.ts';
import { agrees, type Case, type Row } from './case.ts';
import { loadDisciplines } from './load.ts';
import { review } from './review.ts';

const disciplines = await loadDisciplines(import.meta.dirname);

test('the lists of cases are complete: sources, tolerances with reasons, a wrong row in every discipline', () => {
  expect(review(disciplines)).toEqual([]);
});

for (const { name, cases } of disciplines)
  describe(name, () => {
    test('has a wrong variant that gives a number: one that gives none would be caught for any tolerance', () => {
      const values = cases.flatMap((found) => found.rows.flatMap((row) => (row.wrong ? [row.wrong.computed()] : [])));
      expect(values.some(Number.isFinite)).toBe(true);
    });

    for (const found of cases)
      describe(`${found.id}: ${found.title}`, () => {
        test.each(found.rows)('$quantity agrees with the source', (row) => {
          const inputs = { source: found.source, unit: row.unit, why: row.tolerance.why };
          expectWithin(row.computed(), row.published, row.tolerance, inputs);
        });
        const wrong = found.rows.filter((row) => row.wrong);
        if (wrong.length > 0)
          test.each(wrong)('$quantity: a wrong computation is caught: $wrong.what', (row) => {
            const value = row.wrong!.computed();
            expect(agrees(row, value), `wrong value ${value} passes as ${row.published}`).toBe(false);
          });
      });
  });

describe('the review of the lists', () => {
  const row: Row = {
    quantity: 'x',
    unit: 'm',
    published: 1,
    computed: () => 1,
    tolerance: { relative: 1e-9, why: 'round-off' },
  };
  const wrong: Row = { ...row, wrong: { what: 'twice', computed: () => 2 } };
  const sound: Case = { id: 'a', title: 'A', source: 'A closed form', standing: 'theory', rows: [wrong] };
  const faultsOf = (...cases: Case[]) => review([{ name: 'd', cases }]);

  test('passes a sound list', () => expect(faultsOf(sound)).toEqual([]));
  test.each<[string, Case[]]>([
    ['deliberately wrong', [{ ...sound, rows: [row] }]],
    ['id is used twice', [sound, sound]],
    ['no row', [sound, { ...sound, id: 'b', rows: [] }]],
    ['no source', [{ ...sound, source: '' }]],
    ['stands twice', [{ ...sound, rows: [wrong, row] }]],
    ['no finite figure', [{ ...sound, rows: [{ ...wrong, published: Number.NaN }] }]],
    ['no tolerance', [{ ...sound, rows: [{ ...wrong, tolerance: { why: 'none given' } }] }]],
    ['more than 20 %', [{ ...sound, rows: [{ ...wrong, tolerance: { relative: 0.5, why: 'generous' } }] }]],
    ['does not say why', [{ ...sound, rows: [{ ...wrong, tolerance: { relative: 0.01, why: '' } }] }]],
  ])('finds: %s', (words, cases) => {
    expect(faultsOf(...cases).join('; ')).toContain(words);
  });
});
