import { describe, expect, it } from 'vitest';
import { createScoreBook, noteEvent, scoredSwing } from '../../src/core/pipeline/score-book.ts';
import type { SetEvent } from '../../src/core/recording/set-record.ts';
import { createCoachLog, scoreTarget } from '../../src/screens/court/coach-log.ts';
import { courtSwing } from './court-swings.ts';

/** A log whose events go to the book that reads them back from a file: both must always agree. */
function watchedLog() {
  const events: SetEvent[] = [];
  const book = createScoreBook();
  let nowUs = 1e9;
  const log = createCoachLog((event) => {
    events.push(event);
    noteEvent(book, event, ++nowUs);
    return nowUs;
  });
  const shown = (number: number) => log.applyTo([courtSwing(number)])[0]!;
  const kept = (number: number) => scoredSwing(book, courtSwing(number));
  const agree = (number: number): void => {
    const { points, discarded, landingM } = shown(number);
    expect(kept(number)).toMatchObject({ points, discarded, landingM });
  };
  return { log, events, book, shown, kept, agree };
}

describe('the coach log', () => {
  it('shows at once what the file will say, and undo takes back the last word, whatever it was', () => {
    const { log, book, shown, agree } = watchedLog();
    log.score(shown(1), 6);
    log.score(shown(1), 10);
    log.land(shown(2), { beyondM: 0.4, leftM: -0.2 }, 8);
    log.discard(shown(2));
    log.note('grip changed');
    const states: (readonly [number | null, number | null, boolean])[] = [];
    const words: (string | null)[] = [];
    for (;;) {
      states.push([shown(1).points, shown(2).points, shown(2).discarded]);
      words.push(log.undoes.value);
      agree(1);
      agree(2);
      if (log.undoes.value === null) break;
      log.undo();
    }
    expect(words).toEqual([
      'note',
      'discard of swing 2',
      'landing of swing 2',
      'score of swing 1',
      'score of swing 1',
      null,
    ]);
    expect(states).toEqual([
      [10, 8, true],
      [10, 8, true],
      [10, 8, false],
      [10, null, false],
      [6, null, false],
      [null, null, false],
    ]);
    expect(book.notes.size).toBe(0);
    expect(shown(2).landingM).toBeNull();
  });

  it('points by eye replace a landing, and undo brings it back', () => {
    const { log, shown, agree } = watchedLog();
    log.land(shown(1), { beyondM: 1, leftM: 0.5 }, 4);
    log.score(shown(1), 10);
    expect(shown(1)).toMatchObject({ points: 10, landingM: null });
    agree(1);
    log.undo();
    expect(shown(1)).toMatchObject({ points: 4, landingM: [1, 0.5] });
    agree(1);
  });

  it('a score said before a discard is still there when the discard is undone', () => {
    const { log, shown } = watchedLog();
    log.score(shown(3), 8);
    log.discard(shown(3));
    expect(scoreTarget(log.applyTo([courtSwing(2), courtSwing(3)]))).toBeNull();
    log.undo();
    expect(shown(3)).toMatchObject({ points: 8, discarded: false });
  });
});

describe('the swing a tap means', () => {
  it('is the latest that met a ball, not a practice swing after it', () => {
    const air = courtSwing(3);
    const swings = [
      courtSwing(1),
      courtSwing(2),
      { ...air, swing: { ...air.swing, voidReason: 'air-swing' as const } },
    ];
    expect(scoreTarget(swings)?.swing.index).toBe(1);
  });

  it('is none once the latest is discarded: the one before must not be rescored by mistake', () => {
    expect(scoreTarget([courtSwing(1), courtSwing(2, { discarded: true })])).toBeNull();
  });
});
