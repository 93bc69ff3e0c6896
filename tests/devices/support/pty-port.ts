import { spawn } from '@lydell/node-pty';

/** A real pseudo-terminal whose far end is a serial port; what the program writes to it is heard. */
export type PtyPort = {
  readonly path: string;
  readonly write: (bytes: string | Buffer) => void;
  readonly heard: () => string;
  readonly onHeard: (listener: (text: string) => void) => void;
  /** The device goes away, as when the cable is pulled. */
  readonly unplug: () => void;
};

/** Opens one; resolves when its path is known. */
export const openPtyPort = (): Promise<PtyPort> =>
  new Promise((resolve, reject) => {
    const pty = spawn('sh', ['-c', 'stty raw -echo; tty; exec sleep 1000'], { encoding: 'latin1' as never });
    let heard = '';
    let path: string | null = null;
    const listeners: ((text: string) => void)[] = [];
    const giveUp = setTimeout(() => reject(new Error('no pseudo-terminal')), 5000);
    pty.onData((text) => {
      heard += text;
      if (path !== null) for (const listener of listeners) listener(text);
      const line = /^(\/dev\/\S+)[\r\n]+/.exec(heard);
      if (path !== null || line?.[1] === undefined) return;
      path = line[1];
      heard = heard.slice(line[0].length);
      clearTimeout(giveUp);
      resolve({
        path,
        // Buffers are taken as they are; a string would be sent as UTF-8. The types know of strings only.
        write: (bytes) =>
          pty.write((typeof bytes === 'string' ? Buffer.from(bytes, 'latin1') : bytes) as unknown as string),
        heard: () => heard,
        onHeard: (listener) => listeners.push(listener),
        unplug: () => pty.kill('SIGKILL'),
      });
    });
  });
