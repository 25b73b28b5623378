/**
 * Control operations, firmware-protocol/SPEC.md "Control": a request is written with response, its answer
 * is indicated. Request: opcode u8, tag u8 (any number, echoed), fields. Answer: opcode | 0x80, tag,
 * status u8, fields (only with status ok). Little-endian, exact lengths.
 */
export type ControlRequest =
  | { readonly op: 'start' }
  | { readonly op: 'stop' }
  | {
      readonly op: 'configure';
      readonly rateHz: number;
      readonly gyroRangeDegS: number;
      readonly accelRangeG: number;
    }
  /** Blink for so many seconds; 0 ends it. */
  | { readonly op: 'identify'; readonly seconds: number }
  | { readonly op: 'ping' }
  /** Send packets again that are still in the ring, `count` from `firstSequence` on, wrapping. */
  | { readonly op: 'resend'; readonly firstSequence: number; readonly count: number };

export type ControlOp = ControlRequest['op'];

/** Why a sensor did not do what it was asked, or `ok`. */
export type ControlStatus =
  | 'ok'
  | 'unknown-operation'
  | 'bad-length'
  | 'bad-value'
  /** Below an ATT MTU of 65 a packet holds too few samples: the sensor does not start. */
  | 'mtu-too-small'
  /** Not in this state: configure unless idle, resend unless streaming. */
  | 'wrong-state'
  /** None of the wanted packets is in the ring any more. */
  | 'gone'
  | 'hardware-fault';

export type ControlReply =
  | {
      readonly op: 'start';
      readonly status: 'ok';
      /** Sequence of the next new packet, and the tick now. */
      readonly nextSequence: number;
      readonly tick: number;
    }
  | { readonly op: 'ping'; readonly status: 'ok'; readonly tick: number }
  | {
      readonly op: 'resend';
      readonly status: 'ok';
      /** What will be sent again: the wanted packets that are still there, one run. */
      readonly firstSequence: number;
      readonly count: number;
    }
  | { readonly op: 'stop' | 'configure' | 'identify'; readonly status: 'ok' }
  | { readonly op: ControlOp; readonly status: Exclude<ControlStatus, 'ok'> };
