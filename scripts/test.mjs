// The whole check: browser and PDF programs, types, lint and build, unit and published-value and law tests, end to end.
// Prints one closing line with the number of tests, and fails when any part failed or ran nothing.
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { ensurePrograms, findChromium } from './find-chromium.mjs';
import { run, runAside, runScript } from './local.mjs';

const chrome = await findChromium();
ensurePrograms({ pdfinfo: 'poppler-utils', pdftoppm: 'poppler-utils', qpdf: 'qpdf' });

const scratch = mkdtempSync(join(tmpdir(), 'girthwise-test-'));
const unitFile = join(scratch, 'unit.json');
const e2eFile = join(scratch, 'e2e.json');
const broken = [];
const part = (name, status) => {
  if (status !== 0) broken.push(name);
};
const started = Date.now();
const say = (what) => console.log(`\n── ${what} (${Math.round((Date.now() - started) / 1000)} s)`);

say('Types, lint and build');
// The build and lint fill the processor that the longest type check leaves free.
const types = runScript('scripts/types.mjs');
const [lint, build] = [
  await runAside('biome', ['check', '.']),
  await runAside('vite', ['build', '--logLevel', 'warn']),
];
for (const [name, { code, printed }] of Object.entries({ types: await types, lint, build })) {
  process.stdout.write(printed);
  part(name, code);
}
say('Unit, published-value and law tests');
part(
  'unit',
  run('vitest', ['run', '--reporter=default', '--reporter=json', `--outputFile.json=${unitFile}`], {
    CHROME_PATH: chrome,
  }),
);
say('End to end');
part(
  'end to end',
  run('playwright', ['test', '--reporter=list,json'], {
    CHROME_PATH: chrome,
    PLAYWRIGHT_JSON_OUTPUT_NAME: e2eFile,
  }),
);

const read = (file) => {
  try {
    return JSON.parse(readFileSync(file, 'utf8'));
  } catch {
    return null;
  }
};
const unit = read(unitFile);
const e2e = read(e2eFile);
rmSync(scratch, { recursive: true, force: true });
const passed = (unit?.numPassedTests ?? 0) + (e2e?.stats?.expected ?? 0);
const failed = (unit?.numFailedTests ?? 0) + (e2e?.stats?.unexpected ?? 0) + (e2e?.stats?.flaky ?? 0);
const skipped = (unit?.numPendingTests ?? 0) + (e2e?.stats?.skipped ?? 0);
if (!unit || unit.numPassedTests === 0) broken.push('unit tests ran nothing');
if (!e2e || e2e.stats.expected === 0) broken.push('end-to-end tests ran nothing');
if (broken.length > 0) console.error(`\nFailed: ${[...new Set(broken)].join(', ')}`);
console.log(`\nTook ${Math.round((Date.now() - started) / 1000)} s`);
console.log(`${passed} passed, ${failed} failed, ${skipped} skipped`);
process.exit(broken.length > 0 ? 1 : 0);
