// A real editor for one test: code-server with the packed extension, and Chromium to look at it. All of its files lie in
// one folder that is gone afterwards.

import { spawn, spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { createServer } from 'node:net';
import { tmpdir, userInfo } from 'node:os';
import { join } from 'node:path';
import { chromium } from 'playwright-core';

/** Nothing takes longer than this, on the slowest machine. */
export const DEADLINE = 60_000;
/** The whole test takes half a minute; an editor or a browser that answers nothing at all is ended after this. */
const LIMIT = 300_000;

const NEEDS = ['CODE_SERVER', 'VSIX', 'TRUG', 'CHROMIUM'];

export async function openEditor(files) {
  for (const name of NEEDS) if (!process.env[name]) throw new Error(`${name} is not set: test.sh sets it`);
  const { CODE_SERVER, VSIX, TRUG, CHROMIUM } = process.env;
  const home = mkdtempSync(join(tmpdir(), 'trug-editor-'));
  const folder = join(home, 'farm');
  const env = { ...process.env, HOME: home, XDG_CONFIG_HOME: '', XDG_DATA_HOME: '' };
  for (const [name, text] of Object.entries(files)) write(join(folder, name), text);
  write(join(home, 'data', 'User', 'settings.json'), JSON.stringify(settings(TRUG)));

  const places = ['--user-data-dir', join(home, 'data'), '--extensions-dir', join(home, 'extensions')];
  const installed = spawnSync(process.execPath, [CODE_SERVER, ...places, '--install-extension', VSIX], { env, encoding: 'utf8' });
  if (installed.status !== 0) throw new Error(`the extension was not installed:\n${installed.stdout}${installed.stderr}`);

  const port = await freePort();
  const quiet = ['--disable-telemetry', '--disable-update-check', '--disable-workspace-trust'];
  const args = [CODE_SERVER, ...places, ...quiet, '--auth', 'none', '--bind-addr', `127.0.0.1:${port}`];
  const server = spawn(process.execPath, args, { env, detached: true, stdio: ['ignore', 'pipe', 'pipe'] });
  let said = '';
  for (const stream of [server.stdout, server.stderr]) stream.on('data', (some) => (said += some));

  let browser;
  const sweep = () => {
    // With all that it started: the extension's host, and in it the language server.
    try {
      process.kill(-server.pid, 'SIGKILL');
    } catch {
      // It has ended already.
    }
    rmSync(home, { recursive: true, force: true, maxRetries: 5, retryDelay: 200 });
  };
  const close = async () => {
    await browser?.close().catch(() => undefined);
    sweep();
  };
  const giveUp = (why) => {
    process.stdout.write(`FAILED  ${why}\ncode-server said:\n${said}\n`);
    sweep();
    // The browser ends with this process.
    process.exit(1);
  };
  setTimeout(giveUp, LIMIT, `no end after ${LIMIT / 1000} s`).unref();
  for (const signal of ['SIGINT', 'SIGTERM', 'SIGHUP']) process.once(signal, () => giveUp(signal));
  try {
    await until('the editor answers', () => fetch(`http://127.0.0.1:${port}/healthz`).then(({ ok }) => ok, () => false));
    // A superuser's Chromium has no sandbox; it looks at nothing but our own editor.
    const flags = userInfo().uid === 0 ? ['--no-sandbox'] : [];
    const signals = { handleSIGINT: false, handleSIGTERM: false, handleSIGHUP: false };
    browser = await chromium.launch({ executablePath: CHROMIUM, args: flags, env, ...signals });
    const page = await browser.newPage({ viewport: { width: 1600, height: 1000 } });
    page.setDefaultTimeout(DEADLINE);
    await page.goto(`http://127.0.0.1:${port}/?folder=${encodeURIComponent(folder)}`);
    await page.locator('.monaco-workbench .explorer-folders-view').waitFor();
    return { page, close, said: () => said };
  } catch (error) {
    await close();
    throw new Error(`${error.message}\ncode-server said:\n${said}`);
  }
}

/** Waits until something holds, and says what it waited for when it never does. */
export async function until(what, holds) {
  const end = Date.now() + DEADLINE;
  for (;;) {
    const seen = await holds();
    if (seen) return seen;
    if (Date.now() > end) throw new Error(`waited in vain: ${what}`);
    await new Promise((go) => setTimeout(go, 50));
  }
}

function write(path, text) {
  mkdirSync(join(path, '..'), { recursive: true });
  writeFileSync(path, text);
}

function settings(trug) {
  return {
    'trug.path': trug,
    'trug.today': '2026-11-25',
    'workbench.startupEditor': 'none',
    'workbench.tips.enabled': false,
    'editor.minimap.enabled': false,
    'editor.accessibilitySupport': 'off',
    'extensions.ignoreRecommendations': true,
    'git.enabled': false,
    'chat.commandCenter.enabled': false,
  };
}

function freePort() {
  return new Promise((found, failed) => {
    const probe = createServer().on('error', failed);
    probe.listen(0, '127.0.0.1', () => {
      const { port } = probe.address();
      probe.close(() => found(port));
    });
  });
}
