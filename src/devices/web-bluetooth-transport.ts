import { BehaviorSubject, Subject } from 'rxjs';
import { type PerSegment, SEGMENT_WORDS, SEGMENTS, type Segment } from '../core/arm/segments.ts';
import { decodeSensorInfo } from '../core/packets/sensor-info.ts';
import type { SetRecord } from '../core/recording/set-record.ts';
import { explainConnectionFailure, LinkTimeout, SensorRefused } from './connection-failure.ts';
import { CONTROL_UUID, INFO_UUID, SERVICE_UUID, STREAM_UUID } from './profile.ts';
import type { ConnectionState, Transport } from './transport.ts';

/** `connect()` of some Bluetooth stacks never settles. */
const CONNECT_TIMEOUT_MS = 12_000;
/** One read, write or discovery. */
const OPERATION_TIMEOUT_MS = 6_000;

interface Link {
  readonly device: BluetoothDevice;
  readonly release: () => void;
}

/**
 * Three sensors by Web Bluetooth.
 * `connect` must be called from a tap or key press: the browser shows its chooser only then.
 */
export function createWebBluetoothTransport(bluetooth: Bluetooth): Transport {
  const records = new Subject<SetRecord>();
  const connections = new BehaviorSubject<PerSegment<ConnectionState>>({
    upperArm: { state: 'absent' },
    forearm: { state: 'absent' },
    implement: { state: 'absent' },
  });
  const links = new Map<Segment, Link>();
  let zeroMs = performance.now();
  let closed = false;
  const nowUs = (): number => Math.round((performance.now() - zeroMs) * 1000);

  const setState = (segment: Segment, state: ConnectionState): void =>
    connections.next({ ...connections.value, [segment]: state });

  const letGo = (segment: Segment): void => {
    links.get(segment)?.release();
    links.delete(segment);
  };

  const emit = (segment: Segment, kind: 'sensor-info' | 'notification', bytes: Uint8Array): void =>
    records.next({ kind, segment, hostTimeUs: nowUs(), bytes });

  const connect = async (segment: Segment): Promise<void> => {
    let device: BluetoothDevice | undefined;
    try {
      // The chooser first and without delay: it is what spends the user's tap.
      device = await bluetooth.requestDevice({ filters: [{ services: [SERVICE_UUID] }] });
      letGo(segment);
      const chosenId = device.id;
      const other = SEGMENTS.find((name) => links.get(name)?.device.id === chosenId);
      if (other !== undefined) {
        letGo(other);
        setState(other, { state: 'absent' });
      }
      setState(segment, { state: 'connecting' });
      const link = await openLink(segment, device);
      if (closed) return link.release();
      links.set(segment, link);
      setState(segment, { state: 'streaming' });
    } catch (reason) {
      device?.gatt?.disconnect();
      // A closed chooser leaves a link that is up as it is.
      if (device === undefined && links.has(segment)) return;
      const error = explainConnectionFailure(reason, segment, device !== undefined);
      setState(segment, { state: 'failed', error });
    }
  };

  const openLink = async (segment: Segment, device: BluetoothDevice): Promise<Link> => {
    const { gatt } = device;
    if (gatt === undefined) throw new DOMException('no GATT on this device', 'NotSupportedError');
    const server = await within(CONNECT_TIMEOUT_MS, gatt.connect());
    const service = await within(OPERATION_TIMEOUT_MS, server.getPrimaryService(SERVICE_UUID));
    // One operation at a time: parallel ones fail on several systems.
    const info = await within(OPERATION_TIMEOUT_MS, service.getCharacteristic(INFO_UUID));
    const stream = await within(OPERATION_TIMEOUT_MS, service.getCharacteristic(STREAM_UUID));
    await within(OPERATION_TIMEOUT_MS, service.getCharacteristic(CONTROL_UUID));
    const infoBytes = copyOf(await within(OPERATION_TIMEOUT_MS, info.readValue()));
    const decoded = decodeSensorInfo(infoBytes);
    if (!decoded.ok) throw new SensorRefused(decoded.fault);
    emit(segment, 'sensor-info', infoBytes);

    const onValue = (): void => {
      if (stream.value !== undefined) {
        emit(segment, 'notification', copyOf(stream.value));
      }
    };
    const onLost = (): void => {
      letGo(segment);
      setState(segment, {
        state: 'lost',
        message: `The ${SEGMENT_WORDS[segment]} sensor is gone. Check its battery and distance, then connect it again.`,
      });
    };
    stream.addEventListener('characteristicvaluechanged', onValue);
    device.addEventListener('gattserverdisconnected', onLost);
    const release = (): void => {
      stream.removeEventListener('characteristicvaluechanged', onValue);
      device.removeEventListener('gattserverdisconnected', onLost);
      gatt.disconnect();
    };
    try {
      await within(OPERATION_TIMEOUT_MS, stream.startNotifications());
    } catch (reason) {
      release();
      throw reason;
    }
    return { device, release };
  };

  return {
    records$: records.asObservable(),
    connections$: connections.asObservable(),
    startTimeline: () => {
      zeroMs = performance.now();
    },
    connect,
    nowUs,
    close: async () => {
      closed = true;
      for (const segment of SEGMENTS) letGo(segment);
      records.complete();
      connections.complete();
    },
  };
}

/** Own bytes: the browser may reuse the view after the handler, and it is a window into a buffer. */
function copyOf(value: DataView): Uint8Array {
  return new Uint8Array(value.buffer, value.byteOffset, value.byteLength).slice();
}

/** The operation's result, or a {@link LinkTimeout} when it takes too long. */
async function within<T>(limitMs: number, operation: Promise<T>): Promise<T> {
  let timer: ReturnType<typeof setTimeout> | undefined;
  const late = new Promise<never>((_resolve, reject) => {
    timer = setTimeout(() => reject(new LinkTimeout()), limitMs);
  });
  try {
    return await Promise.race([operation, late]);
  } finally {
    clearTimeout(timer);
  }
}
