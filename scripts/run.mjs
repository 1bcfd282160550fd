/**
 * The project's commands: `node scripts/run.mjs demo | test | test:long | check | format | bench | docs | test:node-versions`.
 * Each sets up first. Stages that look at files fail when they looked at none.
 */
import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, readFileSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { ROOT, SetupError, setup } from './setup.mjs';

const LAYERS = ['kernel', 'project', 'study', 'draw', 'server', 'cli'];
const say = (line) => process.stdout.write(`${line}\n`);
const seconds = (start) => `${((performance.now() - start) / 1000).toFixed(1)} s`;
const tool = (path) => join(ROOT, 'node_modules', ...path.split('/'));
const TSC = tool('typescript/bin/tsc');
const BIOME = tool('@biomejs/biome/bin/biome');
const VITEST = tool('vitest/vitest.mjs');
const TSX = tool('tsx/dist/cli.mjs');

/** Runs Node on a script; collects its output when `quiet`, else lets it print. */
const node = (args, { quiet = false, env = {} } = {}) =>
  new Promise((resolve, reject) => {
    const stdio = ['ignore', quiet ? 'pipe' : 'inherit', quiet ? 'pipe' : 'inherit'];
    const child = spawn(process.execPath, args, { cwd: ROOT, stdio, env: { ...process.env, ...env } });
    let output = '';
    child.stdout?.on('data', (data) => {
      output += data;
    });
    child.stderr?.on('data', (data) => {
      output += data;
    });
    child.on('error', reject);
    child.on('close', (code, signal) => resolve({ code: signal ? 1 : code, output }));
  });

