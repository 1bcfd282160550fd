/** Exact comparison of two JSON results. */
/** Paths where two results differ, exactly. */
export function differences(a, b, path = '') {
  if (Object.is(a, b)) return [];
  if (typeof a !== 'object' || typeof b !== 'object' || a === null || b === null)
    return [`${path || '(all)'}: ${a} | ${b}`];
  const keys = new Set([...Object.keys(a), ...Object.keys(b)]);
  return [...keys].flatMap((key) => differences(a[key], b[key], path === '' ? key : `${path}.${key}`));
}

/** How many numbers a result holds. */
export const figures = (value) => {
  if (typeof value === 'number') return 1;
  if (typeof value !== 'object' || value === null) return 0;
  return Object.values(value).reduce((sum, inner) => sum + figures(inner), 0);
};
