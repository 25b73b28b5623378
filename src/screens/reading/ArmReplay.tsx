import { useRef, useState } from 'preact/hooks';
import type { SwingTrace } from '../../core/pipeline/swing-trace.ts';
import { Frame } from '../pictures/Frame.tsx';
import { useWidth } from '../pictures/fill-box.ts';
import { CM, SEGMENT_LOOKS } from '../pictures/read-set.ts';
import { extentOf } from '../pictures/scale.ts';
import { Curve, Marks } from '../pictures/shapes.tsx';
import { type ArmPoints, armPoints, rowsBetween } from './arm-points.ts';

const PLANES = [
  { name: 'From the side', across: 0, up: 2, upLabel: 'Up, m' },
  { name: 'From above', across: 0, up: 1, upLabel: 'Left, m' },
] as const;

/** The arm through one swing, seen from the side and from above. */
export function ArmReplay({ trace }: { readonly trace: SwingTrace }) {
  const [first, last] = rowsBetween(trace);
  const [wanted, setWanted] = useState<number | null>(null);
  const row = Math.min(last, Math.max(first, wanted ?? last));
  const path = Array.from({ length: last - first + 1 }, (_, i) => armPoints(trace, first + i));
  const now = armPoints(trace, row);
  const toContactMs = Math.round(
    (trace.firstUs + row * trace.stepUs - trace.ends.contactUs) / 1000,
  );
  const words = `${Math.abs(toContactMs)} ms before contact, reach ${(CM * trace.reachM[row]!).toFixed(1)} cm`;
  return (
    <div class="arm-replay">
      <label class="swing-place">
        <span>{words}</span>
        <input
          type="range"
          min={first}
          max={last}
          step={1}
          value={row}
          aria-label="Place in the swing"
          aria-valuetext={words}
          onInput={(event) => setWanted(Number(event.currentTarget.value))}
        />
      </label>
      <div class="arm-planes">
        {PLANES.map((plane) => (
          <PlaneView key={plane.name} plane={plane} path={path} now={now} />
        ))}
      </div>
      <p class="soft">
        {trace.courtHeadingKnown
          ? 'The target lies to the right; the shoulder is the square.'
          : 'Nobody knows where the target is in this swing: the view from above is turned by an unknown angle.'}
      </p>
    </div>
  );
}

interface PlaneProps {
  readonly plane: (typeof PLANES)[number];
  readonly path: readonly ArmPoints[];
  readonly now: ArmPoints;
}

function PlaneView({ plane, path, now }: PlaneProps) {
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box);
  const height = Math.round(Math.min(300, 0.8 * width));
  const { across, up, name } = plane;
  const rangeOf = (axis: number): readonly [number, number] => {
    const [low, high] = extentOf(
      path.flatMap((points) => points.map((point) => point[axis]!)),
      [-1, 1],
    );
    return [low - 0.08, high + 0.08];
  };
  const [x, y] = [rangeOf(across), rangeOf(up)];
  const tip = (axis: number) => path.map((points) => points.at(-1)![axis]!);
  return (
    <figure>
      <figcaption>{name}</figcaption>
      <div ref={box} class="picture-box">
        {width > 0 && (
          <svg
            role="img"
            aria-label={`The arm ${name.toLowerCase()}`}
            width={width}
            height={height}
            viewBox={`0 0 ${width} ${height}`}
          >
            <Frame
              size={{ width, height }}
              isEqual
              x={{ low: x[0], high: x[1], label: 'To the target, m' }}
              y={{ low: y[0], high: y[1], label: plane.upLabel }}
            >
              {(plot) => (
                <>
                  <Curve plot={plot} x={tip(across)} y={tip(up)} colour="--floor-edge" dash="2 5" />
                  {SEGMENT_LOOKS.map(({ label, colour }, k) => (
                    <Curve
                      key={label}
                      plot={plot}
                      x={[now[k]![across], now[k + 1]![across]]}
                      y={[now[k]![up], now[k + 1]![up]]}
                      colour={colour}
                    />
                  ))}
                  <Marks plot={plot} x={[0]} y={[0]} colour="--ink" shape="square" sizePx={13} />
                  <Marks
                    plot={plot}
                    x={now.slice(1, 3).map((point) => point[across])}
                    y={now.slice(1, 3).map((point) => point[up])}
                    colour="--ink"
                    shape="circle"
                  />
                  <Marks
                    plot={plot}
                    x={[now[3]![across]]}
                    y={[now[3]![up]]}
                    colour="--off"
                    shape="diamond"
                    sizePx={15}
                  />
                </>
              )}
            </Frame>
          </svg>
        )}
      </div>
    </figure>
  );
}
