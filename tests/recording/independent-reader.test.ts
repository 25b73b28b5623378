import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { expect, it } from 'vitest';
import { SET_CHANNELS, topicOf } from '../../src/core/recording/set-file-format.ts';
import { readSet } from '../../src/core/recording/set-reader.ts';
import type { SetRecord } from '../../src/core/recording/set-record.ts';
// Made by tests/recording/read-demo-mcap.py with the MCAP library of Python; version and interpreter are in it.
import reference from './demo-set.reference.json' with { type: 'json' };

const sha256 = (parts: Iterable<Uint8Array | string>): string => {
  const hash = createHash('sha256');
  for (const part of parts) hash.update(part);
  return hash.digest('hex');
};

const nsOf = ({ hostTimeUs }: SetRecord): number => Math.round(hostTimeUs * 1000);

it('Python’s MCAP library finds in a demo set what our reader finds, byte for byte', () => {
  const file = readFileSync(`recorded-streams/${reference.file}`);
  expect(sha256([file]), 'the demo has changed: run read-demo-mcap.py again').toBe(
    reference.fileSha256,
  );
  const result = readSet(file);
  if (!result.ok) throw new Error(result.error.message);
  const { description, records, complete } = result.set;
  expect(complete).toBe(true);
  expect(description.setId).toBe(reference.setId);
  const found = Object.fromEntries(
    SET_CHANNELS.map(topicOf).map((topic) => [topic, summaryOf(topic, records)]),
  );
  for (const [topic, { dataSha256, ...seen }] of Object.entries(reference.topics)) {
    expect({ topic, ...found[topic] }).toMatchObject({ topic, count: seen.count });
    expect(found[topic]).toMatchObject({ firstNs: seen.firstNs, lastNs: seen.lastNs });
    // Events are JSON: ours come back as objects, with the fields in the order they were written.
    expect(found[topic]?.dataSha256).toBe(dataSha256);
  }
  const order = records.map((record, i) => `${i} ${nsOf(record)} ${topicOf(record)}\n`);
  expect(sha256(order)).toBe(reference.orderSha256);
});

function summaryOf(topic: string, records: readonly SetRecord[]) {
  const those = records.filter((record) => topicOf(record) === topic);
  return {
    count: those.length,
    firstNs: those.length === 0 ? null : nsOf(those[0]!),
    lastNs: those.length === 0 ? null : nsOf(those.at(-1)!),
    dataSha256: sha256(
      those.map((record) =>
        record.kind === 'event' ? JSON.stringify(record.event) : record.bytes,
      ),
    ),
  };
}
