import { beforeEach, describe, expect, it } from 'vitest';
import { ballOfEntry, entryOfBall, NEW_BALL } from '../../src/screens/kit/ball-entry.ts';
import {
  changedEntry,
  entryOfImplement,
  type ImplementRow,
  implementOfEntry,
  NEW_IMPLEMENT,
} from '../../src/screens/kit/implement-entry.ts';
import { createKitModel } from '../../src/screens/kit/kit-model.ts';
import { implementWords, withError } from '../../src/screens/kit/kit-words.ts';
import { fakeClient } from './fake-client.ts';

const inertia = { inertiaKgM2: 0.02814, standardError: 0.0003, axisM: 0.1, measuredMs: 900 };
const racket: ImplementRow = {
  implement: 'short racket',
  lengthM: 0.45,
  sensorM: 0.13,
  totalLengthM: 0.58,
  massKg: 0.2425,
  balancePointM: 0.294,
  inertia,
  seenMs: 2000,
};
const swung: ImplementRow = { implement: 'bat', lengthM: 0.6, sensorM: 0.13, seenMs: 1000 };

describe('kit as typed', () => {
  it('comes back as known', () => {
    expect(implementOfEntry(entryOfImplement(racket), 2000)).toEqual(racket);
    expect(implementOfEntry(entryOfImplement(swung), 1000)).toEqual(swung);
    const ball = { ball: 'soft', diameterM: 0.04, compression: 'two dots', seenMs: 5 };
    expect(ballOfEntry(entryOfBall(ball), 5)).toEqual(ball);
    expect(ballOfEntry({ ...NEW_BALL, ball: ' soft ' }, 6)).toEqual({ ball: 'soft', seenMs: 6 });
  });

  it('lets go of an inertia that was measured with another mass or length', () => {
    const entry = entryOfImplement(racket);
    expect(changedEntry(entry, { massG: 250 }).inertia).toBeNull();
    expect(changedEntry(entry, { balancePointCm: 29.5 }).inertia).toBeNull();
    expect(changedEntry(entry, { wristToSweetSpotCm: 44 }).inertia).toEqual(inertia);
    expect(changedEntry(entry, { massG: 242.5 }).inertia).toEqual(inertia);
  });

  it('is told in centimetres, grams and kg m², the error to two digits', () => {
    expect(implementWords(racket)).toEqual([
      '58 cm long, 243 g, balances at 29.4 cm',
      'sweet spot 45 cm from the wrist',
      '0.02814 ± 0.00059 kg m² about 10 cm from the butt end',
    ]);
    expect(implementWords(swung)).toEqual(['sweet spot 60 cm from the wrist']);
    expect(withError(1.27261, 0.0141)).toBe('1.273 ± 0.014');
    expect(withError(153.2, 21)).toBe('153 ± 21');
  });
});

describe('the Kit screen', () => {
  let worker: ReturnType<typeof fakeClient>;
  let model: ReturnType<typeof createKitModel>;

  beforeEach(() => {
    worker = fakeClient();
    model = createKitModel(worker.client, () => 3000);
    const library = { players: [], implements: [racket, swung], balls: [] };
    worker.answer({ type: 'library', library });
  });

  it('asks for kit and calibrations', () => {
    expect(worker.asked).toEqual([{ type: 'list-library' }, { type: 'list-calibrations' }]);
    worker.answer({ type: 'calibrations', calibrations: [] });
    expect(model.calibrations.value).toEqual([]);
  });

  it('keeps what was edited, under its old name and the new time', () => {
    model.enterImplement(racket);
    model.changeImplement({ massG: 250 });
    model.save();
    const { inertia: _, ...unmeasured } = racket;
    const implement = { ...unmeasured, massKg: 0.25, seenMs: 3000 };
    expect(worker.asked.at(-1)).toEqual({ type: 'keep-implement', implement });
    expect(model.form.value).toBeNull();
  });

  it('does not write over another implement, nor keep one that balances in the air', () => {
    model.enterImplement();
    model.changeImplement({ implement: ' bat', wristToSweetSpotCm: 50 });
    expect(model.problem.value).toContain('There is bat already');
    model.save();
    model.changeImplement({ implement: 'bat 2', totalLengthCm: 60, balancePointCm: 61 });
    expect(model.problem.value).toContain('beyond the whole length');
    model.save();
    expect(worker.asked).toHaveLength(2);
    model.changeImplement({ balancePointCm: 40 });
    model.save();
    expect(worker.asked).toHaveLength(3);
  });

  it('forgets what is open', () => {
    model.enterImplement(swung);
    model.forget();
    expect(worker.asked.at(-1)).toEqual({ type: 'forget-implement', implement: 'bat' });
    model.enterBall({ ball: 'soft', seenMs: 0 });
    model.changeBall({ compression: 'slow' });
    model.forget();
    expect(worker.asked.at(-1)).toEqual({ type: 'forget-ball', ball: 'soft' });
    expect(NEW_IMPLEMENT.inertia).toBeNull();
  });
});
