import { execFileSync } from 'node:child_process';
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { ROOT } from './end-to-end/program.js';

type Component = { readonly name: string; readonly version: string; readonly hashes?: readonly { alg: string }[] };

it('the list of packages written at release names every shipped package with its version and hash, without the network', () => {
  execFileSync('npm', ['run', 'release-list', '--offline'], { cwd: ROOT, stdio: 'ignore' });
  const list: { bomFormat: string; components: readonly Component[] } = JSON.parse(
    readFileSync(join(ROOT, 'dist/packages.cdx.json'), 'utf8'),
  );
  expect(list.bomFormat).toBe('CycloneDX');
  const lock: { packages: Record<string, { version: string; dev?: boolean; devOptional?: boolean }> } = JSON.parse(
    readFileSync(join(ROOT, 'package-lock.json'), 'utf8'),
  );
  const shipped = Object.entries(lock.packages).filter(
    ([path, one]) => path !== '' && one.dev !== true && one.devOptional !== true,
  );
  const named = new Set(list.components.map((one) => `${one.name}@${one.version}`));
  for (const [path, { version }] of shipped)
    expect(named, path).toContain(`${path.replace(/^.*node_modules\//, '')}@${version}`);
  for (const one of list.components) expect(one.hashes?.[0]?.alg, one.name).toBe('SHA-512');
}, 60_000);
