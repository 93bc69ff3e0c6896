import { listenRaw, listenWith } from '../../devices/listen.js';
import { PortSettings } from '../../devices/profile-port.js';
import { loadProfile } from '../../devices/read-profile.js';
import { openSerialLine } from '../../devices/serial-line.js';
import { tellUnderstood } from '../../devices/tell-understood.js';
import { wireText } from '../../devices/wire-text.js';
import type { Io } from '../exit.js';
import type { Listened, Listening } from './listening.js';

const RAW_WIDTH = 60;

/** Shows what comes off a port, live: raw bytes, and with a profile what each message was understood as. */
export const tryPort = async (
  listening: Listening,
  profileFile: string | null,
  baud: number,
  io: Io,
): Promise<Listened> => {
  if (profileFile === null) return showRaw(listening, baud, io);
  const profile = await loadProfile(profileFile);
  if (!profile.ok) return { kind: 'bad', message: profile.problem.message };
  let understood = 0;
  let refused = 0;
  const done = await listenWith(profile.value, listening, ({ raw, understood: u }) => {
    if (u.kind === 'refused') refused += 1;
    else understood += 1;
    if (listening.json)
      io.out(
        `${JSON.stringify({ raw: wireText(raw, 512), ...(u.kind === 'refused' ? { ...u, detail: wireText(u.detail) } : u) })}\n`,
      );
    else io.out(`${(raw === '' ? '(nothing)' : wireText(raw, RAW_WIDTH)).padEnd(RAW_WIDTH)}  ${tellUnderstood(u)}\n`);
  });
  if (!done.ok) return { kind: 'failed', message: done.problem.message };
  if (!listening.json)
    io.out(
      `${understood} understood, ${refused} refused${understood + refused === 0 ? ': nothing came. Is the sensor on, and this its port?' : ''}\n`,
    );
  return { kind: 'listened', understood };
};

const showRaw = async (listening: Listening, baud: number, io: Io): Promise<Listened> => {
  let bytes = 0;
  const open = openSerialLine();
  const done = await listenRaw(
    PortSettings.parse({ baud }),
    {
      ...listening,
      openLine: (path, settings, handlers) =>
        open(path, settings, {
          ...handlers,
          onData: (chunk) => {
            bytes += chunk.length;
            const text = wireText(chunk.toString('latin1'), 512);
            io.out(listening.json ? `${JSON.stringify({ raw: text })}\n` : `${text}\n`);
          },
        }),
    },
    Number.POSITIVE_INFINITY,
  );
  if (!done.ok) return { kind: 'failed', message: done.problem.message };
  if (!listening.json) io.out(`${bytes} bytes${bytes === 0 ? ': nothing came' : ''}\n`);
  return { kind: 'listened', understood: bytes };
};
