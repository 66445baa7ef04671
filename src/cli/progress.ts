import type { Work } from '../base';
import type { CommandIo } from './io';

/** Work shorter than this is not worth a line, ms; nor is a line more often. */
const tellEvery = 1000;

/** Tells on standard error how far long work has come, one line about once a second. Never cancels. */
export function tellProgress(io: CommandIo, now: () => number = () => performance.now()): Work {
  let told = now();
  return {
    async step(done, total, what) {
      if (now() - told < tellEvery) return;
      told = now();
      const share = total > 0 ? Math.min(1, done / total) : 0;
      io.error(`… ${Math.floor(share * 100)} % ${what}\n`);
    },
  };
}
