import { gzipSync } from 'node:zlib';
import { beforeEach, describe, expect, it } from 'vitest';
import { createPipeline, stepPipeline, viewPipeline } from '../../src/core/pipeline/pipeline.ts';
import { readSet } from '../../src/core/recording/set-reader.ts';
import type { TableMapping } from '../../src/core/recording/table-mapping.ts';
import { StorageError } from '../../src/storage/storage-error.ts';
import type { FromWorker, ToWorker } from '../../src/worker/contract.ts';
import { freeSetId } from '../../src/worker/free-set-id.ts';
import type { SetPipeline, SetStorage } from '../../src/worker/set-ports.ts';
import { SetSession } from '../../src/worker/set-session.ts';
import { sampleDescription } from '../recording/sample-set.ts';
import { ODD_HEADER, oddCsv, simulatedTable } from '../recording/simulated-table.ts';

/** Storage in memory that can be full. */
function memoryStorage() {
  const files = new Map<string, Uint8Array>();
  const storage = {
    files,
    isFull: false,
    async create(setId: string) {
      const parts: Uint8Array[] = [];
      const read = () => new Uint8Array(Buffer.concat(parts));
      files.set(setId, read());
      return {
        append: (part: Uint8Array) => {
          if (storage.isFull) throw new StorageError('storage-full', 'The storage is full.');
          parts.push(part.slice());
        },
        flush: () => void files.set(setId, read()),
        read,
        close: () => {},
      };
    },
    read: async (setId: string) => files.get(setId)!,
    changeTail: async () => {},
    remove: async (setId: string) => void files.delete(setId),
    list: async () =>
      [...files.keys()].map((setId) => ({
        ...{ setId, startedAtMs: 0, source: 'imported' as const, player: '', implement: '' },
        ...{ ball: '', swings: 0, sizeBytes: 0 },
      })),
    remember: async () => {},
    library: async () => ({ players: [], implements: [], balls: [] }),
    learn: async () => {},
    keepPlayer: async () => {},
    forgetPlayer: async () => {},
    keepState: async () => {},
    keptState: async () => undefined,
  };
  return storage satisfies SetStorage;
}

const pipeline: SetPipeline = {
  build: 'test',
  start: (description) => {
    const state = createPipeline(description);
    return {
      step: (record) => void stepPipeline(state, record),
      view: () => viewPipeline(state),
      finished: () => state,
      review: () => viewPipeline(state),
      measures: () => [],
      swingsLike: () => [],
      trace: () => null,
    };
  },
  resume: () => {
    throw new Error('nothing is kept');
  },
};

let posted: FromWorker[];
let storage: ReturnType<typeof memoryStorage>;
let session: SetSession;
const send = (message: ToWorker) => session.receive(message);

function of<T extends FromWorker['type']>(type: T) {
  return posted.filter(
    (message): message is Extract<FromWorker, { type: T }> => message.type === type,
  );
}
const refusal = () => of('table-refused').at(-1)?.reason;

beforeEach(() => {
  posted = [];
  storage = memoryStorage();
  session = new SetSession((message) => posted.push(message), storage, pipeline);
});

const SWINGS = 3;
const table = simulatedTable(SWINGS);
const csv = oddCsv(table);
/** 2024-05-31 10:00 UTC. */
const CHANGED_MS = Date.UTC(2024, 4, 31, 10);
const fileOf = (content: string | Uint8Array, name = 'lab day.csv') =>
  new File([typeof content === 'string' ? content : Uint8Array.from(content)], name, {
    lastModified: CHANGED_MS,
  });

const axes = (place: string, kind: string) =>
  ['X', 'Y', 'Z'].map((axis) => `${place} ${kind.replace('*', axis)}`) as [string, string, string];
