/**
 * The command line as a function: arguments and effects in, exit code out. Commands load their code when they run, so
 * that `--help` and a small `calc` start at once.
 */
import { join } from 'node:path';
import { Command, CommanderError } from 'commander';
import { printable } from '#project';
import type { CalcOptions } from './commands/calc.ts';
import type { FileOptions } from './commands/files.ts';
import type { JudgeOptions } from './commands/judge-commands.ts';
import type { TuneCommandOptions } from './commands/tune.ts';
import type { Effects, Output } from './effects.ts';
import { EXIT } from './exit.ts';
import { printProblems, usageProblem } from './print.ts';

const JSON_OPTION = ['--json', 'print JSON on stdout, problems included'] as const;
const HTML_OPTION = ['--html <file>', 'write one self-contained page'] as const;

/** Codes by which commander says that it printed what was asked for, not that something is wrong. */
const PRINTED = new Set(['commander.helpDisplayed', 'commander.version', 'commander.help']);

/** @returns the exit code; never exits and never throws for bad input. */
export async function run(argv: readonly string[], given: Effects): Promise<number> {
  const machine = argv[0] === 'calc' || argv.includes('--json');
  // Names and notes of a project are shown, never obeyed: no file steers the terminal that prints it.
  const forPeople: Output = { ...terminalOf(given.stdout), write: (text) => given.stdout.write(printable(text)) };
  const effects: Effects = machine ? given : { ...given, stdout: forPeople };
  let exit: number = EXIT.holds;
  let said = '';
  const program = await build(effects, (code) => {
    exit = code;
  });
  const everything = [program, ...program.commands];
  for (const command of everything) {
    command.exitOverride();
    command.configureOutput({
      writeOut: (text) => effects.stdout.write(text),
      writeErr: (text) => {
        said += text;
      },
      getOutHelpWidth: () => effects.stdout.columns ?? 100,
      getErrHelpWidth: () => effects.stderr.columns ?? 100,
    });
  }
  try {
    await program.parseAsync(argv, { from: 'user' });
    return exit;
  } catch (error) {
    if (!(error instanceof CommanderError)) throw error;
    if (PRINTED.has(error.code) && error.exitCode === 0) return EXIT.holds;
    if (machine) {
      const [message, hint] = said.replace(/^error: /, '').split('\n');
      const near = hint?.startsWith('(Did') ? hint.slice(1, -1) : undefined;
      return printProblems(effects, [usageProblem('cli.usage', message ?? error.message, near)]);
    }
    effects.stderr.write(said.replace(/^error: /, 'foldwright: '));
    return EXIT.unusable;
  }
}

const terminalOf = ({ isTTY, columns }: Output) => ({ isTTY, columns });

async function build(effects: Effects, finish: (code: number) => void): Promise<Command> {
  const manifest = JSON.parse(new TextDecoder().decode(await effects.readFile(join(effects.home, 'package.json'))));
  const program = new Command('foldwright')
    .description(manifest.description)
    .version(manifest.version, '-V, --version', 'print the version')
    .helpOption('-h, --help', 'print help')
    .helpCommand('help [command]', 'print help on a command')
    .showHelpAfterError('(foldwright --help lists the commands)')
    .addHelpText('after', '\nExit code: 0 all demands hold, 1 some do not, 2 unusable input.');

  program
    .command('calc [topic]')
    .description('one calculation, JSON on stdin to JSON on stdout')
    .option('--list', 'list the topics')
    .option('--schema', "print the JSON Schema of the topic's input and output")
    .option('--example', 'print an input that works')
    .option(...JSON_OPTION)
    .action(async (topic: string | undefined, options: CalcOptions) => {
      const { calc } = await import('./commands/calc.ts');
      finish(await calc(topic, options, effects));
    });
  const project = ['--project <dir>', 'the project folder; else the first argument, else here or above'] as const;
  program
    .command('new <dir>')
    .description('write a commented starter project that check accepts')
    .option(...JSON_OPTION)
    .action(async (dir: string, options: FileOptions) => {
      finish(await (await import('./commands/files.ts')).newProject(dir, options, effects));
    });
  program
    .command('import <file>')
    .description('turn points (CSV) or lines (DXF) into the stations and tubes of a candidate')
    .option('--out <file>', 'write a new candidate file instead of printing it')
    .option('--plane <plane>', 'how a drawing lies in the bicycle: side, top or space')
    .option('--unit <unit>', 'unit of the drawing, against what it says itself')
    .option('--section <section>', 'section of tubes that name none: round 30 x 1.5 mm')
    .option('--material <material>', 'material of tubes that name none')
    .option(...JSON_OPTION)
    .action(async (file: string, options: FileOptions) => {
      finish(await (await import('./commands/files.ts')).importFile(file, options, effects));
    });
  program
    .command('check [what...]')
    .usage('[options] [PROJECT] [CANDIDATE]')
    .description('judge every candidate, or one, against the brief')
    .option('--explain <quantity>', 'print the sheet of one quantity: inputs, formula, substitution, source')
    .option('--quantities', 'list the quantities that demands, wishes and --explain may name')
    .option(...project)
    .option(...JSON_OPTION)
    .option(...HTML_OPTION)
    .action(async (what: string[], options: JudgeOptions) => {
      finish(await (await import('./commands/judge-commands.ts')).check(what, options, effects));
    });
  program
    .command('choose [what...]')
    .usage('[options] [PROJECT] [CANDIDATE...]')
    .description('compare the candidates and name the one to build')
    .option(...project)
    .option(...JSON_OPTION)
    .option(...HTML_OPTION)
    .action(async (what: string[], options: JudgeOptions) => {
      finish(await (await import('./commands/judge-commands.ts')).chooseOne(what, options, effects));
    });
  program
    .command('compare <what...>')
    .usage('[options] [PROJECT] A B')
    .description('two candidates side by side, and what would have to change')
    .option(...project)
    .option(...JSON_OPTION)
    .option(...HTML_OPTION)
    .action(async (what: string[], options: JudgeOptions) => {
      finish(await (await import('./commands/judge-commands.ts')).compare(what, options, effects));
    });
  program
    .command('tune [what...]')
    .usage('[options] [PROJECT] CANDIDATE')
    .description('size its tubes from stock: least mass with the demands on its frame held')
    .option('--outside', 'other outside diameters of the stock lists too; clearances are judged again')
    .option('--against <stiffness>', 'stiffness of the mass curve, frame.head_torsion when left out')
    .option('--no-curve', 'leave the curve of mass against stiffness out')
    .option('--svg <file>', 'write the curve as a picture')
    .option('--write', "put the tuned sections into the candidate's file; comments stay")
    .option('--write-as <variant>', 'add them as a variant instead')
    .option(...project)
    .option(...JSON_OPTION)
    .addHelpText(
      'after',
      '\nWithout demands on frame.* in the brief, frame.service_use and frame.test_use are held to 1.' +
        '\nExit code: 0 the tuned frame holds all, 1 no gauges do, 2 unusable input.',
    )
    .action(async (what: string[], options: TuneCommandOptions) => {
      finish(await (await import('./commands/tune.ts')).tuneCandidate(what, options, effects));
    });
  return program;
}
