import { existsSync } from 'node:fs';

/** The browser that these tests drive, or null: CHROMIUM, else where Debian and others put it. */
export const findChromium = (): string | null =>
  [process.env.CHROMIUM ?? '', '/usr/bin/chromium', '/usr/bin/chromium-browser', '/usr/bin/google-chrome'].find(
    (path) => path !== '' && existsSync(path),
  ) ?? null;
