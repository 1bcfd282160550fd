#!/usr/bin/env node
/**
 * Starts the program. In a clone it first installs what is missing and rebuilds when a source file changed; in an
 * installed package it only runs what is there. The one place that sets the exit code.
 *
 * Written in the oldest syntax that has modules at all, so that an old Node gets as far as the message.
 */
import { existsSync, realpathSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath, pathToFileURL } from 'node:url';

/** A defect of the program or its installation, not of its input. */
const SOFTWARE = 70;

const version = process.versions.node.split('.').map(Number);
const tooOld = version[0] < 20 || (version[0] === 20 && version[1] < 19);
const say = (line) => process.stderr.write(`${line}\n`);

async function start() {
  if (tooOld) {
    say(`foldwright needs Node.js 20.19 or newer; this is ${process.versions.node}.`);
    return SOFTWARE;
  }
  const home = dirname(dirname(realpathSync(fileURLToPath(import.meta.url))));
  if (existsSync(join(home, 'src')) && existsSync(join(home, 'scripts', 'stamp.mjs'))) {
    const problem = await refresh(home);
    if (problem) {
      say(problem);
      return SOFTWARE;
    }
  }
  const program = join(home, 'dist', 'cli.mjs');
  if (!existsSync(program)) {
    say('foldwright: dist/cli.mjs is missing, so this installation is incomplete; install the package again.');
    return SOFTWARE;
  }
  const { run, processEffects } = await import(pathToFileURL(program).href);
  return run(process.argv.slice(2), processEffects(home));
}

async function refresh(home) {
  const load = (name) => import(pathToFileURL(join(home, 'scripts', name)).href);
  const { builtStamp, sourceStamp } = await load('stamp.mjs');
  if (builtStamp(home) === sourceStamp(home)) return '';
  try {
    const { setup } = await load('setup.mjs');
    await setup({ root: home, say });
    const { build } = await load('build.mjs');
    await build({ root: home, say });
    return '';
  } catch (error) {
    return error.message || String(error);
  }
}

// `foldwright … | head` closes the pipe early: that is the reader's choice, not a failure of ours.
// The work goes on, because a page or a file may still be on its way.
process.stdout.on('error', (error) => {
  if (error.code === 'EPIPE') return;
  say(`foldwright: the output cannot be written (${error.code || error.message})`);
  process.exit(SOFTWARE);
});

start().then(
  (code) => {
    process.exitCode = code;
  },
  (error) => {
    say(`foldwright: a defect of the program, not of your input\n${error.stack || error}`);
    process.exitCode = SOFTWARE;
  },
);
