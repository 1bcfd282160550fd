/** Runs CalculiX on a deck in a folder of its own and reads its printed results. */
import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';

/** Version as the program says it, or undefined where it is not installed. */
export function ccxVersion(): string | undefined {
  const { stdout } = spawnSync('ccx', ['-v'], { encoding: 'utf8' });
  return /version\s+([\d.]+)/i.exec(stdout ?? '')?.[1];
}

export interface Printed {
  /** By node: displacements and forces of the first step (a buckling step prints its modes after them). */
  readonly displacement: ReadonlyMap<number, readonly number[]>;
  readonly force: ReadonlyMap<number, readonly number[]>;
  readonly factors: readonly number[];
}

/** Reads a `.dat` file: tables of node and three values; buckling factors after their heading. */
export function readPrinted(text: string): Printed {
  const displacement = new Map<number, number[]>();
  const force = new Map<number, number[]>();
  const factors: number[] = [];
  let into: Map<number, number[]> | number[] | undefined;
  for (const line of text.split('\n')) {
    if (/displacements \(/.test(line)) into = displacement;
    else if (/forces \(/.test(line)) into = force;
    else if (/B U C K L I N G/.test(line)) into = factors;
    const n = line.trim().split(/\s+/).map(Number);
    if (into === undefined || !n.every(Number.isFinite)) continue;
    if (Array.isArray(into) && n.length === 2) into.push(n[1]!);
    else if (into instanceof Map && n.length === 4 && !into.has(n[0]!)) into.set(n[0]!, n.slice(1));
  }
  return { displacement, force, factors };
}

/** @throws with the end of the program's own words where it stops with an error. */
export function runCcx(deck: string): Printed {
  const folder = mkdtempSync(join(tmpdir(), 'frame-reference-'));
  try {
    writeFileSync(join(folder, 'deck.inp'), deck);
    const { status, stdout } = spawnSync('ccx', ['deck'], { cwd: folder, encoding: 'utf8', maxBuffer: 1 << 28 });
    if (status !== 0 || stdout.includes('*ERROR') || !stdout.includes('Job finished'))
      throw new Error(`ccx stopped (${status}): ${stdout.slice(-600)}`);
    return readPrinted(readFileSync(join(folder, 'deck.dat'), 'utf8'));
  } finally {
    rmSync(folder, { recursive: true });
  }
}
