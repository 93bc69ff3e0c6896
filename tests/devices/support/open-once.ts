import { openSensor } from '../../../src/devices/open-sensor.js';
import { profileFile } from './profile-file.js';

// Opens the port given as argument as whoever runs this, says the first thing the sensor tells, and ends. Run by a test as another user.
const sensor = openSensor({
  port: process.argv[2] ?? '',
  profile: profileFile('line-delimited.json'),
  now: Date.now,
  onEvent: (event) => {
    process.stdout.write(`${JSON.stringify(event)}\n`);
    void sensor.close();
  },
});
