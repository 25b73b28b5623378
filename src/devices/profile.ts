/**
 * Identifiers of our open GATT profile (firmware-protocol/SPEC.md); random version-4 UUIDs.
 * Web Bluetooth wants them in lower case.
 */
export const SERVICE_UUID = 'e56dc5d3-ddf1-4e2e-809c-95af202b8635';
export const STREAM_UUID = '621087d2-908a-41fb-94b7-afb8c0a07d8a';
export const CONTROL_UUID = '75fa51b6-a311-4a1e-b1d8-77960f277b8e';
export const INFO_UUID = '7b5028ed-5086-4b13-8c88-ec121883c6d7';
