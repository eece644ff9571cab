/**
 * Owns driving browsers that the usual tests cannot: a Chromium of 2019, the system's Firefox
 * and its WebKit. Each is asked by running a script in its page, which all of them can; whatever
 * is not installed says so in a sentence and is not run.
 */
import { type ChildProcess, spawn, spawnSync } from 'node:child_process';
import { existsSync, mkdirSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { brotliDecompressSync } from 'node:zlib';
import puppeteer from 'puppeteer-core';
import puppeteer13 from 'puppeteer-core-13';
import { Builder, Capabilities } from 'selenium-webdriver';
import { freePort } from '../server/process.ts';

const root = join(import.meta.dirname, '../..');
const kept = join(root, '.cache/browsers');

export interface Driven {
  readonly version: string;
  readonly goto: (url: string) => Promise<void>;
  /** Runs one expression in the page; gives what JSON can carry. */
  readonly ask: <T>(expression: string) => Promise<T>;
  readonly size: (width: number, height: number) => Promise<void>;
  readonly picture: (file: string) => Promise<void>;
  readonly close: () => Promise<void>;
}
export interface Kind {
  readonly name: string;
  /** Opens it, or says in a sentence why it cannot be run here. */
  readonly open: () => Promise<Driven | string>;
}

const PACKAGE = 'chrome-aws-lambda@2.0.2';
/** The Chromium that a package of the registry carries: fetched once, into a folder outside of git. */
function oldChromium(): string | null {
  const path = join(kept, 'chromium-79');
  if (existsSync(path)) return path;
  mkdirSync(kept, { recursive: true });
  if (spawnSync('npm', ['pack', PACKAGE, '--silent'], { cwd: kept }).status !== 0) return null;
  const packed = readdirSync(kept).find((f) => /^chrome-aws-lambda.*\.tgz$/.test(f));
  if (!packed || spawnSync('tar', ['xzf', packed, 'package/bin/chromium.br'], { cwd: kept }).status !== 0) return null;
  writeFileSync(path, brotliDecompressSync(readFileSync(join(kept, 'package/bin/chromium.br'))), { mode: 0o755 });
  return path;
}

const quiet = ['--no-sandbox', '--disable-gpu', '--disable-dev-shm-usage'];

export const chromium79: Kind = {
  name: 'Chromium 79',
  open: async () => {
    const executablePath = oldChromium();
    if (executablePath === null) return `its package (${PACKAGE}) could not be fetched`;
    const browser = await puppeteer13.launch({ executablePath, args: quiet, headless: true });
    const page = await browser.newPage();
    return {
      version: await browser.version(),
      goto: async (url) => { await page.goto(url); },
      ask: (expression) => page.evaluate(expression) as Promise<never>,
      size: (width, height) => page.setViewport({ width, height }),
      picture: async (path) => { await page.screenshot({ path }); },
      close: () => browser.close(),
    };
  },
};

export const firefox: Kind = {
  name: 'Firefox',
  open: async () => {
    const executablePath = ['/usr/bin/firefox-esr', '/usr/bin/firefox'].find((p) => existsSync(p));
    if (!executablePath) return 'it is not installed (package firefox-esr)';
    const browser = await puppeteer.launch({ browser: 'firefox', executablePath, headless: true });
    const page = await browser.newPage();
    return {
      version: await browser.version(),
      goto: async (url) => { await page.goto(url); },
      ask: (expression) => page.evaluate(expression) as Promise<never>,
      size: (width, height) => page.setViewport({ width, height }),
      picture: async (path) => { await page.screenshot({ path: path as `${string}.png` }); },
      close: () => browser.close(),
    };
  },
};

/** Where Debian keeps the small browser that WebKit's driver starts. */
const MINI = ['/usr/lib/x86_64-linux-gnu/webkit2gtk-4.1/MiniBrowser', '/usr/lib/aarch64-linux-gnu/webkit2gtk-4.1/MiniBrowser', '/usr/lib/x86_64-linux-gnu/webkit2gtk-4.0/MiniBrowser'];

async function answering(port: number): Promise<boolean> {
  for (let tries = 0; tries < 150; tries += 1) {
    if ((await fetch(`http://127.0.0.1:${port}/status`).catch(() => null))?.ok) return true;
    await new Promise((resolve) => { setTimeout(resolve, 200); });
  }
  return false;
}

export const webkit: Kind = {
  name: 'WebKit',
  open: async () => {
    const mini = MINI.find((p) => existsSync(p));
    if (!existsSync('/usr/bin/WebKitWebDriver') || !mini) return 'it is not installed (package webkit2gtk-driver)';
    if (!existsSync('/usr/bin/xvfb-run')) return 'it needs a screen to draw on (package xvfb)';
    const port = await freePort();
    // A group of its own, so that all of it ends together.
    const driver: ChildProcess = spawn('xvfb-run', ['-a', '-s', '-screen 0 1920x1200x24', 'WebKitWebDriver', `--port=${port}`, '--host=127.0.0.1'], { stdio: 'ignore', detached: true });
    const end = () => { if (driver.pid) process.kill(-driver.pid, 'SIGTERM'); };
    if (!await answering(port)) {
      end();
      return 'its driver does not answer';
    }
    const capabilities = new Capabilities({ browserName: 'MiniBrowser', 'webkitgtk:browserOptions': { binary: mini, args: ['--automation'] } });
    const session = await new Builder().usingServer(`http://127.0.0.1:${port}`).withCapabilities(capabilities).build();
    const version = (await session.getCapabilities()).get('browserVersion');
    return {
      version: `WebKitGTK ${String(version)}`,
      goto: (url) => session.get(url),
      ask: (expression) => session.executeScript(`return (${expression});`),
      size: async (width, height) => { await session.manage().window().setRect({ x: 0, y: 0, width, height }); },
      picture: async (file) => { writeFileSync(file, await session.takeScreenshot(), 'base64'); },
      close: async () => {
        await session.quit().catch(() => undefined);
        end();
      },
    };
  },
};
