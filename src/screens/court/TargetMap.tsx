import { useState } from 'preact/hooks';
import type { Landing } from '../../core/plan/target-points.ts';
import type { Target } from '../../core/recording/set-plan.ts';
import type { CourtModel } from './court-model.ts';
import './target-map.css';

interface Props {
  readonly model: CourtModel;
  readonly target: Target;
}

/** Steps drawn around the box; whatever is tapped further out counts as worst. */
const STEPS_AROUND = 3;
const KEYS: Readonly<Record<string, readonly [beyond: number, left: number]>> = {
  ArrowUp: [1, 0],
  ArrowDown: [-1, 0],
  ArrowLeft: [0, 1],
  ArrowRight: [0, -1],
};

/** The target from the player's side: a tap says where the ball landed. Arrow keys and Enter do the same. */
export function TargetMap({ model, target }: Props) {
  const { widthM, depthM, stepM } = target;
  const halfWideM = widthM / 2 + STEPS_AROUND * stepM;
  const halfDeepM = depthM / 2 + STEPS_AROUND * stepM;
  const [aim, setAim] = useState<Landing | null>(null);
  const swing = model.target.value;
  const landed = swing?.landingM ?? null;
  const tap = (event: MouseEvent & { readonly currentTarget: SVGSVGElement }): void => {
    const at = new DOMPoint(event.clientX, event.clientY).matrixTransform(
      event.currentTarget.getScreenCTM()?.inverse(),
    );
    model.land({ beyondM: -at.y, leftM: -at.x });
    setAim(null);
  };
  const press = (event: KeyboardEvent): void => {
    const way = KEYS[event.key];
    const { beyondM, leftM } = aim ?? { beyondM: 0, leftM: 0 };
    if (way !== undefined) {
      setAim({ beyondM: beyondM + (way[0] * stepM) / 2, leftM: leftM + (way[1] * stepM) / 2 });
    } else if (event.key === 'Enter' || event.key === ' ') {
      model.land({ beyondM, leftM });
      setAim(null);
    } else return;
    event.preventDefault();
    event.stopPropagation();
  };
  const mark = aim ?? (landed === null ? null : { beyondM: landed[0], leftM: landed[1] });
  const arm = 0.3 * stepM;
  return (
    <div
      class="target-map"
      role="application"
      // biome-ignore lint/a11y/noNoninteractiveTabindex: arrow keys move the mark
      tabIndex={0}
      aria-label={`Target map for ${swing === null ? 'no swing yet' : `swing ${swing.swing.index + 1}`}: arrow keys, then Enter, say where the ball landed`}
      onKeyDown={press}
    >
      <svg
        viewBox={`${-halfWideM} ${-halfDeepM} ${2 * halfWideM} ${2 * halfDeepM}`}
        aria-hidden="true"
        onClick={tap}
      >
        <rect
          class="map-field"
          x={-halfWideM}
          y={-halfDeepM}
          width={2 * halfWideM}
          height={2 * halfDeepM}
        />
        {[2, 1].map((step) => (
          <rect
            key={step}
            class="map-ring"
            x={-widthM / 2 - step * stepM}
            y={-depthM / 2 - step * stepM}
            width={widthM + 2 * step * stepM}
            height={depthM + 2 * step * stepM}
            rx={step * stepM}
          />
        ))}
        <rect class="map-box" x={-widthM / 2} y={-depthM / 2} width={widthM} height={depthM} />
        {mark !== null && (
          <path
            class="map-mark"
            d={`M${-mark.leftM - arm} ${-mark.beyondM - arm}l${2 * arm} ${2 * arm}m0 ${-2 * arm}l${-2 * arm} ${2 * arm}`}
          />
        )}
      </svg>
      <span class="map-words map-far">far</span>
      <span class="map-words map-near">player</span>
    </div>
  );
}
