// End-to-end tests alone: finds a browser, builds the app, runs Playwright. Arguments go to Playwright.
import { ensurePrograms, findChromium } from './find-chromium.mjs';
import { run } from './local.mjs';

const chrome = await findChromium();
ensurePrograms({ pdfinfo: 'poppler-utils', pdftoppm: 'poppler-utils', qpdf: 'qpdf' });
if (run('vite', ['build', '--logLevel', 'warn']) !== 0) process.exit(1);
process.exit(run('playwright', ['test', ...process.argv.slice(2)], { CHROME_PATH: chrome }));
