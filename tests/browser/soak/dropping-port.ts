import type { SensorErrors } from '../../../src/core/simulator/sensor-errors.ts';
import type { FirmwareHardware } from '../../../src/core/simulator/virtual-firmware.ts';
import { LinkTimeout } from '../../../src/devices/connection-failure.ts';
import type { SensorPort } from '../../../src/devices/sensor-port.ts';
import { createSimulatedPort as createPort } from '../../../src/devices/simulated-port.ts';
import type { SimulatedRadio } from '../../../src/devices/simulated-radio.ts';
import { airOfPage } from './air-plan.ts';

/** In place of the app's own, which knows one dropout of one sensor: as many as the soak wants, of any sensor. */
export function createSimulatedPort(
  hardware: FirmwareHardware,
  radio: SimulatedRadio,
  errors: SensorErrors,
  _dropout: SensorErrors['dropout'],
  seed: number,
): SensorPort {
  const port = createPort(hardware, radio, errors, null, seed);
  const drops = airOfPage().drops.filter(({ serial }) => serial === hardware.info.serial);
  return {
    ...port,
    open: async (abandoned) => {
      const nowS = radio.nowUs() / 1e6;
      if (drops.some(({ atS, lastsS }) => nowS >= atS && nowS < atS + lastsS)) {
        throw new LinkTimeout();
      }
      const open = await port.open(abandoned);
      const next = drops.find(({ atS }) => atS > nowS);
      if (next !== undefined) radio.at(next.atS * 1e6, open.close);
      return open;
    },
  };
}