const sensor = (place: string) => ({
  gyro: axes(place, 'Gyr * (deg/s)'),
  accel: axes(place, 'Acc * (g)'),
});
const mapping: TableMapping = {
  delimiter: ';',
  time: 'Time [ms]',
  timeUnit: 'ms',
  gyroUnit: 'deg/s',
  accelUnit: 'g',
  sensors: {
    upperArm: sensor('Biceps'),
    forearm: sensor('Wrist'),
    implement: sensor('Racquet'),
  },
  zeroRequestedAt: [1000 * table.zeroAtS],
  player: 'Player 7',
  handedness: 'right',
  lengthsM: table.description.lengthsM,
  sensorFromJointM: table.description.sensorFromJointM,
  implement: 'racket',
  ball: 'standard',
  sweetSpotBand: null,
  scoreSteps: [1, 0],
};

const importTable = (file: File, isCheck: boolean, change: Partial<TableMapping> = {}) =>
  send({
    type: 'import-table',
    file,
    mapping: { ...mapping, ...change },
    isCheck,
    programVersion: '0.1.0',
  });

describe('a table', () => {
  it('is previewed from its beginning alone, packed or not', async () => {
    for (const file of [fileOf(csv), fileOf(gzipSync(csv), 'lab.csv.gz')]) {
      await send({ type: 'preview-table', file, delimiter: null });
    }
    const [plain, packed] = of('table-preview').map(({ preview }) => preview);
    expect(plain!.header).toEqual(ODD_HEADER);
    expect(packed).toEqual(plain);
  });

  it('is checked without being stored: swings and poses are found as they were simulated', async () => {
    await importTable(fileOf(csv), true);
    const [{ check }] = of('table-checked') as [Extract<FromWorker, { type: 'table-checked' }>];
    expect(check).toMatchObject({ rows: table.rows.length, swings: SWINGS, reaches: SWINGS });
    expect(check.zero.phase).toBe('zeroed');
    expect(check.report.doubts).toEqual([]);
    expect(storage.files.size).toBe(0);
  });

  it('without a time for the poses has swings without a reach', async () => {
    await importTable(fileOf(csv), true, { zeroRequestedAt: [] });
    expect(of('table-checked')[0]!.check).toMatchObject({ swings: SWINGS, reaches: 0 });
  });

  it('becomes a whole set, named after its file, that is read as the simulated one', async () => {
    await importTable(fileOf(csv), false);
    expect(of('table-imported')).toEqual([{ type: 'table-imported', setId: 'lab-day' }]);
    expect(of('sets')).toHaveLength(1);
    const result = readSet(storage.files.get('lab-day')!);
    if (!result.ok) throw new Error(result.error.message);
    expect(result.set.complete).toBe(true);
    expect(result.set.description).toMatchObject({
      source: 'imported',
      player: 'Player 7',
      startedAtMs: CHANGED_MS,
    });
    const swingsOf = ({ records, description }: Pick<typeof table, 'records' | 'description'>) => {
      const run = pipeline.start(description);
      for (const record of records) run.step(record);
      return run.view().swings.map(({ swing }) => swing);
    };
    const imported = swingsOf(result.set);
    const simulated = swingsOf(table);
    expect(imported).toHaveLength(SWINGS);
    imported.forEach(({ reachM, contactTimeUs }, i) => {
      // Values are rounded to int16 once more, contacts to the next sample of 5 ms.
      expect(Math.abs(reachM - simulated[i]!.reachM)).toBeLessThan(0.001);
      expect(Math.abs(contactTimeUs - simulated[i]!.contactTimeUs)).toBeLessThan(5000);
    });
  });

  it('brought in twice is two sets', async () => {
    for (let time = 0; time < 2; time++) await importTable(fileOf(csv), false);
    expect([...storage.files.keys()]).toEqual(['lab-day', 'lab-day-2']);
  });

  it('leaves nothing when storage is full', async () => {
    storage.isFull = true;
    await importTable(fileOf(csv), false);
    expect(storage.files.size).toBe(0);
    expect(of('trouble')[0]!.trouble.code).toBe('storage-full');
    expect(of('table-imported')).toEqual([]);
  });

  it('waits until a running set has ended', async () => {
    await send({ type: 'begin-set', description: sampleDescription });
    await importTable(fileOf(csv), false);
    await send({ type: 'preview-table', file: fileOf(csv), delimiter: null });
    expect(of('trouble').map(({ trouble }) => trouble.code)).toEqual([
      'not-changed',
      'not-changed',
    ]);
    expect([...storage.files.keys()]).toEqual([sampleDescription.setId]);
  });
});

