import { serialPorts } from '../../devices/serial-ports.js';
import { wireText } from '../../devices/wire-text.js';
import { type Exit, type Io, NO, OK } from '../exit.js';

/** The serial ports the system knows. */
export const listPorts = async (io: Io, json: boolean): Promise<Exit> => {
  const ports = await serialPorts();
  if (json) {
    for (const port of ports) io.out(`${JSON.stringify(port)}\n`);
    return ports.length > 0 ? OK : NO;
  }
  if (ports.length === 0) {
    io.out(
      'No serial ports found. Plug the adapter in; if it still does not show, type its path yourself: holdreg ports PATH\n',
    );
    return NO;
  }
  for (const { path, serial_number, maker, usb } of ports) {
    const about = [
      maker,
      usb === null ? null : `USB ${usb}`,
      serial_number === null ? null : `serial number ${serial_number}`,
    ]
      .filter((w) => w !== null)
      .map((w) => wireText(w, 60));
    io.out(`${wireText(path, 60).padEnd(16)} ${about.join(', ')}`.trimEnd().concat('\n'));
  }
  return OK;
};
