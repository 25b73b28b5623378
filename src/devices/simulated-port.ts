import { Subject } from 'rxjs';
import { type Random, seededRandom } from '../core/maths/random.ts';
import { encodeSensorInfo } from '../core/packets/sensor-info.ts';
import { radioDelayUs } from '../core/simulator/sample-stream.ts';
import type { SensorErrors } from '../core/simulator/sensor-errors.ts';
import { type FirmwareHardware, VirtualFirmware } from '../core/simulator/virtual-firmware.ts';
import { LinkEnded, LinkTimeout } from './connection-failure.ts';
import type { OpenPort, SensorPort } from './sensor-port.ts';
import type { SimulatedRadio } from './simulated-radio.ts';

/** MTU of the simulated link: 19 samples a packet. */
const MTU = 247;

/**
 * A simulated sensor on the simulated air.
 * @param dropout when the link is out of reach, seconds of the simulation; null for never
 * @param seed of delays and losses
 */
export function createSimulatedPort(
  hardware: FirmwareHardware,
  radio: SimulatedRadio,
  errors: SensorErrors,
  dropout: SensorErrors['dropout'],
  seed: number,
): SensorPort {
  const firmware = new VirtualFirmware(hardware);
  const random = seededRandom(seed);
  const isOut = (): boolean => {
    const nowS = radio.nowUs() / 1e6;
    return dropout !== null && nowS >= dropout.atS && nowS < dropout.atS + dropout.lastsS;
  };
  return {
    id: hardware.info.serial,
    open: async () => {
      if (isOut()) throw new LinkTimeout();
      return openPort(firmware, radio, errors, dropout, random);
    },
    forget: () => Promise.resolve(),
  };
}

function openPort(
  firmware: VirtualFirmware,
  radio: SimulatedRadio,
  errors: SensorErrors,
  dropout: SensorErrors['dropout'],
  random: Random,
): OpenPort {
  const notifications = new Subject<Uint8Array>();
  const indications = new Subject<Uint8Array>();
  let isOpen = true;
  let arrivalUs = 0;
  let end: () => void = () => {};
  const ended = new Promise<void>((resolve) => {
    end = resolve;
  });
  const close = (): void => {
    if (!isOpen) return;
    isOpen = false;
    firmware.linkLost(radio.nowUs());
    notifications.complete();
    indications.complete();
    end();
  };
  const send = (to: Subject<Uint8Array>, bytes: Uint8Array): void => {
    // One link delivers in order.
    arrivalUs = Math.max(arrivalUs, radio.nowUs() + radioDelayUs(errors, random));
    radio.at(arrivalUs, () => {
      if (isOpen) to.next(bytes);
    });
  };
  const work = (): void => {
    if (!isOpen) return;
    for (const bytes of firmware.advance(radio.nowUs())) {
      if (random.uniform(0, 1) >= errors.lossFraction) send(notifications, bytes);
    }
    const nextUs = firmware.nextMadeUs;
    if (nextUs !== null) radio.at(nextUs, work);
  };
  firmware.linkUp(MTU);
  work();
  if (dropout !== null && radio.nowUs() < dropout.atS * 1e6) radio.at(dropout.atS * 1e6, close);
  return {
    info: encodeSensorInfo(firmware.info),
    deviceWords: null,
    readBattery: async () => 80,
    notifications$: notifications.asObservable(),
    indications$: indications.asObservable(),
    writeControl: async (bytes) => {
      if (!isOpen) throw new LinkEnded();
      radio.at(radio.nowUs() + radioDelayUs(errors, random), () => {
        if (isOpen) send(indications, firmware.onRequest(bytes, radio.nowUs()));
      });
    },
    ended,
    close,
  };
}
