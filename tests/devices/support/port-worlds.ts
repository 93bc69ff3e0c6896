import { SerialPortMock } from 'serialport';
import { type OpenLine, openSerialLine } from '../../../src/devices/serial-line.js';
import { openPtyPort } from './pty-port.js';

/** A device at the far end of a port. */
export type Device = {
  readonly write: (bytes: string | Buffer) => void;
  readonly onHeard: (listener: (text: string) => void) => void;
  readonly unplug: () => void;
};

/** One port name, behind which a device can be plugged in and out; `openLine` opens whatever stands there now. */
export type PortWorld = { readonly plug: () => Promise<Device>; readonly openLine: OpenLine; readonly end: () => void };

/** A kernel's pseudo-terminal, through serialport's real binding. */
export const ptyWorld = (): PortWorld => {
  let here = '/dev/nothing-here';
  const open = openSerialLine();
  const devices: Device[] = [];
  return {
    plug: async () => {
      const pty = await openPtyPort();
      here = pty.path;
      devices.push(pty);
      return pty;
    },
    openLine: (_path, settings, handlers) => open(here, settings, handlers),
    end: () => {
      for (const device of devices) device.unplug();
    },
  };
};

type MockBinding = Awaited<ReturnType<typeof SerialPortMock.binding.open>>;
const opened: MockBinding[] = [];
const originalOpen = SerialPortMock.binding.open.bind(SerialPortMock.binding);
SerialPortMock.binding.open = async (options) => {
  const binding = await originalOpen(options);
  opened.push(binding);
  return binding;
};

/** serialport's own pretended binding: no terminal at all. */
export const mockWorld = (): PortWorld => {
  let listeners: ((text: string) => void)[] = [];
  const open = openSerialLine('mock');
  return {
    plug: async () => {
      SerialPortMock.binding.createPort('PORT');
      const bound = (): MockBinding => {
        const last = opened.at(-1);
        if (last === undefined) throw new Error('nothing is open');
        return last;
      };
      return {
        write: (bytes) => bound().emitData(typeof bytes === 'string' ? Buffer.from(bytes, 'latin1') : bytes),
        onHeard: (listener) => {
          listeners.push(listener);
        },
        unplug: () => {
          const binding = bound() as unknown as { pendingRead: ((error: Error) => void) | null };
          SerialPortMock.binding.reset();
          binding.pendingRead?.(new Error('bad file descriptor'));
        },
      };
    },
    openLine: async (_path, settings, handlers) => {
      const line = await open('PORT', settings, handlers);
      return {
        ...line,
        write: (bytes) => {
          line.write(bytes);
          for (const listener of listeners) listener(bytes.toString('latin1'));
        },
      };
    },
    end: () => {
      listeners = [];
      SerialPortMock.binding.reset();
    },
  };
};
