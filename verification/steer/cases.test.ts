import { describe, expect, it } from 'vitest';
import { expectWithin } from '../../test/expect-within.ts';
import { agrees } from '../case.ts';
import { cases } from './cases.ts';

describe.each(cases)('$id: $title', ({ rows }) => {
  it.each(rows)('$quantity agrees', (row) => {
    expectWithin(row.computed(), row.published, row.tolerance, row.quantity);
  });
  const wrong = rows.filter((row) => row.wrong);
  if (wrong.length > 0)
    it.each(wrong)('$quantity catches: $wrong.what', (row) => {
      const value = row.wrong!.computed();
      expect(agrees(row, value), `${row.quantity}: ${value} passes for ${row.published}`).toBe(false);
    });
});
