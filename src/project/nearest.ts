/**
 * The known name nearest to a mistyped one.
 *
 * Distance: optimal string alignment, that is insertions, deletions, substitutions and swaps of neighbours, none of them
 * edited twice (Damerau, Communications of the ACM 7(3), 1964). A third of the letters may differ, at least one: more
 * would offer strangers, fewer would miss a doubled letter in a short name. Ties go to the first in the list.
 * Not here: meaning, sound, language.
 */

/** Names longer than this are never compared: nobody mistypes them, and time grows with the square. */
const LONGEST = 60;

function distance(a: string, b: string): number {
  let before: number[] = [];
  let last = Array.from({ length: b.length + 1 }, (_, j) => j);
  for (let i = 1; i <= a.length; i++) {
    const row = [i];
    for (let j = 1; j <= b.length; j++) {
      let least = Math.min(last[j]! + 1, row[j - 1]! + 1, last[j - 1]! + (a[i - 1] === b[j - 1] ? 0 : 1));
      if (i > 1 && j > 1 && a[i - 1] === b[j - 2] && a[i - 2] === b[j - 1]) least = Math.min(least, before[j - 2]! + 1);
      row.push(least);
    }
    before = last;
    last = row;
  }
  return last[b.length]!;
}

/** The nearest of `known`, ignoring case, or undefined when none is near enough to be meant. */
export function nearestName(name: string, known: Iterable<string>): string | undefined {
  if (name.length > LONGEST) return undefined;
  const wanted = name.toLowerCase();
  let best: string | undefined;
  let least = Math.max(1, Math.floor(name.length / 3)) + 1;
  for (const candidate of known) {
    if (candidate.length > LONGEST || Math.abs(candidate.length - name.length) >= least) continue;
    const d = distance(wanted, candidate.toLowerCase());
    if (d < least) {
      least = d;
      best = candidate;
    }
  }
  return best;
}
