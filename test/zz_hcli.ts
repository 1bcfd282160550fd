import { run } from '../src/cli/run.ts';
import { processEffects } from '../src/cli/effects.ts';
process.exitCode = await run(process.argv.slice(2), processEffects(process.cwd()));
