import { type PerSegment, SEGMENT_WORDS, SEGMENTS, type Segment } from '../../core/arm/segments.ts';
import type { SensorHealth } from '../../core/pipeline/outputs.ts';
import type { ConnectionState } from '../../devices/transport.ts';

/** What the strip shows for one sensor. */
export interface SensorStatus {
  readonly level: 'ok' | 'waiting' | 'trouble';
  /** A few words for the strip. */
  readonly short: string;
  /** The whole story and what to do; null when there is nothing to do. */
  readonly advice: string | null;
}

/** Silence of one sensor, while others speak, that counts as trouble. Radio delays reach 60 ms. */
const SILENT_US = 1_500_000;
/** Share of packets lost that leaves gaps long enough to void swings. */
const LOSSY_SHARE = 0.05;

/** Fewer lost packets say nothing about a share. */
const LOSSY_PACKETS = 5;

/** Below this a battery may not last the set, percent. */
const LOW_BATTERY = 10;

/** What is known about one sensor. */
export interface SensorEvidence {
  readonly segment: Segment;
  readonly connection: ConnectionState;
  /** Health now; null before the first live view. */
  readonly now: SensorHealth | null;
  /** Health a few seconds ago, to judge recent loss instead of that of the whole set. */
  readonly earlier: SensorHealth | null;
  /** Host time of the live view that `now` came from, microseconds. */
  readonly viewUs: number;
}

/** State of one sensor from its link and its bytes. */
export function judgeSensor(evidence: SensorEvidence): SensorStatus {
  const { segment, connection, now, earlier, viewUs } = evidence;
  const name = SEGMENT_WORDS[segment];
  if (connection.state === 'absent') return { level: 'waiting', short: 'connect', advice: null };
  if (connection.state === 'connecting')
    return { level: 'waiting', short: 'connecting', advice: null };
  if (connection.state === 'lost') {
    const short = connection.attempt === 1 ? 'lost' : `lost, try ${connection.attempt}`;
    return { level: 'trouble', short, advice: connection.message };
  }
  if (connection.state === 'failed') {
    return { level: 'trouble', short: 'failed', advice: connection.error.message };
  }
  const fault = now === null ? null : recentFault(now, earlier);
  if (fault !== null) {
    const advice = `The ${name} sensor sends data this program cannot read: ${fault}`;
    return { level: 'trouble', short: 'unreadable', advice };
  }
  if (now === null || now.lastArrivalUs < 0) {
    return { level: 'waiting', short: 'no data yet', advice: null };
  }
  if (viewUs - now.lastArrivalUs > SILENT_US) {
    const advice = `No data from the ${name} sensor. Check its battery and distance.`;
    return { level: 'trouble', short: 'silent', advice };
  }
  const lost = now.lostPackets - (earlier?.lostPackets ?? 0);
  const came = now.packets - (earlier?.packets ?? 0);
  if (lost >= LOSSY_PACKETS && lost > LOSSY_SHARE * (lost + came)) {
    const advice = `The ${name} sensor is losing data. Move the phone closer to the player.`;
    return { level: 'trouble', short: 'losing data', advice };
  }
  const { batteryPercent } = connection;
  if (batteryPercent === null) return { level: 'ok', short: 'good', advice: null };
  if (batteryPercent < LOW_BATTERY) {
    const advice = `The battery of the ${name} sensor is at ${batteryPercent} %. Charge it after this set.`;
    return { level: 'trouble', short: `battery ${batteryPercent} %`, advice };
  }
  return { level: 'ok', short: `good, ${batteryPercent} %`, advice: null };
}

/** How good a sensor's link and clock are, for the one who fits it. */
export function linkWords(health: SensorHealth | null): string {
  if (health === null || health.packets === 0) return 'No data yet';
  const { lostPackets, waitingPackets, clockHalfWidthMs, delaySpreadMs } = health;
  const clock = Number.isFinite(clockHalfWidthMs)
    ? `clock to ${clockHalfWidthMs.toFixed(0)} ms`
    : 'clock not known yet';
  const radio = Number.isFinite(delaySpreadMs)
    ? `radio spread ${delaySpreadMs.toFixed(0)} ms`
    : null;
  const fetched = waitingPackets > 0 ? `fetching ${waitingPackets}` : null;
  const lost = lostPackets === 0 ? 'none lost' : `${lostPackets} packets lost`;
  const words = [clock, radio, fetched, lost].filter((part) => part !== null).join(', ');
  return words[0]!.toUpperCase() + words.slice(1);
}

/** Why packets are refused now; null when that is rare: one damaged packet is sent again and forgotten. */
function recentFault(now: SensorHealth, earlier: SensorHealth | null): string | null {
  if (now.lastArrivalUs < 0) return now.lastFault;
  const refused = now.refusedPackets - (earlier?.refusedPackets ?? 0);
  const came = now.packets - (earlier?.packets ?? 0);
  const isOften = refused >= LOSSY_PACKETS && refused > LOSSY_SHARE * (refused + came);
  return isOften ? now.lastFault : null;
}

/** The advice to show: that of the first sensor in trouble, from the shoulder outwards. */
export function firstAdvice(statuses: PerSegment<SensorStatus>): string | null {
  for (const segment of SEGMENTS) {
    const { advice } = statuses[segment];
    if (advice !== null) return advice;
  }
  return null;
}