describe('what cannot be brought in is explained and not stored:', () => {
  const lines = csv.split('\r\n');
  const withLine = (place: number, line: string) => lines.with(place, line).join('\r\n');

  it.each<[string, string | Uint8Array, Partial<TableMapping>, RegExp]>([
    ['a wrong unit', csv, { accelUnit: 'm/s^2' }, /unit seems to be g/],
    ['degrees taken for radians', csv, { gyroUnit: 'rad/s' }, /more than any sensor measures/],
    [
      'a wrong time unit',
      csv,
      { timeUnit: 's' },
      /rows come at 0.200 per second.*"Unit of the time"/,
    ],
    ['a missing column', csv, { time: 'Time' }, /no column 'Time'. Nearest: Time \[ms\]/],
    ['a wrong delimiter', csv, { delimiter: ',' }, /no column/],
    ['a cell that is no number', withLine(40, lines[40]!.replace(/;[^;]*$/, ';?')), {}, /Line 41/],
    ['a row that lacks cells', withLine(9, '1;2'), {}, /Line 10 has 2 cells/],
    ['a line without end', `${csv}${'1'.repeat(1e6)}`, {}, /longer than 256 thousand/],
    ['a million columns', `${'a;'.repeat(1e6)}\n`, {}, /Line 1 is longer/],
    ['a zero byte', `${csv}\0`, {}, /binary/],
    ['no UTF-8', Buffer.concat([Buffer.from(csv), Buffer.of(0xff, 0xfe)]), {}, /no text in UTF-8/],
    ['a packed file that is cut', gzipSync(csv).subarray(0, 5000), {}, /damaged/],
    ['nothing', '', {}, /header|column|rows/],
    [
      'a length that is none',
      csv,
      { lengthsM: { upperArm: 0, forearm: 1, implement: 1 } },
      /lengthsM/,
    ],
  ])('%s', async (_, content, change, message) => {
    await importTable(fileOf(content), false, change);
    expect(refusal()).toMatch(message);
    expect(refusal()!.length).toBeLessThan(700);
    expect(storage.files.size).toBe(0);
    expect(of('trouble')).toEqual([]);
  });

  it('a packed file that grows without end is left early', async () => {
    // 60 MB of zero bytes in 60 kB: told at the first piece.
    await importTable(fileOf(gzipSync(new Uint8Array(6e7)), 'bomb.csv.gz'), false);
    expect(refusal()).toMatch(/binary/);
  });
});

describe('a mapping', () => {
  it('that was saved is read back', async () => {
    await send({ type: 'read-mapping', file: fileOf(JSON.stringify(mapping), 'mapping.json') });
    expect(of('table-mapping')[0]!.mapping).toEqual(mapping);
  });

  it.each([
    ['no JSON', 'gyroUnit', /not JSON/],
    ['another JSON', '[]', /must be an object/],
    ['a huge one', ' '.repeat(2 ** 21), /too large/],
  ])('that is none is refused: %s', async (_, text, message) => {
    await send({ type: 'read-mapping', file: fileOf(text, 'mapping.json') });
    expect(refusal()).toMatch(message);
  });
});

describe('freeSetId', () => {
  it.each([
    ['swings 3.csv', [], 'swings-3'],
    ['Zoë.TXT.gz', [], 'Zoe'],
    ['<img src=x onerror=alert(1)>.csv', [], 'img-src-x-onerror-alert-1'],
    ['../../etc/passwd', [], 'etc-passwd'],
    ['日本.csv', [], 'table'],
    ['a.csv', ['A', 'a-2'], 'a-3'],
    [`${'x'.repeat(300)}.csv`, ['x'.repeat(70)], `${'x'.repeat(70)}-2`],
  ])('%s', (name, taken, setId) => {
    expect(freeSetId(name, taken)).toBe(setId);
  });
});
