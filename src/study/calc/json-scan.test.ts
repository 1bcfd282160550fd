import fc from 'fast-check';
import { expect, test } from 'vitest';
import { scanJson } from './json-scan.ts';

test('accepts what JSON.parse accepts, and finds every value where it stands', () => {
  fc.assert(
    fc.property(fc.jsonValue({ maxDepth: 4 }), fc.constantFrom(0, 1, 3), (value, indent) => {
      const text = JSON.stringify(value, null, indent);
      const { fault, places } = scanJson(text);
      expect(fault).toBeUndefined();
      expect(places.get('')).toBe(0);
      if (typeof value === 'object' && value !== null && !Array.isArray(value))
        for (const [key, inner] of Object.entries(value))
          if (!key.includes('.') && key !== '')
            expect(text.startsWith(JSON.stringify(inner, null, 0)[0]!, places.get(key))).toBe(true);
    }),
  );
});

test('refuses every damaged text that JSON.parse refuses', () => {
  const text = '{"a": [1, -2.5e-3, true, null, "x\\u00e9\\n"], "b": {"c": false}}';
  const parses = (damaged: string): boolean => {
    try {
      JSON.parse(damaged);
      return true;
    } catch {
      return false;
    }
  };
  let refused = 0;
  for (let i = 0; i < text.length; i++)
    for (const piece of ['', ',', '"', '}', ']', '0', '.', 'e', '\\', '\n', 'N']) {
      const damaged = text.slice(0, i) + piece + text.slice(i + 1);
      const { fault } = scanJson(damaged);
      expect(fault === undefined, damaged).toBe(parses(damaged));
      if (fault) {
        refused++;
        expect(fault.offset, damaged).toBeLessThanOrEqual(damaged.length);
      }
    }
  expect(refused).toBeGreaterThan(300);
});

test('names the place of a duplicate key, which JSON.parse would let pass', () => {
  expect(scanJson('{"a": 1, "b": {"x": 1, "x": 2}}').fault).toMatchObject({ path: 'b.x', offset: 23, length: 3 });
});
