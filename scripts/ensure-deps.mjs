// Installs the locked dependencies when they are missing or older than the lock file. Uses no package itself.
import { execFileSync } from 'node:child_process';
import { createHash } from 'node:crypto';
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';

const root = join(dirname(fileURLToPath(import.meta.url)), '..');
const [major = 0, minor = 0] = process.versions.node.split('.').map(Number);
if (major < 20 || (major === 20 && minor < 19)) {
  console.error(
    `Girthwise needs Node.js 20.19 or newer; this is ${process.versions.node}. Install a newer Node.js and run again.`,
  );
  process.exit(1);
}

const lock = readFileSync(join(root, 'package-lock.json'));
const wanted = createHash('sha256')
  .update(lock)
  .update(`${major} ${process.platform} ${process.arch}`)
  .digest('hex');
const stamp = join(root, 'node_modules', '.installed-for');
const installed = existsSync(stamp) ? readFileSync(stamp, 'utf8') : '';

if (installed !== wanted) {
  console.error('Installing dependencies (once)…');
  const npm = process.env.npm_execpath;
  const args = ['ci', '--no-audit', '--no-fund', '--loglevel=error'];
  // Output goes to standard error, so that commands whose standard output is read stay clean.
  const stdio = ['ignore', 2, 2];
  try {
    if (npm) execFileSync(process.execPath, [npm, ...args], { cwd: root, stdio });
    else execFileSync('npm', args, { cwd: root, stdio, shell: process.platform === 'win32' });
  } catch {
    console.error(
      'The dependencies could not be installed. Check the network and run the same command again.',
    );
    process.exit(1);
  }
  writeFileSync(stamp, wanted);
}
