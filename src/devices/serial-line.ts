import type { PortSettings } from './profile-port.js';

/** An open serial line. */
export type SerialLine = {
  readonly write: (bytes: Buffer) => void;
  readonly close: () => Promise<void>;
};

export type LineHandlers = {
  readonly onData: (chunk: Buffer) => void;
  /** The line closed without being asked to: unplugged, or the device went away. */
  readonly onLost: (why: string) => void;
};

export type OpenLine = (path: string, settings: PortSettings, handlers: LineHandlers) => Promise<SerialLine>;

/**
 * Opens ports through serialport, which is loaded only now: it costs more than the rest of the start-up. 'mock' opens serialport's pretended
 * ports instead. Rejects with the system's own error.
 */
export const openSerialLine =
  (ports: 'system' | 'mock' = 'system'): OpenLine =>
  async (path, settings, handlers) => {
    const { SerialPort, SerialPortMock } = await import('serialport');
    const options = {
      path,
      baudRate: settings.baud,
      dataBits: settings.data_bits,
      stopBits: settings.stop_bits,
      parity: settings.parity,
      rtscts: settings.flow === 'rts-cts',
      xon: settings.flow === 'xon-xoff',
      xoff: settings.flow === 'xon-xoff',
      autoOpen: false,
    };
    const port = ports === 'mock' ? new SerialPortMock(options) : new SerialPort(options);
    let asked = false;
    port.on('data', (chunk: Buffer) => handlers.onData(chunk));
    port.on('error', () => {
      // A write that fails because the device is gone is followed by close; a time-out or the silence watch tells the rest.
    });
    port.on('close', (error: Error | null) => {
      if (!asked) handlers.onLost(error?.message ?? 'closed');
    });
    await new Promise<void>((resolve, reject) => port.open((error) => (error ? reject(error) : resolve())));
    return {
      write: (bytes) => {
        if (port.isOpen) port.write(bytes);
      },
      close: () => {
        asked = true;
        if (!port.isOpen) return Promise.resolve();
        return new Promise((resolve) => {
          const giveUp = setTimeout(resolve, 1000);
          port.drain(() =>
            port.close(() => {
              clearTimeout(giveUp);
              resolve();
            }),
          );
        });
      },
    };
  };
