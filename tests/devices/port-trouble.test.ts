import { spawnSync } from 'node:child_process';
import { chmodSync, chownSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { describe, expect, it } from 'vitest';
import { portTrouble } from '../../src/devices/port-trouble.js';
import { openPtyPort } from './support/pty-port.js';

describe('why a port will not open, in words', () => {
  it.each([
    [
      'Error: No such file or directory, cannot open /dev/ttyUSB0',
      'missing',
      /there is no port \/dev\/ttyUSB0: plug the sensor in/,
    ],
    ['Opening COM4: File not found', 'missing', /there is no port/],
    ['Error Resource temporarily unavailable Cannot lock port', 'busy', /in use by another program: close that one/],
    ['Error: Device or resource busy, cannot open /dev/ttyUSB0', 'busy', /in use by another program/],
    [
      'Error: Permission denied, cannot open /dev/ttyUSB0',
      'not permitted',
      /join the group "dialout" \(sudo usermod -aG dialout \$USER\), then log out and in/,
    ],
    [
      'Error: Inappropriate ioctl for device \u001b[2J',
      'other',
      /will not open: Error: Inappropriate ioctl for device <1B>\[2J/,
    ],
  ])('%s', async (message, kind, words) => {
    const trouble = await portTrouble('/dev/ttyUSB0', new Error(message));
    expect(trouble.kind).toBe(kind);
    expect(trouble.detail).toMatch(words);
  });

  it.skipIf(process.getuid?.() !== 0)(
    'a port that belongs to a group one is not in: names that very group',
    async () => {
      const pty = await openPtyPort();
      const groups = readFileSync('/etc/group', 'utf8')
        .split('\n')
        .map((line) => line.split(':'));
      const [group = '', , gid = ''] =
        groups.find((parts) => parts[0] === 'dialout') ?? groups.find((parts) => Number(parts[2]) > 0) ?? [];
      chownSync(pty.path, 0, Number(gid));
      chmodSync(pty.path, 0o660);
      const script = fileURLToPath(new URL('./support/open-once.ts', import.meta.url));
      const ran = spawnSync(process.execPath, ['--import', 'tsx', script, pty.path], {
        uid: 65534,
        gid: 65534,
        encoding: 'utf8',
        env: { ...process.env, HOME: '/tmp', TSX_DISABLE_CACHE: '1' },
      });
      pty.unplug();
      expect(ran.stderr).toBe('');
      expect(JSON.parse(ran.stdout)).toEqual({
        kind: 'state',
        state: 'lost',
        detail: `you may not use port ${pty.path}: join the group "${group}" (sudo usermod -aG ${group} $USER), then log out and in.`,
      });
    },
  );
});
