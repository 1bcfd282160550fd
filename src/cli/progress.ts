/**
 * One line of progress on a terminal, shown only once a second has passed and wiped at the end. Nothing at all where stderr is
 * not a terminal, so that logs and pipes stay clean.
 */
import type { Effects } from './effects.ts';

/** Work shorter than this needs no progress, ms. */
const PATIENCE = 1000;

export interface Progress {
  /** Says what is going on and lets the terminal and Ctrl-C have a turn. */
  say(what: string): Promise<void>;
  end(): void;
}

export function startProgress(effects: Effects): Progress {
  const start = performance.now();
  let shown = false;
  return {
    async say(what) {
      await new Promise((resolve) => setImmediate(resolve));
      if (!effects.stderr.isTTY || performance.now() - start < PATIENCE) return;
      shown = true;
      effects.stderr.write(`\r\u001b[2K${what} …`);
    },
    end() {
      if (shown) effects.stderr.write('\r\u001b[2K');
    },
  };
}
