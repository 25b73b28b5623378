import { unavailableWords } from '../../core/measures/thresholds.ts';
import type { MeasureTrend, TrendSubject } from '../../core/measures/trend.ts';
import { isUnavailable } from '../../core/statistics/estimate.ts';
import type { ConditionHistory, DayPlayed } from '../../worker/contract.ts';
import { Frame, type Tick } from '../pictures/Frame.tsx';
import type { PictureSpec, PictureView } from '../pictures/picture-spec.ts';
import { extentOf, roundRange } from '../pictures/scale.ts';
import { Band, Curve, Marks } from '../pictures/shapes.tsx';
import { lastDayWords, SUBJECTS, slopeNumbers, trendWords } from './progress-words.ts';

/** What fitting the sensors anew does to mean reach (README, "How far to trust it"), metres. */
const FITTING_M = 0.01;
/** Lengths that differ less are one length, metres. */
const SAME_LENGTH_M = 0.005;
const DAY_MS = 86_400_000;
const WEEK_MS = 7 * DAY_MS;
const MOST_TICKS = 4;

/** The measures of a condition over the weeks, a picture each. */
export function historyPictures(history: ConditionHistory): PictureSpec[] {
  return (Object.keys(SUBJECTS) as TrendSubject[]).map((subject) => pictureOf(subject, history));
}

function pictureOf(subject: TrendSubject, { days, trends }: ConditionHistory): PictureSpec {
  const found = trends[subject];
  const { title } = SUBJECTS[subject];
  const unlike = unlikeDays(subject, days);
  const last = lastDayWords(subject, found);
  return {
    id: `weeks-${subject.toLowerCase()}`,
    title,
    words: unlike ?? trendWords(subject, found),
    ...(unlike === null && last !== null ? { more: [last] } : {}),
    explanation: `Each mark is a day with ten swings or more. The band lies around the first day: a day outside it differs from the first by more than swings of one day differ by chance (smallest detectable change, 95 %). ${
      subject === 'meanReach'
        ? 'Here it is 1 cm wider to each side, since fitting the sensors anew shifts reach by up to about that.'
        : 'Sensors fitted anew and the day itself come on top, so a day just outside still says little.'
    } The sentence above asks whether all days together rise or fall, by more than they differ anyway. ${slopeNumbers(subject, found)}`,
    source:
      'Slope over the weeks by permutation, corrected for four questions (Holm 1979). Smallest detectable change 1.96 √2 SEM (Weir 2005), SEM from odd and even swings (Rulon 1939).',
    views: unlike === null && found.n > 0 ? [weeksView(subject, days, found)] : [],
  };
}

/** Why the days cannot be held against each other; null: they can. */
function unlikeDays(subject: TrendSubject, days: readonly DayPlayed[]): string | null {
  if (subject === 'score') return differentPoints(days);
  return subject === 'meanReach' ? differentLengths(days) : null;
}

/** Another length, entered, is another reach, whatever the player does. */
function differentLengths(days: readonly DayPlayed[]): string | null {
  const [low, high] = extentOf(
    days.map(({ lengthM }) => lengthM),
    [0, 0],
  );
  const cm = (metres: number) => (100 * metres).toFixed(1);
  return high - low > SAME_LENGTH_M
    ? `Reach of these days is not compared: arm and implement together were entered as ${cm(low)} to ${cm(high)} cm.`
    : null;
}

/** Points out of five and out of ten have no common scale. */
function differentPoints(days: readonly DayPlayed[]): string | null {
  const full = [...new Set(days.map(({ fullPoints }) => fullPoints))].sort((a, b) => a - b);
  return full.length > 1
    ? `Scores of these days are not compared: the most a ball could score was ${full.join(' on some, ')} on others.`
    : null;
}

