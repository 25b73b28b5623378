import { useEffect, useRef } from 'preact/hooks';
import uPlot from 'uplot';
import 'uplot/dist/uPlot.min.css';

/** One curve over the shared x column. */
export interface ChartLine {
  /** NaN leaves a gap. Same length as x. */
  readonly values: ArrayLike<number>;
  /** Name of the CSS variable with its colour. */
  readonly colour: string;
  /** `area` is filled down to zero. */
  readonly kind: 'line' | 'area';
}

export interface LineChartProps {
  readonly x: ArrayLike<number>;
  readonly lines: readonly ChartLine[];
  /** Upper end of y; the lower one is zero. */
  readonly yTop: number;
  readonly yUnit: string;
  /** Words at some places of the x axis. */
  readonly xLabels: Readonly<Record<number, string>>;
}

/**
 * The one owner of uPlot. Fills its parent, whose size must not depend on it.
 * Preconditions of uPlot kept here: x ascending, columns of equal length, gaps as null.
 */
export default function LineChart(props: LineChartProps) {
  const box = useRef<HTMLDivElement>(null);
  const plot = useRef<uPlot | null>(null);
  const latest = useRef(props);
  latest.current = props;

  useEffect(() => {
    const element = box.current;
    if (element === null) return;
    const chart = new uPlot(optionsFor(element, latest), dataOf(latest.current), element);
    plot.current = chart;
    const observer = new ResizeObserver(() => {
      const { width, height } = sizeOf(element);
      // Fractional changes would redraw without end on some zoom levels.
      if (width !== chart.width || height !== chart.height) chart.setSize({ width, height });
    });
    observer.observe(element);
    const scheme = matchMedia('(prefers-color-scheme: dark)');
    const repaint = (): void => chart.redraw();
    scheme.addEventListener('change', repaint);
    return () => {
      scheme.removeEventListener('change', repaint);
      observer.disconnect();
      chart.destroy();
      plot.current = null;
    };
  }, []);

  useEffect(() => {
    plot.current?.setData(dataOf(props));
  }, [props.x, props.lines, props.yTop]);

  return <div ref={box} class="chart-canvas" />;
}

function optionsFor(
  element: HTMLElement,
  latest: { readonly current: LineChartProps },
): uPlot.Options {
  const colour = (name: string): string => getComputedStyle(element).getPropertyValue(name).trim();
  const family = getComputedStyle(element).fontFamily;
  const axis = {
    stroke: () => colour('--ink-soft'),
    font: `600 14px ${family}`,
    grid: { stroke: () => colour('--line'), width: 1 },
    ticks: { show: false },
    gap: 4,
  };
  const { lines, xLabels, yUnit } = latest.current;
  return {
    ...sizeOf(element),
    padding: [8, 30, 0, 0],
    cursor: { show: false },
    legend: { show: false },
    scales: {
      x: { time: false, range: (_chart, low, high) => [low, high] },
      y: { range: () => [0, latest.current.yTop] },
    },
    axes: [
      {
        ...axis,
        size: 24,
        splits: Object.keys(xLabels).map(Number),
        values: (_chart, splits) => splits.map((at) => xLabels[at] ?? ''),
      },
      {
        ...axis,
        size: 58,
        space: 34,
        incrs: [0.5, 1, 2, 5, 10, 20, 50],
        values: (_chart, splits) => splits.map((at) => `${at} ${yUnit}`),
      },
    ],
    series: [
      {},
      ...lines.map(
        (line): uPlot.Series => ({
          stroke: () => colour(line.colour),
          width: line.kind === 'line' ? 3.5 : 1,
          points: { show: false },
          ...(line.kind === 'area' ? { fill: () => colour(line.colour) } : {}),
        }),
      ),
    ],
  };
}

function dataOf({ x, lines }: LineChartProps): uPlot.AlignedData {
  return [
    Array.from(x),
    ...lines.map(({ values }) => Array.from(values, (v) => (Number.isNaN(v) ? null : v))),
  ];
}

/** Whole pixels, and never zero: uPlot cannot draw into nothing. */
function sizeOf(element: HTMLElement): { width: number; height: number } {
  return {
    width: Math.max(1, Math.floor(element.clientWidth)),
    height: Math.max(1, Math.floor(element.clientHeight)),
  };
}
