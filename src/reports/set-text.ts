import { SEGMENT_WORDS, SEGMENTS } from '../core/arm/segments.ts';
import type { LiveView, ScoredSwing } from '../core/pipeline/outputs.ts';
import type { SetDescription } from '../core/recording/set-description.ts';
import type { Condition } from '../core/recording/set-record.ts';
import { textTable } from './text-table.ts';
import { VOID_WORDS } from './void-words.ts';

/**
 * A set as plain text: what it was, each swing, the funnel at every 10 % of the swing, and the
 * sensors. Lengths in cm, angular speeds in degrees per second, times in seconds since the start
 * of the set; every column names its unit.
 * @param view after the last record, live or in review
 * @param description head of the set
 * @returns lines ending in '\n'
 */
export function setText(view: LiveView, description: SetDescription): string {
  return `${[
    head(description),
    readingNote(view),
    ...blockLines(view.blocks),
    swingTable(view),
    leftOut(view.swings),
    funnelTable(view),
    sensorTable(view),
  ].join('\n\n')}\n`;
}

function head(description: SetDescription): string {
  const lengths = SEGMENTS.map(
    (segment) => `${SEGMENT_WORDS[segment]} ${cm(description.lengthsM[segment])} cm`,
  );
  return [
    `Set ${description.setId} (${description.source}), begun ${new Date(description.startedAtMs).toISOString()}`,
    `Player ${description.player}, ${description.handedness}-handed; implement: ${description.implement}; ball: ${description.ball}`,
    `Lengths: ${lengths.join(', ')}`,
    ...estimateNote(description),
  ].join('\n');
}

/** Whoever reads a reach must know when the arm was not measured. */
function estimateNote({ armEstimatedFromStatureM: statureM }: SetDescription): string[] {
  if (statureM === undefined) return [];
  return [
    `Upper arm and forearm are estimated from a stature of ${cm(statureM)} cm by adult proportions, not measured:`,
    'every reach may be off alike by as much as they are; spread hardly changes.',
  ];
}

function readingNote({ isReview }: LiveView): string {
  return isReview
    ? 'Read with hindsight, headings smoothed over the whole set: reaches may differ by millimetres from those seen live.'
    : 'As seen live: each swing with what was known when it ended.';
}

/** Nothing to tell apart when the whole set was one. */
function blockLines(blocks: readonly Condition[]): string[] {
  if (blocks.length === 1) return [];
  const lines = blocks.map((block, i) => `  block ${i + 1}: ${conditionWords(block)}`);
  return [`Blocks (n = ${blocks.length})\n${lines.join('\n')}`];
}

function conditionWords({ implement, ball, feed }: Condition): string {
  return [implement, ball, ...(feed === '' ? [] : [feed])].join(', ');
}

function swingTable({ swings, blocks }: LiveView): string {
  if (swings.length === 0) return 'Swings: none was found.';
  const isDivided = blocks.length > 1;
  const rows = swings.map(({ swing, block, points, discarded, endsMoved }) => {
    const isVoid = swing.voidReason !== null;
    return [
      String(swing.index + 1),
      ...(isDivided ? [String(block + 1)] : []),
      (swing.contactTimeUs / 1e6).toFixed(3),
      isVoid ? '-' : cm(swing.reachM),
      isVoid ? '-' : cm(swing.reachStandardErrorM),
      swing.startTimeUs === swing.contactTimeUs
        ? '-'
        : ((swing.contactTimeUs - swing.startTimeUs) / 1000).toFixed(0),
      degrees(swing.peakImplementRateRadS),
      degrees(swing.contactImplementRateRadS),
      points === null ? '-' : String(points),
      isVoid ? 'void' : discarded ? 'discarded' : endsMoved ? 'ends moved' : '',
    ];
  });
  const columns = [
    'swing',
    ...(isDivided ? ['block'] : []),
    'contact s',
    'reach cm',
    'std. error cm',
    'duration ms',
    'peak deg/s',
    'at contact deg/s',
    'points',
    '',
  ];
  return `Swings (n = ${swings.length})\n${textTable(columns, rows)}`;
}

function leftOut(swings: readonly ScoredSwing[]): string {
  const lines = swings.flatMap(({ swing, discarded, discardReason }) => {
    if (swing.voidReason !== null) {
      return [`  swing ${swing.index + 1}: void, ${VOID_WORDS[swing.voidReason]}`];
    }
    const why = discardReason === null ? '' : `, ${discardReason}`;
    return discarded ? [`  swing ${swing.index + 1}: discarded by the coach${why}`] : [];
  });
  return lines.length === 0
    ? 'Left out of the funnel: no swing.'
    : `Left out of the funnel (n = ${lines.length})\n${lines.join('\n')}`;
}

function funnelTable({ funnel, blocks }: LiveView): string {
  const of = blocks.length === 1 ? '' : `, ${conditionWords(blocks.at(-1)!)}`;
  const title = `Funnel: spread of reach across swings${of} (n = ${funnel.n})`;
  if (funnel.n < 2) {
    return `${title}\n  A spread needs at least 2 swings with a reach: ${2 - funnel.n} more.`;
  }
  const rows = Array.from({ length: 11 }, (_, tenth) => {
    const point = 10 * tenth;
    return [
      String(point),
      cm(funnel.meanM[point]!),
      cm(funnel.spreadM[point]!),
      cm(funnel.floorM[point]!),
    ];
  });
  const columns = ['swing time %', 'mean reach cm', 'SD cm', 'measurement floor cm'];
  return `${title}\n${textTable(columns, rows)}`;
}

function sensorTable(view: LiveView): string {
  const rows = SEGMENTS.map((segment) => {
    const health = view.sensors[segment];
    return [
      SEGMENT_WORDS[segment],
      number(health.rateHz, 1),
      String(health.samples),
      String(health.packets),
      String(health.lostPackets),
      String(health.refusedPackets),
      String(health.clippedSamples),
      number(health.delaySpreadMs, 1),
    ];
  });
  const columns = [
    'sensor',
    'rate Hz',
    'samples',
    'packets',
    'lost',
    'refused',
    'clipped samples',
    'delay spread ms',
  ];
  return `Sensors\n${textTable(columns, rows)}`;
}

function cm(metres: number): string {
  return number(100 * metres, 2);
}

function degrees(rad: number): string {
  return number((rad * 180) / Math.PI, 0);
}

/** NaN means "not known" throughout the program, and is never shown as a number. */
function number(value: number, digits: number): string {
  return Number.isFinite(value) ? value.toFixed(digits) : '-';
}
