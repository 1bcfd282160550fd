/** Runs every measurement of this folder in a process of its own, one after the other; writes out/bench.json. Arguments choose files by part of the name. */
import { spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { cpus } from 'node:os';
import { join } from 'node:path';
import { line, type Measured } from './measure.ts';

const root = join(import.meta.dirname, '..');
/** Not measurements themselves. */
const HELPERS = ['measure.ts', 'run.ts'];
const wanted = process.argv.slice(2);
const files = readdirSync(import.meta.dirname)
  .filter(
    (name) =>
      name.endsWith('.ts') &&
      !HELPERS.includes(name) &&
      (wanted.length === 0 || wanted.some((part) => name.includes(part))),
  )
  .sort();
mkdirSync(join(root, 'out'), { recursive: true });
const record = join(root, 'out', `bench-${process.pid}.jsonl`);
const results: Record<string, readonly Measured[]> = {};
const failed: string[] = [];
for (const file of files) {
  console.log(`\n${file}`);
  rmSync(record, { force: true });
  const args = [join(root, 'node_modules', 'tsx', 'dist', 'cli.mjs'), join('bench', file)];
  const { status } = spawnSync(process.execPath, args, {
    cwd: root,
    stdio: 'inherit',
    env: { ...process.env, FOLDWRIGHT_BENCH: record },
  });
  const lines = existsSync(record) ? readFileSync(record, 'utf8').trim().split('\n') : [];
  results[file] = lines.map((text) => JSON.parse(text) as Measured);
  if (status !== 0 || lines.length === 0)
    failed.push(`${file}: ${status !== 0 ? `exit ${status}` : 'measured nothing'}`);
}
rmSync(record, { force: true });
const machine = { node: process.version, cpu: cpus()[0]?.model ?? '', cores: cpus().length };
writeFileSync(join(root, 'out', 'bench.json'), `${JSON.stringify({ machine, results }, null, 2)}\n`);
const all = Object.values(results).flat();
const missed = all.filter((m) => m.aim_us !== undefined && m.median_us > m.aim_us);
console.log(`\n${all.length} measured in ${files.length} files, ${missed.length} over their aim; out/bench.json`);
for (const m of missed) console.log(line(m));
for (const text of failed) console.log(`FAILED ${text}`);
if (failed.length > 0 || files.length === 0) process.exitCode = 1;
