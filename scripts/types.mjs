// Type-checks every part against its own tsconfig: the core without the DOM library, the rest with theirs.
// The parts do not wait for each other, as far as there are processors; what they say is printed in the same order always.
import { availableParallelism } from 'node:os';
import { runAside } from './local.mjs';

// The longest first, so that none is left alone at the end.
const parts = ['tests', 'app', 'src', 'src/cli'];
const results = new Map();
const waiting = [...parts];
const worker = async () => {
  for (let part = waiting.shift(); part !== undefined; part = waiting.shift()) {
    results.set(part, await runAside('tsc', ['-p', part, '--pretty', 'false']));
  }
};
await Promise.all(Array.from({ length: Math.min(parts.length, availableParallelism()) }, worker));

for (const part of parts) process.stdout.write(results.get(part).printed);
const failed = parts.filter((part) => results.get(part).code !== 0);
if (failed.length > 0) {
  console.error(`Types do not hold in: ${failed.join(', ')}`);
  process.exit(1);
}
