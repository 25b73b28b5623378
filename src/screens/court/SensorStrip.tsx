import { SEGMENT_WORDS, SEGMENTS, type Segment } from '../../core/arm/segments.ts';
import { Mark } from '../controls/Mark.tsx';
import type { CourtModel } from './court-model.ts';
import { firstAdvice, type SensorStatus } from './sensor-status.ts';
import './sensor-strip.css';

const MARKS = { ok: 'good', waiting: 'waiting', trouble: 'trouble' } as const;

/** The three sensors, always in the same place; the line below says what to do when one is in trouble. */
export function SensorStrip({ model }: { readonly model: CourtModel }) {
  const statuses = model.sensors.value;
  const trouble = model.trouble.value ?? firstAdvice(statuses);
  return (
    <header class="strip">
      <ul class="strip-sensors">
        {SEGMENTS.map((segment) => (
          <li
            key={segment}
            class={`sensor sensor-${statuses[segment].level}`}
            title={deviceDetail(model, segment)}
          >
            <SensorCell
              name={SEGMENT_WORDS[segment]}
              status={statuses[segment]}
              reconnect={canReconnect(model, segment) ? () => model.connect(segment) : null}
            />
          </li>
        ))}
      </ul>
      <p class={trouble === null ? 'strip-line soft' : 'strip-line strip-trouble'} role="status">
        {trouble ?? quietLine(model)}
      </p>
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
        <b>{name}</b>
        <span>{status.short}</span>
      </span>
    </>
  );
  if (reconnect === null) return <div class="sensor-cell">{content}</div>;
  return (
    <button
      type="button"
      class="sensor-cell"
      aria-label={`Connect ${name}: ${status.short}`}
      onClick={reconnect}
    >
      {content}
    </button>
  );
}

/** Battery, firmware and hardware as far as the sensor tells, on hover. */
function deviceDetail(model: CourtModel, segment: Segment): string | undefined {
  const connection = model.connections.value[segment];
  if (connection.state !== 'streaming') return undefined;
  const { batteryPercent, deviceWords } = connection;
  const battery = batteryPercent === null ? null : `battery ${batteryPercent} %`;
  return [battery, deviceWords].filter((words) => words !== null).join(', ') || undefined;
}

function canReconnect(model: CourtModel, segment: Segment): boolean {
  const { state } = model.connections.value[segment];
  // Until the holds a sensor may turn out to be in the wrong place: another can be chosen for it.
  if (state === 'streaming') {
    return model.description.source === 'sensors' && model.zero.value.phase === 'not-started';
  }
  return state === 'lost' || state === 'failed' || state === 'absent';
}

function quietLine(model: CourtModel): string {
  const { player, implement, ball, armEstimatedFromStatureM } = model.description;
  const saved = model.savedBytes.value;
  const kept = saved === 0 ? 'Nothing saved yet' : `Saved ${Math.ceil(saved / 1000)} kB`;
  if (model.playedOut.value) return `${kept} · The player has played the last ball.`;
  // The reach itself is a guess then, its changes are not.
  const estimate = armEstimatedFromStatureM === undefined ? [] : ['arm length estimated'];
  return [kept, ...estimate, player, implement, ball].join(' · ');
}
