import type { ComponentType } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { LineChartProps } from './LineChart.tsx';

interface Props extends LineChartProps {
  /** What the picture shows, for those who cannot see it. */
  readonly description: string;
}

/** A chart in a box of fixed size; the drawing code is fetched when the first one is needed. */
export function Chart({ description, ...chart }: Props) {
  const [Drawing, setDrawing] = useState<ComponentType<LineChartProps> | null>(null);
  useEffect(() => {
    let wanted = true;
    void import('./LineChart.tsx').then((module) => {
      if (wanted) setDrawing(() => module.default);
    });
    return () => {
      wanted = false;
    };
  }, []);
  return (
    <div class="chart-box" role="img" aria-label={description}>
      {Drawing !== null && <Drawing {...chart} />}
    </div>
  );
}
