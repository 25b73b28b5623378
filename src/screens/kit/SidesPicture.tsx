import { SENSOR_SIDES, type SideKind } from '../../core/kit/sensor-sides.ts';

interface Props {
  /** Names of the sides that have been up. */
  readonly used: readonly string[];
  /** The side up now; null while it turns. */
  readonly now: string | null;
}

const ROWS: readonly { readonly kind: SideKind; readonly words: string }[] = [
  { kind: 'face', words: 'Faces' },
  { kind: 'edge', words: 'Edges' },
  { kind: 'corner', words: 'Corners' },
];

/** Which faces, edges and corners of the sensor have pointed up: a filled mark each, a ring around the one now up. */
export function SidesPicture({ used, now }: Props) {
  return (
    <dl class="sides">
      {ROWS.map(({ kind, words }) => {
        const sides = SENSOR_SIDES.filter((side) => side.kind === kind);
        const done = sides.filter(({ name }) => used.includes(name)).length;
        return (
          <div key={kind}>
            <dt>{words}</dt>
            <dd>
              <span class="sides-marks" aria-hidden="true">
                {sides.map(({ name }) => (
                  <span
                    key={name}
                    class={`side side-${kind}${used.includes(name) ? ' side-used' : ''}${name === now ? ' side-now' : ''}`}
                  />
                ))}
              </span>
              <span>
                {done} of {sides.length}
              </span>
            </dd>
          </div>
        );
      })}
    </dl>
  );
}
