import { useMemo } from 'preact/hooks';
import type { Funnel } from '../../core/measures/funnel.ts';
import { Chart } from './Chart.tsx';
import type { ChartLine } from './LineChart.tsx';
import './chart.css';

/** Upper ends of the spread axis, cm: few, so that the axis rarely changes between swings. */
const TOPS_CM = [2, 5, 10, 20, 40, 80, 160];

const SWING_LABELS = { 0: 'start', 25: '25 %', 50: '50 %', 75: '75 %', 100: 'contact' };

/** Drawn while there is no funnel: axes only. */
const NOTHING = new Float64Array(2).fill(Number.NaN);

/** Spread of reach over the swing with the measurement floor under it, and the two numbers that matter in words. */
export function FunnelChart({ funnel }: { readonly funnel: Funnel | null }) {
  const words = funnelWords(funnel);
  const chart = useMemo(() => columns(funnel), [funnel]);
  return (
    <section class="funnel" aria-labelledby="funnel-title">
      <header class="funnel-head">
        <h2 id="funnel-title">Funnel</h2>
        <span class="legend">
          <i class="swatch swatch-spread" /> spread
        </span>
        <span class="legend">
          <i class="swatch swatch-floor" /> floor
        </span>
      </header>
      <Chart
        description={`Spread of reach in centimetres over the swing. ${words}`}
        x={chart.percent}
        lines={chart.lines}
        yTop={chart.topCm}
        xLabels={SWING_LABELS}
        yUnit="cm"
      />
      <p class="funnel-words">{words}</p>
    </section>
  );
}

interface Columns {
  readonly percent: Float64Array;
  readonly lines: readonly ChartLine[];
  readonly topCm: number;
}

function columns(funnel: Funnel | null): Columns {
  const spreadCm = toCentimetres(funnel?.spreadM);
  const floorCm = toCentimetres(funnel?.floorM);
  const largest = Math.max(
    0,
    ...[...spreadCm, ...floorCm].filter((value) => Number.isFinite(value)),
  );
  return {
    percent: spreadCm.map((_, at) => (100 * at) / (spreadCm.length - 1)),
    lines: [
      { values: floorCm, colour: '--floor', kind: 'area' },
      { values: spreadCm, colour: '--in', kind: 'line' },
    ],
    // An empty chart already has the axis that most sets will need.
    topCm: largest === 0 ? 10 : (TOPS_CM.find((top) => top >= 1.05 * largest) ?? largest),
  };
}

function toCentimetres(columnM: Float64Array = NOTHING): Float64Array {
  return columnM.map((metres) => metres * 100);
}

/** The funnel in one line; no verdict, which needs more than two numbers. */
function funnelWords(funnel: Funnel | null): string {
  if (funnel === null || funnel.n < 2) return 'Drawn from the second swing on.';
  const widestM = Math.max(...funnel.spreadM);
  const contactM = funnel.spreadM.at(-1) ?? Number.NaN;
  const floorM = funnel.floorM.at(-1) ?? Number.NaN;
  if (!Number.isFinite(widestM) || !Number.isFinite(contactM)) {
    return 'Not drawn: some swings have gaps in their reach.';
  }
  const contact = `${(contactM * 100).toFixed(1)} cm`;
  if (contactM <= floorM) return `Contact ${contact}: not above the floor. ${funnel.n} swings.`;
  return `Widest ${(widestM * 100).toFixed(1)} cm, contact ${contact}. ${funnel.n} swings.`;
}