function weeksView(
  subject: TrendSubject,
  days: readonly DayPlayed[],
  found: MeasureTrend,
): PictureView {
  const { axis, scale, unit, digits } = SUBJECTS[subject];
  const time = days.map(({ startedAtMs }) => startedAtMs);
  const value = found.values.map((x) => (isUnavailable(x) ? Number.NaN : scale * x));
  const { firstDay, half } = bandOf(subject, found);
  const [from, to] = [time[0]!, time.at(-1)!];
  const room = Math.max(DAY_MS, 0.04 * (to - from));
  const across = [from - room, to + room] as const;
  const ends = half === null ? [] : [firstDay - half, firstDay + half];
  const up = rangeOf(subject, [...value, ...ends]);
  const line = lineOf(found, time, value, scale);
  return {
    label: 'over the weeks',
    alternative: `${found.n} days. First ${firstDay.toFixed(digits)} ${unit}, last ${value.findLast(Number.isFinite)!.toFixed(digits)} ${unit}.${half === null ? '' : ` A day differs from the first by more than chance from ${half.toFixed(digits + 1)} ${unit} on.`}`,
    draw: (size) => (
      <Frame
        size={size}
        x={{
          low: across[0],
          high: across[1],
          label: yearsWords(from, to),
          ticks: dayTicks(from, to),
        }}
        y={{ low: up[0], high: up[1], label: axis }}
        legend={[
          { label: 'a day', colour: '--in', kind: 'circle' },
          ...(half === null
            ? []
            : [
                {
                  label: 'as the first day, within chance',
                  colour: '--in-soft',
                  kind: 'area',
                } as const,
              ]),
          ...(line === null
            ? []
            : [{ label: 'trend', colour: '--off', kind: 'line', dash: '9 5' } as const]),
        ]}
      >
        {(plot) => (
          <>
            {half !== null && (
              <Band
                plot={plot}
                x={across}
                low={[firstDay - half, firstDay - half]}
                high={[firstDay + half, firstDay + half]}
                colour="--in-soft"
              />
            )}
            {line !== null && (
              <Curve plot={plot} x={[from, to]} y={line} colour="--off" dash="9 5" />
            )}
            <Marks plot={plot} x={time} y={value} colour="--in" shape="circle" sizePx={11} />
          </>
        )}
      </Frame>
    ),
    table: {
      columns: [
        { name: 'Day', digits: 0 },
        { name: 'Sets', digits: 0 },
        { name: 'Swings', digits: 0 },
        { name: axis, digits: digits + 1 },
        { name: 'Smallest detectable change', digits: digits + 1 },
        { name: 'Why not', digits: 0 },
      ],
      rows: days.map(({ startedAtMs, setIds, swings }, i) => {
        const answer = found.values[i]!;
        return [
          isoDay(startedAtMs),
          setIds.length,
          swings,
          isUnavailable(answer) ? null : value[i]!,
          isUnavailable(found.detectability) ? null : scale * found.detectability.change,
          isUnavailable(answer) ? unavailableWords(answer) : '',
        ];
      }),
    },
  };
}

/** Around the first day that has a value; `half` null: too few days to know it. */
function bandOf(subject: TrendSubject, { values, detectability }: MeasureTrend) {
  const { scale } = SUBJECTS[subject];
  const first = values.find((x) => !isUnavailable(x)) as number;
  if (isUnavailable(detectability)) return { firstDay: scale * first, half: null };
  const half = detectability.change + (subject === 'meanReach' ? FITTING_M : 0);
  return { firstDay: scale * first, half: scale * half };
}

/** A spread and a score begin at nothing; mean reach does not. */
function rangeOf(subject: TrendSubject, values: readonly number[]): readonly [number, number] {
  const [low, high] = extentOf(values, [0, 1]);
  return subject === 'meanReach' ? roundRange(low - 0.2, high + 0.2, 4) : roundRange(0, high, 4);
}

/** The least-squares line, drawn only where the days are said to rise or fall. It goes through the means. */
function lineOf(
  { answer, perWeek }: MeasureTrend,
  time: readonly number[],
  value: readonly number[],
  scale: number,
): number[] | null {
  if (isUnavailable(perWeek) || answer === 'none' || answer === 'unknown') return null;
  const known = time.flatMap((at, i) => (Number.isNaN(value[i]) ? [] : [{ at, y: value[i]! }]));
  const meanOf = (pick: (row: { at: number; y: number }) => number) =>
    known.reduce((sum, row) => sum + pick(row), 0) / known.length;
  const [meanAt, meanY] = [meanOf(({ at }) => at), meanOf(({ y }) => y)];
  return [time[0]!, time.at(-1)!].map(
    (at) => meanY + (scale * perWeek.value * (at - meanAt)) / WEEK_MS,
  );
}

/** A few days between the first and the last, evenly. */
function dayTicks(from: number, to: number): Tick[] {
  const days = Math.round((to - from) / DAY_MS);
  const steps = Math.min(MOST_TICKS - 1, days);
  if (steps === 0) return [{ at: from, label: shortDay(from) }];
  return Array.from({ length: steps + 1 }, (_, i) => {
    const at = from + DAY_MS * Math.round((i * days) / steps);
    return { at, label: shortDay(at) };
  });
}

function shortDay(ms: number): string {
  return new Date(ms).toLocaleDateString('en-GB', { day: 'numeric', month: 'short' });
}

function yearsWords(from: number, to: number): string {
  const [first, last] = [from, to].map((ms) => new Date(ms).getFullYear());
  return first === last ? `Day, ${first}` : `Day, ${first} to ${last}`;
}

/** The day where the device is, as year-month-day. */
function isoDay(ms: number): string {
  return new Date(ms).toLocaleDateString('sv-SE');
}
