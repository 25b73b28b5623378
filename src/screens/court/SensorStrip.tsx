import type { ComponentChildren } from 'preact';
import { SEGMENT_WORDS, SEGMENTS, type Segment } from '../../core/arm/segments.ts';
import { Mark } from '../controls/Mark.tsx';
import type { CourtView } from './court-view.ts';
import { firstAdvice, type SensorStatus } from './sensor-status.ts';
import './sensor-strip.css';

const MARKS = { ok: 'good', waiting: 'waiting', trouble: 'trouble' } as const;

interface Props {
  readonly view: CourtView;
  /** What stands below the sensors while none is in trouble. */
  readonly line: string;
  /** null when nothing can be connected. */
  readonly onConnect: ((segment: Segment) => void) | null;
  /** Below the line, if anything. */
  readonly children?: ComponentChildren;
}

/** The three sensors, always in the same place; the line below says what to do when one is in trouble. */
export function SensorStrip({ view, line, onConnect, children }: Props) {
  const statuses = view.sensors.value;
  const trouble = view.trouble.value ?? firstAdvice(statuses);
  return (
    <header class="strip">
      <ul class="strip-sensors">
        {SEGMENTS.map((segment) => (
          <li
            key={segment}
            class={`sensor sensor-${statuses[segment].level}`}
            title={deviceDetail(view, segment)}
          >
            <SensorCell
              name={SEGMENT_WORDS[segment]}
              status={statuses[segment]}
              reconnect={
                onConnect !== null && canReconnect(view, segment) ? () => onConnect(segment) : null
              }
            />
          </li>
        ))}
      </ul>
      <p class={trouble === null ? 'strip-line soft' : 'strip-line strip-trouble'} role="status">
        {trouble ?? line}
      </p>
      {children}
    </header>
  );
}

interface CellProps {
  readonly name: string;
  readonly status: SensorStatus;
  readonly reconnect: (() => void) | null;
}

function SensorCell({ name, status, reconnect }: CellProps) {
  const content = (
    <>
      <Mark kind={MARKS[status.level]} sizePx={17} />
      <span>
        <b>
          {reconnect !== null && <span class="out-of-sight">Connect </span>}
          {name}
        </b>
        <span>{status.short}</span>
      </span>
    </>
  );
  if (reconnect === null) return <div class="sensor-cell">{content}</div>;
  return (
    <button type="button" class="sensor-cell" onClick={reconnect}>
      {content}
    </button>
  );
}

/** Battery, firmware and hardware as far as the sensor tells, on hover. */
function deviceDetail(view: CourtView, segment: Segment): string | undefined {
  const connection = view.connections.value[segment];
  if (connection.state !== 'streaming') return undefined;
  const { batteryPercent, deviceWords } = connection;
  const battery = batteryPercent === null ? null : `battery ${batteryPercent} %`;
  return [battery, deviceWords].filter((words) => words !== null).join(', ') || undefined;
}

function canReconnect(view: CourtView, segment: Segment): boolean {
  const { state } = view.connections.value[segment];
  // Until the holds a sensor may turn out to be in the wrong place: another can be chosen for it.
  if (state === 'streaming') {
    return view.description.source === 'sensors' && view.zero.value.phase === 'not-started';
  }
  return state === 'lost' || state === 'failed' || state === 'absent';
}
