import { readdir, readFile, realpath } from 'node:fs/promises';

/** A serial port as the system lists it; null = not told. */
export type SerialPortFound = {
  readonly path: string;
  readonly serial_number: string | null;
  readonly maker: string | null;
  /** Vendor and product of a USB adapter, "1a86:7523". */
  readonly usb: string | null;
};

/** The serial ports there are. Where the system's own list does not work (no udev), the device files are looked up instead. */
export const serialPorts = async (): Promise<readonly SerialPortFound[]> => {
  try {
    const { SerialPort } = await import('serialport');
    const ports = await SerialPort.list();
    return ports.map((p) => ({
      path: p.path,
      serial_number: p.serialNumber ?? null,
      maker: p.manufacturer ?? null,
      usb: p.vendorId !== undefined && p.productId !== undefined ? `${p.vendorId}:${p.productId}` : null,
    }));
  } catch {
    return portsFromDevices();
  }
};

const SYS = '/sys/class/tty';

/** Linux without udev: terminals that have a real device behind them; a USB adapter tells its serial number a few folders up. */
const portsFromDevices = async (): Promise<readonly SerialPortFound[]> => {
  const names = (await readdir(SYS).catch(() => []))
    .filter((name) => /^tty(USB|ACM|S|AMA|XRUSB)\d+$/.test(name))
    .toSorted();
  const found = await Promise.all(names.map(portFromDevice));
  return found.filter((port) => port !== null);
};

const portFromDevice = async (name: string): Promise<SerialPortFound | null> => {
  const device = await realpath(`${SYS}/${name}/device`).catch(() => null);
  if (
    device === null ||
    (name.startsWith('ttyS') && (await readFile(`${SYS}/${name}/type`, 'utf8').catch(() => '0')).trim() === '0')
  )
    return null;
  let folder = device;
  for (let up = 0; up < 4; up += 1) {
    const vendor = await word(`${folder}/idVendor`);
    if (vendor !== null) {
      const [serial, maker, product] = await Promise.all([
        word(`${folder}/serial`),
        word(`${folder}/manufacturer`),
        word(`${folder}/idProduct`),
      ]);
      return {
        path: `/dev/${name}`,
        serial_number: serial,
        maker,
        usb: product === null ? null : `${vendor}:${product}`,
      };
    }
    folder = folder.slice(0, folder.lastIndexOf('/'));
  }
  return { path: `/dev/${name}`, serial_number: null, maker: null, usb: null };
};

const word = (file: string): Promise<string | null> =>
  readFile(file, 'utf8').then(
    (text) => text.trim() || null,
    () => null,
  );
