/**
 * A chain without its formula: the taut string round two regular polygons of pins, as the perimeter of their convex hull.
 * Averaged over positions of both wheels. Imports nothing from the kernel.
 */
type Point = readonly [number, number];

function hullPerimeter(points: readonly Point[]): number {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (row: readonly Point[]): Point[] => {
    const kept: Point[] = [];
    for (const c of row) {
      while (kept.length >= 2) {
        const [a, b] = [kept.at(-2)!, kept.at(-1)!];
        if ((b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]) > 0) break;
        kept.pop();
      }
      kept.push(c);
    }
    return kept.slice(0, -1);
  };
  const hull = [...half(sorted), ...half(sorted.reverse())];
  return hull.reduce((sum, a, i) => {
    const b = hull[(i + 1) % hull.length]!;
    return sum + Math.sqrt((a[0] - b[0]) * (a[0] - b[0]) + (a[1] - b[1]) * (a[1] - b[1]));
  }, 0);
}

/** Mean, least and most length (mm) over `steps` × `steps` positions of wheels with `n1` and `n2` pins at a pitch, `centres` apart. */
export function tautRound(n1: number, n2: number, centres: number, pitch: number, steps = 24) {
  const ring = (n: number, x: number, turn: number): Point[] =>
    Array.from({ length: n }, (_, t): Point => {
      const a = (2 * Math.PI * (t + turn)) / n;
      const r = pitch / (2 * Math.sin(Math.PI / n));
      return [x + r * Math.cos(a), r * Math.sin(a)];
    });
  const lengths: number[] = [];
  for (let i = 0; i < steps; i++)
    for (let j = 0; j < steps; j++)
      lengths.push(hullPerimeter([...ring(n1, 0, i / steps), ...ring(n2, centres, j / steps)]));
  return {
    mean: lengths.reduce((sum, l) => sum + l, 0) / lengths.length,
    least: Math.min(...lengths),
    most: Math.max(...lengths),
  };
}
