import { useRef } from 'preact/hooks';
import { useWidth } from '../pictures/fill-box.ts';
import { marksPath } from '../pictures/paths.ts';
import { TEXT_PX } from '../pictures/text-size.ts';
import type { DifferenceAxis } from './difference-axis.ts';

const HEIGHT_PX = 54;
const BAR_Y_PX = 16;

/** A difference as a dot with its interval, on an axis with no difference in the middle. */
export function DifferenceBar({ axis }: { readonly axis: DifferenceAxis }) {
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box);
  const at = (place: number): number => {
    const inside = Math.min(1, Math.max(-1, place));
    return width / 2 + inside * (width / 2 - 8);
  };
  return (
    <div ref={box} class="difference-bar">
      {width > 0 && (
        <svg
          width={width}
          height={HEIGHT_PX}
          viewBox={`0 0 ${width} ${HEIGHT_PX}`}
          aria-hidden="true"
          font-size={TEXT_PX}
        >
          <path d={`M0 ${BAR_Y_PX}H${width}`} stroke="var(--line)" stroke-width="1" />
          <path
            d={`M${width / 2} 2V${2 * BAR_Y_PX - 2}`}
            stroke="var(--ink-soft)"
            stroke-width="2"
          />
          <path
            d={`M${at(axis.low)} ${BAR_Y_PX - 6}v12m0 -6H${at(axis.high)}m0 -6v12`}
            fill="none"
            stroke="var(--ink)"
            stroke-width="2.5"
          />
          <path d={marksPath('circle', [at(axis.at)], [BAR_Y_PX], 13)} fill="var(--ink)" />
          <g fill="var(--ink-soft)">
            <text x={0} y={HEIGHT_PX - 6}>
              ‹ {axis.left}
            </text>
            <text x={width} y={HEIGHT_PX - 6} text-anchor="end">
              {axis.right} ›
            </text>
          </g>
        </svg>
      )}
    </div>
  );
}
