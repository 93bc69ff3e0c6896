import { readdir } from 'node:fs/promises';
import { fileURLToPath } from 'node:url';
import { guessProfile, type NamedProfile } from '../../devices/guess-profile.js';
import { loadProfile } from '../../devices/read-profile.js';
import type { Io } from '../exit.js';
import type { Listened, Listening } from './listening.js';

const SHOWN = 5;

/** Listens at several speeds and says which speed and shipped profile understand most. */
export const guessPort = async (listening: Listening, ask: boolean, io: Io): Promise<Listened> => {
  const profiles = await shippedProfiles();
  const guesses = await guessProfile({
    ...listening,
    profiles,
    ask,
    onTry: ({ baud, data_bits, parity }) => {
      if (!listening.json) io.err(`listening at ${baud} baud, ${data_bits} bits, parity ${parity} ...\n`);
    },
  });
  if (!guesses.ok) return { kind: 'failed', message: guesses.problem.message };
  for (const { name, settings, understood, refused } of guesses.value.slice(0, SHOWN)) {
    if (listening.json) io.out(`${JSON.stringify({ profile: name, ...settings, understood, refused })}\n`);
    else
      io.out(
        `${name.padEnd(44)} ${String(settings.baud).padStart(7)} baud  ${understood} understood, ${refused} refused\n`,
      );
  }
  if (guesses.value.length === 0 && !listening.json) {
    io.out(
      `Nothing was understood. ${ask ? 'Look at the raw bytes: holdreg ports PORT --speed BAUD' : 'If the sensor only speaks when asked, add --ask (sends it the questions of the shipped profiles).'}\n`,
    );
  }
  return { kind: 'listened', understood: guesses.value[0]?.understood ?? 0 };
};

const FOLDER = new URL('../../../devices/', import.meta.url);

const shippedProfiles = async (): Promise<readonly NamedProfile[]> => {
  const files = (await readdir(FOLDER)).filter((f) => f.endsWith('.json')).toSorted();
  const loaded = await Promise.all(
    files.map(async (f) => ({ name: `devices/${f}`, read: await loadProfile(fileURLToPath(new URL(f, FOLDER))) })),
  );
  return loaded.flatMap(({ name, read }) => (read.ok ? [{ name, profile: read.value }] : []));
};
