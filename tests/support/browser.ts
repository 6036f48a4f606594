/**
 * A real Chromium for the tests: the one at CHROMIUM_PATH if set, otherwise the one that comes as a package, which
 * brings its own libraries when it believes itself on a machine without any.
 */
import { mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join, resolve } from 'node:path';
import { type Browser, type BrowserContext, chromium, type Page } from 'playwright-core';

/**
 * The package unpacks into the folder for temporary files and takes up what lies there by name: so the folder has a
 * version.
 */
const UNPACKED = resolve('.cache', 'chromium-147.0.0');

// The package's own list turns web security off, with which a test of the policy would mean nothing.
const ARGUMENTS = [
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--disable-background-networking',
  // A page here lives for seconds: to optimize its scripts, and on other threads, takes half of all its work.
  '--js-flags=--no-opt --no-maglev --single-threaded',
];

let common: Promise<Browser> | undefined;

/** The browser that all test files of a process share; it ends with the process. */
export function openBrowser(): Promise<Browser> {
  common ??= launchBrowser();
  return common;
}

/** What a test file does with the common browser at its end: no page and nothing kept stays behind. */
export async function closePages(browser: Browser): Promise<void> {
  await Promise.all(browser.contexts().map((context) => context.close()));
}

/** Starts a browser. Only ever pointed at the project's own server. */
export async function launchBrowser(extra: readonly string[] = []): Promise<Browser> {
  return chromium.launch({ executablePath: await chromiumPath(), args: [...ARGUMENTS, ...extra], headless: true });
}

/** A phone whose browser keeps what it is given in a folder, and can be started on it again. */
export async function launchPhone(folder: string): Promise<BrowserContext> {
  const executablePath = await chromiumPath();
  return chromium.launchPersistentContext(folder, {
    ...PHONE,
    deviceScaleFactor: 1,
    executablePath,
    args: ARGUMENTS,
    headless: true,
  });
}

/** Ends the browser that runs on a folder as a flat battery does. */
export function killBrowserOn(folder: string): void {
  for (const pid of readdirSync('/proc').filter((name) => /^\d+$/.test(name))) {
    if (commandOf(pid).includes(`--user-data-dir=${folder}`)) process.kill(Number(pid), 'SIGKILL');
  }
}

function commandOf(pid: string): string[] {
  try {
    return readFileSync(`/proc/${pid}/cmdline`, 'utf8').split('\0');
  } catch {
    return [];
  }
}

/** Before all tests that open a browser: it is unpacked once, since two at a time would unpack into each other. */
export async function setup(): Promise<void> {
  await chromiumPath();
}

async function chromiumPath(): Promise<string> {
  if (process.env.CHROMIUM_PATH) return process.env.CHROMIUM_PATH;
  const before = process.env.TMPDIR;
  mkdirSync(UNPACKED, { recursive: true });
  process.env.AWS_LAMBDA_JS_RUNTIME = 'nodejs20.x';
  process.env.TMPDIR = UNPACKED;
  const { default: packaged } = await import('@sparticuz/chromium');
  const path = await packaged.executablePath();
  if (before === undefined) delete process.env.TMPDIR;
  else process.env.TMPDIR = before;
  bringLettering();
  return path;
}

/**
 * The package's own list of font folders names places that are not ours; without a single font every text is invisible.
 */
function bringLettering(): void {
  const folders = [join(UNPACKED, 'fonts'), '/usr/share/fonts'].map((folder) => `<dir>${folder}</dir>`).join('');
  const cache = `<cachedir>${join(UNPACKED, 'fonts-cache')}</cachedir>`;
  const own = join(UNPACKED, 'lettering');
  mkdirSync(own, { recursive: true });
  writeFileSync(join(own, 'fonts.conf'), `<?xml version="1.0"?><fontconfig>${folders}${cache}</fontconfig>`);
  process.env.FONTCONFIG_PATH = own;
}

export const PHONE = { viewport: { width: 390, height: 844 }, hasTouch: true, isMobile: true, deviceScaleFactor: 1 };
export const LAPTOP = { viewport: { width: 1280, height: 800 } };

/** A page whose console errors and failed requests are collected. */
export async function openPage(context: BrowserContext): Promise<{ page: Page; complaints: string[] }> {
  const page = await context.newPage();
  const complaints: string[] = [];
  page.on('console', (message) => {
    if (message.type() === 'error') complaints.push(message.text());
  });
  page.on('pageerror', (error) => complaints.push(String(error)));
  return { page, complaints };
}

/**
 * Pixels by which the page is wider than the window. A phone's window grows with what is in it (`innerWidth`), so it is
 * measured on the page.
 */
export function overhang(page: Page): Promise<number> {
  return page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
}

/** Words that would fit on a line and are broken within, each with the class of what it is in. */
export function brokenWords(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const broken: string[] = [];
    const texts = document.createTreeWalker(document.querySelector('main')!, NodeFilter.SHOW_TEXT);
    for (let text = texts.nextNode(); text !== null; text = texts.nextNode()) {
      if (text.parentElement!.closest('svg, .heard, script, option') !== null) continue;
      for (const { 0: word, index } of text.textContent!.matchAll(/[^\s\-/–\u00ad]{1,12}(?=\s|$)/g)) {
        const range = document.createRange();
        range.setStart(text, index);
        range.setEnd(text, index + word.length);
        const lines = new Set(
          [...range.getClientRects()].filter(({ width }) => width > 0).map(({ top }) => Math.round(top)),
        );
        if (lines.size > 1) broken.push(`${word} in .${text.parentElement!.className}`);
      }
    }
    return broken;
  });
}
