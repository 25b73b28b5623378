import { useMemo } from 'preact/hooks';
import { findSupportGaps, readBrowserFacts } from '../../devices/browser-support.ts';
import type { ConnectionState } from '../../devices/transport.ts';
import { runningSet } from '../running-set.ts';
import type { BenchLink, BenchSource } from './bench-link.ts';

interface Props {
  readonly link: BenchLink;
  readonly onConnect: (source: BenchSource) => void;
}

/** The link to one sensor: connect it, or a simulated one to try things out. */
export function BenchSensor({ link, onConnect }: Props) {
  const gap = useMemo(() => findSupportGaps(readBrowserFacts())[0], []);
  const state = link.state.value;
  if (runningSet.value !== null) {
    return <p class="notice">A set is running with the sensors. End it first.</p>;
  }
  return (
    <div class="bench-sensor">
      <p role="status">{stateWords(state)}</p>
      {link.source.value === 'simulated' && (
        <p class="kit-caution">Simulated, to try things out: nothing of yours is measured.</p>
      )}
      {gap !== undefined && <p class="soft">{gap.message}</p>}
      <div class="kit-aside">
        <button type="button" disabled={gap !== undefined} onClick={() => onConnect('bluetooth')}>
          {state.state === 'absent' ? 'Connect a sensor' : 'Another sensor'}
        </button>
        <button type="button" onClick={() => onConnect('simulated')}>
          Simulated sensor
        </button>
      </div>
    </div>
  );
}

function stateWords(state: ConnectionState): string {
  switch (state.state) {
    case 'absent':
      return 'No sensor is connected.';
    case 'connecting':
      return 'Connecting…';
    case 'lost':
      return state.message;
    case 'failed':
      return state.error.message;
    case 'streaming': {
      const { batteryPercent, deviceWords } = state;
      const battery = batteryPercent === null ? 'battery unknown' : `battery ${batteryPercent} %`;
      return `Connected, ${battery}${deviceWords === null ? '' : `, ${deviceWords}`}.`;
    }
  }
}
