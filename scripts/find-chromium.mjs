// Finds a Chromium for the browser tests, or installs Debian's when allowed. Order: CHROME_PATH, one that Playwright
// brought, usual system places, Debian's package (as root), else a clear message.
import { execFileSync, spawnSync } from 'node:child_process';
import { existsSync } from 'node:fs';

const places = {
  linux: [
    '/usr/bin/chromium',
    '/usr/bin/chromium-browser',
    '/usr/bin/google-chrome',
    '/usr/bin/google-chrome-stable',
    '/snap/bin/chromium',
  ],
  darwin: [
    '/Applications/Google Chrome.app/Contents/MacOS/Google Chrome',
    '/Applications/Chromium.app/Contents/MacOS/Chromium',
  ],
  win32: [
    'C:/Program Files/Google/Chrome/Application/chrome.exe',
    'C:/Program Files (x86)/Google/Chrome/Application/chrome.exe',
  ],
};

const answers = (path) =>
  process.platform === 'win32' || spawnSync(path, ['--version'], { timeout: 20_000 }).status === 0;

/** True when Debian packages can be installed without asking anybody. */
const mayInstall = () =>
  process.platform === 'linux' && process.getuid?.() === 0 && existsSync('/usr/bin/apt-get');

/** Installs Debian packages quietly; returns whether it worked. */
export function aptInstall(...packages) {
  if (!mayInstall()) return false;
  console.error(`Installing ${packages.join(', ')} (Debian packages, once)…`);
  const env = { ...process.env, DEBIAN_FRONTEND: 'noninteractive' };
  try {
    execFileSync('apt-get', ['update', '-qq'], { stdio: ['ignore', 'ignore', 2], env });
    execFileSync('apt-get', ['install', '-y', '-qq', '--no-install-recommends', ...packages], {
      stdio: ['ignore', 'ignore', 2],
      env,
    });
    return true;
  } catch {
    return false;
  }
}

async function playwrightsOwn() {
  try {
    const { chromium } = await import('@playwright/test');
    const path = chromium.executablePath();
    return path && existsSync(path) ? path : '';
  } catch {
    return '';
  }
}

/** Path of a Chromium that starts, or exits the process with a message that says what to do. */
export async function findChromium() {
  const given = process.env.CHROME_PATH;
  if (given) {
    if (existsSync(given)) return given;
    console.error(
      `CHROME_PATH names ${given}, which does not exist. Correct it, or unset it to search the usual places.`,
    );
    process.exit(1);
  }
  const look = async () => {
    const own = await playwrightsOwn();
    if (own && answers(own)) return own;
    return (places[process.platform] ?? []).find((p) => existsSync(p) && answers(p)) ?? '';
  };
  const found = await look();
  if (found) return found;
  if (aptInstall('chromium')) {
    const fresh = await look();
    if (fresh) return fresh;
  }
  console.error(
    'No Chromium could be found or installed. Install Chrome or Chromium and run again, or set CHROME_PATH to its program file.',
  );
  process.exit(1);
}

/** Makes sure that the named programs are there (poppler and qpdf measure the PDF files in the tests). */
export function ensurePrograms(programs) {
  const missing = () => Object.keys(programs).filter((p) => spawnSync(p, ['--version']).error);
  let left = missing();
  if (left.length > 0 && aptInstall(...new Set(left.map((p) => programs[p])))) left = missing();
  if (left.length > 0) {
    console.error(
      `The tests measure real PDF files with ${left.join(', ')}, which could not be found or installed. Install ${[...new Set(left.map((p) => programs[p]))].join(', ')} with your system's package manager and run again.`,
    );
    process.exit(1);
  }
}
