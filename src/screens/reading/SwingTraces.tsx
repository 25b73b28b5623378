import { useEffect, useRef, useState } from 'preact/hooks';
import type { SwingTrace } from '../../core/pipeline/swing-trace.ts';
import type { SwingEnds } from '../../core/swings/moved-ends.ts';
import { Choice } from '../controls/Choice.tsx';
import { Frame, type Plot } from '../pictures/Frame.tsx';
import { useWidth } from '../pictures/fill-box.ts';
import { extentOf, roundRange } from '../pictures/scale.ts';
import { Curve } from '../pictures/shapes.tsx';
import { EndHandle } from './EndHandle.tsx';
import { channelsOf } from './trace-channels.ts';

interface Props {
  readonly trace: SwingTrace;
  readonly endsMoved: boolean;
  readonly isEditing: boolean;
  /** null: back to where they were found. */
  readonly onMove: (ends: SwingEnds | null) => void;
}

const HEIGHT_PX = 260;
/** Shorter than this a swing cannot be read, microseconds. */
const LEAST_SWING_US = 40_000;

/** Any channel of one swing, with its start and contact to be moved by pointer or arrow keys. */
export function SwingTraces({ trace, endsMoved, isEditing, onMove }: Props) {
  const [wanted, setWanted] = useState(0);
  const [draft, setDraft] = useState(trace.ends);
  useEffect(() => setDraft(trace.ends), [trace]);
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box);
  const channels = channelsOf(trace);
  const { axis, lines } = channels[wanted]!;
  const { firstUs, stepUs, range, found } = trace;
  const ms = (timeUs: number) => (timeUs - found.contactUs) / 1000;
  const time = lines[0]!.values.map((_, row) => ms(firstUs + row * stepUs));
  const [low, high] = extentOf(
    lines.flatMap(({ values }) => [...values]),
    [0, 1],
  );
  const up = roundRange(low, high, 4);
  const isMoved = draft.startUs !== trace.ends.startUs || draft.contactUs !== trace.ends.contactUs;
  return (
    <div class="swing-traces">
      <Choice
        name="trace-channel"
        legend="Trace"
        options={channels.map(({ label }, i) => ({ value: String(i), label }))}
        value={String(wanted)}
        onChange={(value) => setWanted(Number(value))}
      />
      <div ref={box} class="picture-box">
        {width > 0 && (
          <svg width={width} height={HEIGHT_PX} viewBox={`0 0 ${width} ${HEIGHT_PX}`}>
            <title>{`${axis} through the swing`}</title>
            <Frame
              size={{ width, height: HEIGHT_PX }}
              x={{ low: time[0]!, high: ms(range.lastUs), label: 'Time to contact as found, ms' }}
              y={{ low: up[0], high: up[1], label: axis }}
              legend={lines.length > 1 ? lines.map((line) => legendOf(line)) : []}
            >
              {(plot) => (
                <>
                  <Stretch plot={plot} from={ms(draft.startUs)} to={ms(draft.contactUs)} />
                  {lines.map(({ label, values, colour, dash }) => (
                    <Curve
                      key={label}
                      plot={plot}
                      x={time}
                      y={values}
                      colour={colour}
                      dash={dash}
                    />
                  ))}
                  <EndHandle
                    plot={plot}
                    name="Start"
                    atMs={ms(draft.startUs)}
                    fromMs={ms(range.firstUs)}
                    toMs={ms(draft.contactUs - LEAST_SWING_US)}
                    onMove={(at) => setDraft({ ...draft, startUs: found.contactUs + 1000 * at })}
                  />
                  <EndHandle
                    plot={plot}
                    name="Contact"
                    atMs={ms(draft.contactUs)}
                    fromMs={ms(draft.startUs + LEAST_SWING_US)}
                    toMs={ms(range.lastUs)}
                    onMove={(at) => setDraft({ ...draft, contactUs: found.contactUs + 1000 * at })}
                  />
                </>
              )}
            </Frame>
          </svg>
        )}
      </div>
      <div class="swing-ends">
        <span>
          Start {msWords(ms(draft.startUs))}, contact {msWords(ms(draft.contactUs))}
        </span>
        <button type="button" disabled={!isMoved || isEditing} onClick={() => onMove(draft)}>
          Use these ends
        </button>
        {isMoved && (
          <button type="button" onClick={() => setDraft(trace.ends)}>
            Leave them
          </button>
        )}
        {endsMoved && !isMoved && (
          <button type="button" disabled={isEditing} onClick={() => onMove(null)}>
            As they were found
          </button>
        )}
      </div>
    </div>
  );
}

function legendOf({
  label,
  colour,
  dash,
}: {
  readonly label: string;
  readonly colour: string;
  readonly dash?: string | undefined;
}) {
  return { label, colour, kind: 'line' as const, ...(dash === undefined ? {} : { dash }) };
}

/** What is read, between start and contact. */
function Stretch({
  plot,
  from,
  to,
}: {
  readonly plot: Plot;
  readonly from: number;
  readonly to: number;
}) {
  return (
    <rect
      x={plot.x(from)}
      width={plot.x(to) - plot.x(from)}
      y={plot.top}
      height={plot.bottom - plot.top}
      fill="var(--in-soft)"
      fill-opacity={0.5}
    />
  );
}

function msWords(ms: number): string {
  const whole = Math.round(ms);
  return `${whole < 0 ? '−' : ''}${Math.abs(whole)} ms`;
}