/** Type-checks one project file; lists what it read, because a project without files would pass too. */
async function typesOf(project) {
  const { code, output } = await node([TSC, '-p', project, '--listFiles', '--pretty', 'false'], { quiet: true });
  const lines = output.split('\n').filter((line) => line.trim() !== '');
  const isFile = (line) => /^(\/|[A-Za-z]:[\\/])[^(]*\.([cm]?[jt]sx?|json)$/.test(line);
  const own = lines.filter((line) => isFile(line) && line.startsWith(ROOT) && !line.includes('node_modules')).length;
  const errors = lines.filter((line) => !isFile(line));
  if (own === 0) errors.push(`${project}: read no file of the project`);
  return { ok: code === 0 && own > 0, own, errors };
}

async function types() {
  const start = performance.now();
  const queue = ['tsconfig.json', ...LAYERS.map((layer) => `src/${layer}/tsconfig.json`)].filter((p) =>
    existsSync(join(ROOT, p)),
  );
  const total = queue.length;
  const results = [];
  const worker = async () => {
    for (let next = queue.shift(); next; next = queue.shift()) results.push(await typesOf(next));
  };
  await Promise.all([worker(), worker()]);
  const errors = [...new Set(results.flatMap((result) => result.errors))];
  const ok = total === LAYERS.length + 1 && results.every((result) => result.ok);
  if (total !== LAYERS.length + 1) errors.push(`types: expected ${LAYERS.length + 1} projects, found ${total}`);
  const most = Math.max(0, ...results.map((result) => result.own));
  for (const line of errors) say(line);
  say(`types   ${ok ? 'ok' : 'FAILED'}, ${total} projects, ${most} files, ${seconds(start)}`);
  return ok;
}

async function lint(args = ['check', '--error-on-warnings']) {
  const start = performance.now();
  const { code, output } = await node([BIOME, ...args], { quiet: true });
  const files = Number(/(?:Checked|Formatted) (\d+) files?/.exec(output)?.[1] ?? 0);
  const ok = code === 0 && files > 0;
  if (!ok) say(output.trim());
  if (files === 0) say('lint: looked at no file');
  say(`lint    ${ok ? 'ok' : 'FAILED'}, ${files} files, ${seconds(start)}`);
  return ok;
}

async function docsFresh() {
  const start = performance.now();
  const { code, output } = await node([TSX, 'scripts/docs.ts', '--check'], { quiet: true });
  if (code !== 0) say(output.trim());
  say(`docs    ${code === 0 ? 'ok' : 'FAILED'}, ${seconds(start)}`);
  return code === 0;
}

/** Runs vitest, whose summary stays in view, then counts from its own report. */
async function tests(extra, env = {}) {
  const report = join(ROOT, '.cache', `vitest-${process.pid}.json`);
  mkdirSync(join(ROOT, '.cache'), { recursive: true });
  const { code } = await node(
    [VITEST, 'run', '--reporter=default', '--reporter=json', `--outputFile.json=${report}`, ...extra],
    { env },
  );
  if (!existsSync(report)) return { ok: false, passed: 0, failed: 1, skipped: 0, names: [] };
  const told = JSON.parse(readFileSync(report, 'utf8'));
  rmSync(report);
  const passed = told.numPassedTests;
  const failed =
    told.numFailedTests +
    told.testResults.filter((file) => file.status === 'failed' && file.assertionResults.length === 0).length;
  const skipped = told.numPendingTests + told.numTodoTests;
  const names = told.testResults
    .filter((file) => file.assertionResults.some((test) => test.status === 'passed'))
    .map((file) => file.name.slice(ROOT.length + 1));
  return { ok: code === 0 && passed > 0, passed, failed, skipped, names };
}

/** Test files without which a green run would mean little. */
const MUST_RUN = ['test/layers.test.ts', 'test/calc-examples.test.ts', 'verification/verification.test.ts'];

async function test(extra) {
  const whole = extra.length === 0;
  const stages = whole ? { types: await types(), lint: await lint(), docs: await docsFresh() } : {};
  const result = await tests(extra);
  const broken = Object.entries(stages).flatMap(([name, ok]) => (ok ? [] : [name]));
  if (whole) for (const name of MUST_RUN) if (!result.names.includes(name)) broken.push(`${name} (ran no test)`);
  if (!result.ok && result.failed === 0) broken.push('vitest');
  for (const name of broken) say(`FAILED: ${name}, see above`);
  const skipped = result.skipped > 0 ? `, ${result.skipped} skipped` : '';
  say(`${result.passed} passed, ${result.failed + broken.length} failed${skipped}`);
  return broken.length === 0 && result.ok ? 0 : 1;
}

async function testLong(extra) {
  const { build } = await import('./build.mjs');
  await build({ say });
  const result = await tests(extra, { FOLDWRIGHT_LONG: '1' });
  say(`${result.passed} passed, ${result.failed} failed${result.skipped > 0 ? `, ${result.skipped} skipped` : ''}`);
  return result.ok ? 0 : 1;
}

async function demo(extra) {
  const { build } = await import('./build.mjs');
  await build({ say: (line) => process.stderr.write(`${line}\n`) });
  mkdirSync(join(ROOT, 'out'), { recursive: true });
  const args = ['choose', 'examples/quayside', '--html', 'out/quayside.html', ...extra];
  // the program as bin/foldwright.mjs starts it, without a second Node: the build has just been looked after
  const { run, processEffects } = await import(pathToFileURL(join(ROOT, 'dist', 'cli.mjs')).href);
  process.chdir(ROOT);
  return run(args, processEffects(ROOT));
}

const bench = async (extra) => (await node([TSX, 'bench/run.ts', ...extra])).code;

const COMMANDS = {
  demo,
  test,
  'test:long': testLong,
  check: async () => ((await types()) & (await lint()) ? 0 : 1),
  format: async () => ((await lint(['check', '--write'])) ? 0 : 1),
  bench,
  docs: async () => (await node([TSX, 'scripts/docs.ts'])).code,
  'test:node-versions': async (extra) => (await node([join(ROOT, 'scripts', 'node-versions.mjs'), ...extra])).code,
};

const [name, ...extra] = process.argv.slice(2);
const command = Object.hasOwn(COMMANDS, name ?? '') ? COMMANDS[name] : undefined;
if (!command) {
  process.stderr.write(`commands: ${Object.keys(COMMANDS).join(', ')}\n`);
  process.exitCode = 2;
} else {
  try {
    await setup();
    process.exitCode = await command(extra);
  } catch (error) {
    process.stderr.write(`${error instanceof SetupError ? error.message : (error.stack ?? error)}\n`);
    process.exitCode = 1;
  }
}
