import { SEGMENT_WORDS, type Segment } from '../core/arm/segments.ts';
import type { ControlStatus } from '../core/packets/control.ts';
import type { PacketFault } from '../core/packets/packet-fault.ts';
import type { ConnectionError } from './transport.ts';

/** An operation on a link took longer than we wait. */
export class LinkTimeout extends Error {
  override readonly name = 'LinkTimeout';
}

/** A control request was not answered in time, or the link ended before. */
export class NoAnswer extends Error {
  override readonly name = 'NoAnswer';
}

/** The connection ended while an operation was waiting for it. */
export class LinkEnded extends Error {
  override readonly name = 'LinkEnded';
}

/** What answered cannot be used; `fault` is the decoder's. */
export class SensorRefused extends Error {
  override readonly name = 'SensorRefused';
  readonly fault: PacketFault;

  constructor(fault: PacketFault) {
    super(fault.message);
    this.fault = fault;
  }
}

/** The sensor answered the start with this status. */
export class StartRefused extends Error {
  override readonly name = 'StartRefused';
  readonly status: ControlStatus;

  constructor(status: ControlStatus) {
    super(`start refused: ${status}`);
    this.status = status;
  }
}

/** More notifications came than any sensor of ours sends. */
export class TooFast extends Error {
  override readonly name = 'TooFast';
}

/** Sequence numbers came that fit nothing sent before: the sensor began anew, or counts wrongly. */
export class OutOfLine extends Error {
  override readonly name = 'OutOfLine';
}

/** Whether trying again by itself cannot help. */
export function isFinal(reason: unknown): boolean {
  if (reason instanceof SensorRefused) return reason.fault.code !== 'bad-checksum';
  if (reason instanceof StartRefused) {
    return reason.status === 'mtu-too-small' || reason.status === 'unknown-operation';
  }
  if (reason instanceof TooFast) return true;
  const name = reason instanceof Error || reason instanceof DOMException ? reason.name : '';
  return name === 'SecurityError' || name === 'NotAllowedError';
}

/** Whether a link that was refused may well be made a moment later. */
export function isPassing(reason: unknown): boolean {
  const isNetwork = reason instanceof DOMException && reason.name === 'NetworkError';
  return isNetwork || reason instanceof LinkEnded;
}

/**
 * Names why a link could not be made, and what to do.
 * @param wasChosen whether the coach had already picked a device in the browser's chooser
 * Browsers throw DOMExceptions whose names the Web Bluetooth specification fixes; texts vary, so only names count.
 */
export function explainConnectionFailure(
  reason: unknown,
  segment: Segment,
  wasChosen: boolean,
): ConnectionError {
  const name = reason instanceof Error || reason instanceof DOMException ? reason.name : '';
  if (reason instanceof SensorRefused) {
    const code = reason.fault.code === 'wrong-version' ? 'wrong-version' : 'not-our-sensor';
    return { code, message: `The ${SEGMENT_WORDS[segment]} sensor: ${reason.message}` };
  }
  const sensor = `${SEGMENT_WORDS[segment]} sensor`;
  if (reason instanceof StartRefused) return explainRefusedStart(reason.status, sensor);
  switch (name) {
    case 'TooFast':
      return {
        code: 'too-fast',
        message: `The ${sensor} floods the link with data and was let go. Check its firmware.`,
      };
    case 'OutOfLine':
      return {
        code: 'wrong-sequence',
        message: `The ${sensor} numbers its packets wrongly and was let go. Switch it off and on; if it stays, check its firmware.`,
      };
    case 'NoAnswer':
      return {
        code: 'did-not-start',
        message: `The ${sensor} is connected but does not answer. Switch it off and on, and connect again.`,
      };
    case 'LinkTimeout':
      return {
        code: 'timed-out',
        message: `The ${sensor} did not answer. Bring it closer, switch it off and on, and connect again.`,
      };
    case 'NotFoundError':
    case 'NotSupportedError':
      // A closed chooser and a missing service carry the same name.
      return wasChosen
        ? {
            code: 'not-our-sensor',
            message: `What was chosen for the ${SEGMENT_WORDS[segment]} is not a Reach Funnel sensor. Choose another one.`,
          }
        : {
            code: 'nothing-chosen',
            message: `No sensor was chosen for the ${SEGMENT_WORDS[segment]}. Switch the sensor on and connect again.`,
          };
    case 'SecurityError':
    case 'NotAllowedError':
      return {
        code: 'refused',
        message:
          'The browser refused Bluetooth for this page. Allow it in the site settings, then connect again.',
      };
    case 'InvalidStateError':
      return {
        code: 'no-bluetooth',
        message:
          'Bluetooth seems to be off. Switch it on in the device settings, then connect again.',
      };
    default:
      return {
        code: 'link-failed',
        message: `The link to the ${sensor} failed. Keep it within two metres and connect again.`,
      };
  }
}

function explainRefusedStart(status: ControlStatus, sensor: string): ConnectionError {
  if (status === 'mtu-too-small') {
    return {
      code: 'mtu-too-small',
      message: `This device's Bluetooth carries too little at once for the ${sensor} to start. Use another phone, tablet or adapter.`,
    };
  }
  return {
    code: 'did-not-start',
    message: `The ${sensor} did not start (${status}). Switch it off and on, and connect again.`,
  };
}
