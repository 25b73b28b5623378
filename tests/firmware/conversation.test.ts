import { expect, it } from 'vitest';
import { describeWithC } from './c-host.ts';
import { type Conversation, converse, type Options, type Step } from './conversation.ts';

const FLAG_RESENT = 4;

/** Lines of C as items: `packets` and `answers` list any number, `read-info` gives one. */
function itemsOf(step: Step, output: readonly string[]): string[] {
  return step.lines
    .flatMap((line) => output[line]!.split(' '))
    .filter((word) => word !== 'packets' && word !== 'answers');
}

const isResent = (hex: string) => (Number.parseInt(hex.slice(2, 4), 16) & FLAG_RESENT) !== 0;

/**
 * What is compared: answers and new packets in their order; packets sent again as a set, since
 * VirtualFirmware hands them out in the order of the requests, and C paced and oldest first.
 */
function comparable(items: readonly string[]) {
  return {
    inOrder: items.filter((hex) => !isResent(hex)),
    again: items.filter(isResent).sort(),
  };
}

/** Sequences that do not come after the one before, among packets sent again. */
function outOfOrder(items: readonly string[]): number[] {
  const sequences = items.filter(isResent).map((hex) => Buffer.from(hex, 'hex').readUInt16LE(2));
  return sequences.filter((sequence, i) => {
    return i > 0 && ((sequence - sequences[i - 1]!) & 0xffff) >= 0x8000;
  });
}

const plain = { hasMagnetometer: false, hasGaps: false, events: 80 };
const kinds: readonly (Omit<Options, 'seed'> & { readonly name: string })[] = [
  { ...plain, name: 'a ring of 40', ring: 40 },
  { ...plain, name: 'a ring of 7', ring: 7 },
  { ...plain, name: 'no ring', ring: 0 },
  { ...plain, name: 'a magnetometer', ring: 25, hasMagnetometer: true },
  { ...plain, name: 'gaps and clipping', ring: 40, hasGaps: true },
  { ...plain, name: 'all of it', ring: 60, hasMagnetometer: true, hasGaps: true },
];
const SEEDS = [1, 2, 3, 4, 5];

// Made once for both builds of the C side.
const conversations = new Map<string, Conversation[]>(
  kinds.map((kind, i) => [
    kind.name,
    SEEDS.map((seed) => converse({ ...kind, seed: 100 * i + seed })),
  ]),
);

it('the conversations meet every answer, and what was lost', () => {
  const steps = [...conversations.values()].flat().flatMap((conversation) => conversation.steps);
  const answers = steps.filter(({ what }) => what.startsWith('answer'));
  const statuses = new Set(answers.map(({ expected }) => expected[0]!.slice(4, 6)));
  // All but 7: VirtualFirmware's part never fails.
  expect([...statuses].sort()).toEqual(['00', '01', '02', '03', '04', '05', '06']);
  const packets = steps.filter(({ what }) => /^packets|^new/.test(what)).flatMap((s) => s.expected);
  expect(answers.length).toBeGreaterThan(2000);
  expect(packets.filter((hex) => !isResent(hex)).length).toBeGreaterThan(12_000);
  expect(packets.filter(isResent).length).toBeGreaterThan(3000);
});

describeWithC('the C sensor beside VirtualFirmware', (host) => {
  it.each(kinds)('answers and sends the same with $name', ({ name }) => {
    for (const { commands, steps } of conversations.get(name)!) {
      const output = host.run(commands);
      for (const step of steps) {
        const items = itemsOf(step, output);
        if (step.what.startsWith('packets') || step.what.startsWith('new')) {
          expect(comparable(items), step.what).toEqual(comparable(step.expected));
          expect(outOfOrder(items), step.what).toEqual([]);
        } else expect(items, step.what).toEqual(step.expected);
      }
    }
  });
});
