import type { ClockMap } from '../clocks/clock-map.ts';
import type { SensorTrack, TrackReading } from '../orientation/sensor-track.ts';

// The three sensors of one arm: upper arm, forearm, implement.

export type ArmClocks = readonly [ClockMap, ClockMap, ClockMap];
export type ArmTracks = readonly [SensorTrack, SensorTrack, SensorTrack];
/** All at one instant. */
export type ArmReadings = readonly [TrackReading, TrackReading, TrackReading];
