// Type-checks every part against its own tsconfig: the core without the DOM library, the rest with theirs.
import { run } from './local.mjs';

const parts = ['src', 'src/cli', 'app', 'tests'];
const failed = parts.filter((part) => run('tsc', ['-p', part, '--pretty', 'false']) !== 0);
if (failed.length > 0) {
  console.error(`Types do not hold in: ${failed.join(', ')}`);
  process.exit(1);
}
