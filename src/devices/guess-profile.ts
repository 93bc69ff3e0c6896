import type { Result } from '../core/result.js';
import { type ListenOptions, listenRaw, listenWith } from './listen.js';
import type { Profile } from './profile.js';
import type { PortSettings } from './profile-port.js';
import { splitterFor } from './splitter-for.js';
import { understandWith } from './understand.js';

export type NamedProfile = { readonly name: string; readonly profile: Profile };

/** How well a profile understands a port at one setting of the line. */
export type Guess = {
  readonly name: string;
  readonly settings: PortSettings;
  readonly understood: number;
  readonly refused: number;
};

export type GuessOptions = Omit<ListenOptions, 'ms'> & {
  readonly profiles: readonly NamedProfile[];
  readonly listenMs?: number;
  /** Send the questions of profiles that ask, where nothing comes by itself. */
  readonly ask: boolean;
  readonly onTry?: (settings: PortSettings) => void;
};

/** Speeds tried beside the profiles' own, most usual first. */
export const USUAL_SPEEDS = [9600, 115_200, 19_200, 38_400, 57_600, 4800] as const;

/**
 * Listens at every setting of the line that a profile asks for and at the usual speeds, reads what came with every profile, and orders them by
 * how much they understood: the profile's own setting wins among equals. Empty = nothing was understood at any.
 */
export const guessProfile = async (options: GuessOptions): Promise<Result<readonly Guess[]>> => {
  const listenMs = options.listenMs ?? 1500;
  const guesses: Guess[] = [];
  for (const settings of settingsToTry(options.profiles)) {
    options.onTry?.(settings);
    const raw = await listenRaw(settings, { ...options, ms: listenMs });
    if (!raw.ok) return raw;
    for (const { name, profile } of options.profiles) {
      if (profile.talk.mode === 'push' && raw.value.length > 0)
        guesses.push({ name, settings, ...scored(profile, raw.value) });
    }
    if (raw.value.length > 0 || !options.ask) continue;
    for (const { name, profile } of options.profiles) {
      if (profile.talk.mode === 'push' || !sameLine(profile.port, settings)) continue;
      let understood = 0;
      let refused = 0;
      const heard = await listenWith({ ...profile, port: settings }, { ...options, ms: listenMs }, (h) => {
        if (h.understood.kind === 'readings') understood += 1;
        else if (h.understood.kind === 'refused' && h.raw !== '') refused += 1;
      });
      if (!heard.ok) return heard;
      if (understood + refused > 0) guesses.push({ name, settings, understood, refused });
    }
  }
  const own = (g: Guess): number =>
    options.profiles.some((p) => p.name === g.name && sameLine(p.profile.port, g.settings)) ? 1 : 0;
  const best = guesses
    .filter((g) => g.understood > 0)
    .toSorted((a, b) => share(b) - share(a) || b.understood - a.understood || own(b) - own(a));
  return { ok: true, value: best };
};

const share = (g: Guess): number => g.understood / (g.understood + g.refused);

const sameLine = (a: PortSettings, b: PortSettings): boolean =>
  a.baud === b.baud && a.data_bits === b.data_bits && a.parity === b.parity && a.stop_bits === b.stop_bits;

const settingsToTry = (profiles: readonly NamedProfile[]): readonly PortSettings[] => {
  const own = profiles.map((p) => p.profile.port);
  const usual = USUAL_SPEEDS.map(
    (baud): PortSettings => ({ baud, data_bits: 8, parity: 'none', stop_bits: 1, flow: 'none' }),
  );
  const all = [...own, ...usual];
  return all.filter((s, i) => all.findIndex((t) => sameLine(s, t)) === i);
};

const scored = (profile: Profile, bytes: Buffer): { readonly understood: number; readonly refused: number } => {
  const understand = understandWith(profile);
  let understood = 0;
  let refused = 0;
  const splitter = splitterFor(profile, (f) => {
    const kind = f.kind === 'frame' ? understand(f).kind : 'refused';
    if (kind === 'readings') understood += 1;
    else if (kind === 'refused') refused += 1;
  });
  splitter.opened(0);
  splitter.push(bytes, 0);
  // The first message may be the tail of one and the last is cut off by the end of listening: neither is held against the profile.
  return { understood, refused: Math.max(0, refused - 1) };
};
