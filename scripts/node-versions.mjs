/**
 * Runs the built program under several versions of Node and compares every figure exactly.
 *
 * The versions come from the registry's `node-<platform>-<arch>` packages, each into a folder of its own under .cache/:
 * the project's node_modules never sees them. `--only 20.19,26` limits the run to some.
 */
import { spawn } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { build } from './build.mjs';
import { differences, figures } from './figures.mjs';
import { withLock } from './lock.mjs';
import { ROOT } from './setup.mjs';

/** The oldest line that is supported, at its oldest minor version, then every later even line. */
const RANGES = ['20.19', '22', '24', '26'];
/** Too old: must be told so in words. */
const TOO_OLD = '18';
const say = (line) => process.stdout.write(`${line}\n`);

const run = (command, args, { input = '', env = {} } = {}) =>
  new Promise((resolve, reject) => {
    const child = spawn(command, args, { cwd: ROOT, env: { ...process.env, ...env }, stdio: ['pipe', 'pipe', 'pipe'] });
    let stdout = '';
    let stderr = '';
    child.stdout.on('data', (data) => {
      stdout += data;
    });
    child.stderr.on('data', (data) => {
      stderr += data;
    });
    child.stdin.on('error', () => {}); // it did not want its input
    child.stdin.end(input);
    child.on('error', reject);
    child.on('close', (code) => resolve({ code, stdout, stderr }));
  });

const PACKAGE = `node-${process.platform === 'win32' ? 'win' : process.platform}-${process.arch}`;

/** Path of that Node, installed if it is not there. */
async function nodeOf(range) {
  const folder = join(ROOT, '.cache', `node-${range}`);
  const binary = join(folder, 'node_modules', PACKAGE, 'bin', process.platform === 'win32' ? 'node.exe' : 'node');
  if (existsSync(binary)) return binary;
  return withLock(`${folder}.lock`, async () => {
    if (existsSync(binary)) return binary;
    const aside = `${folder}-${process.pid}`;
    rmSync(aside, { recursive: true, force: true });
    mkdirSync(aside, { recursive: true });
    writeFileSync(join(aside, 'package.json'), '{"private":true}\n');
    const npm = process.env.npm_execpath;
    const args = ['install', '--prefix', aside, '--no-audit', '--no-fund', '--ignore-scripts', `${PACKAGE}@${range}`];
    const { code, stderr } = await (npm ? run(process.execPath, [npm, ...args]) : run('npm', args));
    if (code !== 0) throw new Error(`node ${range}: ${PACKAGE} could not be installed\n${stderr.trim()}`);
    rmSync(folder, { recursive: true, force: true });
    renameSync(aside, folder);
    return binary;
  });
}

/** What is run: every calculation's example, and every example project through `check` and `choose`. */
function jobs() {
  const calc = join(ROOT, 'examples', 'calc');
  const list = readdirSync(calc).map((file) => ({
    name: `calc ${file.replace('.json', '')}`,
    args: ['calc', file.replace('.json', '')],
    input: JSON.stringify(JSON.parse(readFileSync(join(calc, file), 'utf8')).input),
  }));
  const examples = join(ROOT, 'examples');
  for (const name of readdirSync(examples))
    if (existsSync(join(examples, name, 'brief.yaml')))
      for (const command of ['check', 'choose'])
        list.push({ name: `${command} ${name}`, args: [command, join('examples', name), '--json'], input: '' });
  return list;
}

const only = process.argv.includes('--only') ? process.argv[process.argv.indexOf('--only') + 1].split(',') : RANGES;
await build({ say });
const list = jobs();
const program = join(ROOT, 'bin', 'foldwright.mjs');
let failed = 0;
let reference;
for (const range of only) {
  const start = performance.now();
  const node = await nodeOf(range);
  const version = (await run(node, ['--version'])).stdout.trim();
  if (!version.startsWith(`v${range}.`)) throw new Error(`asked for Node ${range}, got ${version}`);
  const results = new Map();
  for (const { name, args, input } of list) {
    const { code, stdout, stderr } = await run(node, [program, ...args], { input });
    let value;
    try {
      value = { exit: code, figures: JSON.parse(stdout) };
    } catch {
      failed++;
      say(`  ${name}: exit ${code}, no JSON on stdout\n${stderr.trim().split('\n').slice(0, 5).join('\n')}`);
      continue;
    }
    const bad = code === 2 || code === 70 || code === null || figures(value.figures) === 0;
    if (bad) {
      failed++;
      say(`  ${name}: exit ${code}, ${figures(value.figures)} figures`);
    }
    results.set(name, value);
  }
  let differing = 0;
  for (const [name, value] of results) {
    const found = reference ? differences(reference.results.get(name), value) : [];
    differing += found.length;
    for (const line of found.slice(0, 20)) say(`  ${name}: ${line}  (${reference.version} | ${version})`);
    if (found.length > 20) say(`  ${name}: and ${found.length - 20} more`);
  }
  failed += differing;
  const count = [...results.values()].reduce((sum, value) => sum + figures(value.figures), 0);
  const verdict = reference ? `${differing} differ from ${reference.version}` : 'the reference';
  say(
    `Node ${version}: ${results.size} runs, ${count} figures, ${verdict}, ${((performance.now() - start) / 1000).toFixed(1)} s`,
  );
  reference ??= { version, results };
}
if (!process.argv.includes('--only')) {
  const { code, stdout, stderr } = await run(await nodeOf(TOO_OLD), [program, '--version']);
  const told = code === 70 && stdout === '' && stderr.includes('needs Node.js 20.19 or newer');
  say(`Node ${TOO_OLD}: ${told ? 'told that it is too old' : `exit ${code}: ${stdout}${stderr}`}`);
  if (!told) failed++;
}
if (list.length === 0) {
  say('nothing to compare');
  failed++;
}
say(failed === 0 ? `same figures under ${only.length} versions of Node` : `${failed} failed`);
process.exitCode = failed === 0 ? 0 : 1;
