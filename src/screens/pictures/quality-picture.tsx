import { SEGMENT_WORDS, SEGMENTS } from '../../core/arm/segments.ts';
import { qualityWords } from '../../core/measures/picture-words.ts';
import { voidWords } from '../court/swing-words.ts';
import { Frame } from './Frame.tsx';
import type { PictureSpec, PictureView } from './picture-spec.ts';
import { CM, countedSwings, type ReadSet, swingsOf } from './read-set.ts';
import { extentOf, roundRange } from './scale.ts';
import { Label, Marks } from './shapes.tsx';

/** What the numbers rest on: swings that count and those that do not, losses, clocks, errors. */
export function qualityPicture(read: ReadSet): PictureSpec {
  const swings = swingsOf(read);
  const counted = countedSwings(read).length;
  const leftOut = swings.filter(({ discarded }) => discarded).length;
  const { packets, lost } = packetsOf(read);
  return {
    id: 'data-quality',
    title: 'Data quality: what do the numbers rest on?',
    words: qualityWords(
      { all: swings.length, counted, leftOut, void: swings.length - counted - leftOut },
      packets === 0 ? Number.NaN : lost / (packets + lost),
    ),
    explanation:
      'How many swings count and why others do not; what each sensor lost on the way and how well its clock is known; and the error of each reach: one standard error against the true reach. A reach is trusted about twice that far to either side.',
    source:
      'Packet numbers, clock pings and the error model of this program (design.md, sections 5 and 7).',
    views: [
      ...(swings.length === 0 ? [] : [countsView(read)]),
      ...(packets === 0 ? [] : [sensorsView(read)]),
      ...(counted === 0 ? [] : [errorsView(read)]),
    ],
  };
}

function packetsOf({ view }: ReadSet): { readonly packets: number; readonly lost: number } {
  const sum = (key: 'packets' | 'lostPackets') =>
    SEGMENTS.reduce((all, segment) => all + view.sensors[segment][key], 0);
  return { packets: sum('packets'), lost: sum('lostPackets') };
}

function countsView(read: ReadSet): PictureView {
  const reasons = new Map<string, number>();
  for (const { swing, discarded } of swingsOf(read)) {
    const why = discarded
      ? 'Left out by the coach'
      : swing.voidReason === null
        ? 'Counted'
        : voidWords(swing.voidReason);
    reasons.set(why, (reasons.get(why) ?? 0) + 1);
  }
  const rows = [...reasons].sort(([a], [b]) => Number(b === 'Counted') - Number(a === 'Counted'));
  return barsView({
    label: 'swings',
    axis: 'Swings',
    rows: rows.map(([label, value]) => ({ label, value, words: String(value) })),
    table: {
      columns: [
        { name: 'What became of them', digits: 0 },
        { name: 'Swings', digits: 0 },
      ],
      rows,
    },
  });
}

function sensorsView({ view }: ReadSet): PictureView {
  const rows = SEGMENTS.map((segment) => {
    const health = view.sensors[segment];
    const share = (100 * health.lostPackets) / Math.max(1, health.packets + health.lostPackets);
    return { segment, health, share };
  });
  return barsView({
    label: 'sensors',
    axis: 'Packets lost for good, %',
    rows: rows.map(({ segment, share }) => ({
      label: SEGMENT_WORDS[segment],
      value: share,
      words: `${share.toFixed(2)} %`,
    })),
    table: {
      columns: [
        { name: 'Sensor', digits: 0 },
        { name: 'Packets', digits: 0 },
        { name: 'Lost for good', digits: 0 },
        { name: 'Lost, %', digits: 2 },
        { name: 'Refused', digits: 0 },
        { name: 'Clipped samples', digits: 0 },
        { name: 'Rate, Hz', digits: 1 },
        { name: 'Spread of the radio delay, ms', digits: 1 },
        { name: 'Clock known to ±, ms', digits: 2 },
      ],
      rows: rows.map(({ segment, health, share }) => [
        SEGMENT_WORDS[segment],
        health.packets,
        health.lostPackets,
        share,
        health.refusedPackets,
        health.clippedSamples,
        health.rateHz,
        health.delaySpreadMs,
        health.clockHalfWidthMs,
      ]),
    },
  });
}

interface Bars extends Pick<PictureView, 'label' | 'table'> {
  readonly axis: string;
  readonly rows: readonly {
    readonly label: string;
    readonly value: number;
    readonly words: string;
  }[];
}

/** Lying bars, each with its words above it: the names may be long. */
function barsView({ label, axis, rows, table }: Bars): PictureView {
  const most = Math.max(...rows.map(({ value }) => value));
  const high = roundRange(0, most > 0 ? most : 1, 4)[1];
  return {
    label,
    alternative: rows.map((row) => `${row.label}: ${row.words}`).join('. '),
    aspect: Math.min(0.75, 0.24 + 0.12 * rows.length),
    draw: (size) => (
      <Frame
        size={size}
        x={{ low: 0, high, label: axis }}
        y={{ low: 0, high: rows.length, label: '', ticks: [] }}
      >
        {(plot) =>
          rows.map((row, i) => {
            const top = plot.y(rows.length - i);
            const room = plot.y(rows.length - i - 1) - top;
            return (
              <g key={row.label}>
                <rect
                  x={plot.left}
                  y={top + 0.55 * room}
                  width={Math.max(1, plot.x(row.value) - plot.left)}
                  height={0.32 * room}
                  fill={i === 0 && label === 'swings' ? 'var(--in)' : 'var(--floor-edge)'}
                />
                <Label x={plot.left + 2} y={top + 0.45 * room}>
                  {row.label}: {row.words}
                </Label>
              </g>
            );
          })
        }
      </Frame>
    ),
    table,
  };
}

function errorsView(read: ReadSet): PictureView {
  const swings = countedSwings(read);
  const place = Float64Array.from(swings, ({ swing }) => swing.index + 1);
  const error = Float64Array.from(swings, ({ swing }) => CM * swing.reachStandardErrorM);
  const [least, most] = extentOf(error, [0, 1]);
  return {
    label: 'errors',
    alternative: `Standard errors from ${least.toFixed(2)} to ${most.toFixed(2)} cm.`,
    draw: (size) => (
      <Frame
        size={size}
        x={{ low: Math.max(0, place[0]! - 1), high: place.at(-1)! + 1, label: 'Swing of the set' }}
        y={{ low: 0, high: roundRange(0, most, 4)[1], label: 'Standard error of reach, cm' }}
      >
        {(plot) => <Marks plot={plot} x={place} y={error} colour="--in" shape="circle" />}
      </Frame>
    ),
    table: {
      columns: [
        { name: 'Swing', digits: 0 },
        { name: 'Standard error of reach, cm', digits: 2 },
        { name: 'Clipped instants', digits: 0 },
        { name: 'Interpolated instants', digits: 0 },
      ],
      rows: swings.map(({ swing }, i) => [
        swing.index + 1,
        error[i]!,
        swing.clippedSamples,
        swing.interpolatedSamples,
      ]),
    },
  };
}
