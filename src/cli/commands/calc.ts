/** `foldwright calc`: one calculation, JSON in, JSON out. Failures are problems on stdout and exit 2. */
import { join } from 'node:path';
import { nearestName } from '#project';
import { type CalcTopic, calcSchemas, calcTopicNames, loadCalcTopic, runCalc } from '#study';
import type { Effects } from '../effects.ts';
import { EXIT } from '../exit.ts';
import { printJson, printProblems, usageProblem } from '../print.ts';

export interface CalcOptions {
  readonly list?: boolean;
  readonly schema?: boolean;
  readonly example?: boolean;
  readonly json?: boolean;
}

async function loadAll(): Promise<CalcTopic[]> {
  const topics = await Promise.all(calcTopicNames.map(loadCalcTopic));
  return topics.filter((topic) => topic !== undefined);
}

async function list(options: CalcOptions, effects: Effects): Promise<number> {
  const topics = await loadAll();
  if (options.json) {
    printJson(effects, { topics: topics.map(({ name, meaning, method }) => ({ name, meaning, method })) });
    return EXIT.holds;
  }
  const width = Math.max(...topics.map((topic) => topic.name.length));
  for (const { name, meaning } of topics) effects.stdout.write(`${name.padEnd(width)}  ${meaning}\n`);
  return EXIT.holds;
}

/** Runs the command and returns the exit code. */
export async function calc(name: string | undefined, options: CalcOptions, effects: Effects): Promise<number> {
  if (options.list) return list(options, effects);
  if (name === undefined) {
    const hint = `topics: ${calcTopicNames.join(', ')}`;
    return printProblems(effects, [usageProblem('calc.topic', 'calc needs a topic, or --list', hint)]);
  }
  const topic = await loadCalcTopic(name);
  if (topic === undefined) {
    const near = nearestName(name, calcTopicNames);
    const hint = near ? `did you mean ${near}?` : `topics: ${calcTopicNames.join(', ')}`;
    return printProblems(effects, [
      usageProblem('calc.topic', `there is no calculation ${JSON.stringify(name)}`, hint),
    ]);
  }
  if (options.schema) {
    printJson(effects, { topic: topic.name, meaning: topic.meaning, method: topic.method, ...calcSchemas(topic) });
    return EXIT.holds;
  }
  if (options.example) {
    const bytes = await effects.readFile(join(effects.home, 'examples', 'calc', `${topic.name}.json`));
    printJson(effects, (JSON.parse(new TextDecoder().decode(bytes)) as { input: unknown }).input);
    return EXIT.holds;
  }
  if (effects.stdin.isTTY)
    effects.stderr.write(
      `Reading JSON from the keyboard; end with Ctrl-D. An input that works: foldwright calc ${name} --example\n`,
    );
  const answer = runCalc(topic, await effects.stdin.read());
  if ('problems' in answer) return printProblems(effects, answer.problems);
  printJson(effects, answer.output);
  return EXIT.holds;
}
