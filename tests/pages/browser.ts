import { spawnSync } from 'node:child_process';
import { existsSync, mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { delimiter, join } from 'node:path';

const NAMES = ['chromium', 'chromium-browser', 'google-chrome', 'chrome'];

/** A browser of this machine, by CHROMIUM or on the path; undefined where there is none. */
export function findBrowser(): string | undefined {
  const named = process.env.CHROMIUM;
  if (named) return named;
  const folders = (process.env.PATH ?? '').split(delimiter);
  return NAMES.flatMap((name) => folders.map((folder) => join(folder, name))).find((path) => existsSync(path));
}

const QUIET = [
  '--headless',
  '--no-sandbox',
  '--disable-gpu',
  '--disable-quic',
  '--no-first-run',
  '--disable-background-networking',
  '--disable-component-update',
  '--disable-sync',
  '--hide-scrollbars',
];

/** Runs a headless browser once on a page, with a profile of its own that is thrown away. */
export function runBrowser(browser: string, url: string, options: readonly string[]): { out: string; err: string } {
  const profile = mkdtempSync(join(tmpdir(), 'pullgate-page-'));
  try {
    const run = spawnSync(browser, [...QUIET, `--user-data-dir=${profile}`, ...options, url], {
      encoding: 'utf8',
      timeout: 60_000,
      maxBuffer: 64 * 1024 * 1024,
    });
    if (run.error) throw run.error;
    return { out: run.stdout, err: run.stderr };
  } finally {
    rmSync(profile, { recursive: true, force: true, maxRetries: 5 });
  }
}
