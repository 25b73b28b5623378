import type { ScoredSwing } from '../../core/pipeline/outputs.ts';
import type { SweetSpotBand } from '../../core/recording/set-record.ts';
import { Mark, type MarkKind } from '../controls/Mark.tsx';
import { placeOf, type ReachScale, reachScale } from './reach-scale.ts';
import { centimetres, missOf, missWords, voidWords } from './swing-words.ts';
import './last-ten.css';

interface Props {
  readonly band: SweetSpotBand | null;
  readonly swings: readonly ScoredSwing[];
}

const COLUMNS = 10;

/** The last ten swings: reach as a dot against the band, long above, short below; points underneath. */
export function LastTen({ band, swings }: Props) {
  const scale = reachScale(band, swings);
  const shown = swings.slice(-COLUMNS);
  const bottom = (reachM: number): string =>
    scale === null ? '50%' : `${placeOf(scale, reachM) * 100}%`;
  return (
    <section class="last-ten" aria-label="Last ten swings">
      <div class="ten-field" aria-hidden="true">
        <span class="ten-end">long</span>
        <span class="ten-end ten-end-short">short</span>
        {band !== null && (
          <div
            class="ten-band"
            style={{
              bottom: bottom(band.reachM - band.halfWidthM),
              top: `calc(100% - ${bottom(band.reachM + band.halfWidthM)})`,
            }}
          />
        )}
      </div>
      <ol class="ten-columns">
        {shown.map((scored) => (
          <li key={scored.swing.contactTimeUs} aria-label={describe(scored, band)}>
            <div class="ten-slot" aria-hidden="true">
              <span class="ten-dot" style={{ bottom: dotBottom(scored, scale) }}>
                <Mark kind={markOf(scored, band)} sizePx={18} hollow={scored.discarded} />
              </span>
            </div>
            <span class="ten-points" aria-hidden="true">
              {pointsMark(scored)}
            </span>
          </li>
        ))}
      </ol>
    </section>
  );
}

function pointsMark({ swing, points, discarded }: ScoredSwing): string | number {
  if (swing.voidReason === 'air-swing') return 'air';
  return discarded ? 'out' : (points ?? '?');
}

function dotBottom({ swing }: ScoredSwing, scale: ReachScale | null): string {
  if (swing.voidReason !== null || scale === null) return '50%';
  return `${placeOf(scale, swing.reachM) * 100}%`;
}

function markOf({ swing }: ScoredSwing, band: SweetSpotBand | null): MarkKind {
  if (swing.voidReason !== null) return 'void';
  const { side } = missOf(swing.reachM, band);
  return side === 'short' || side === 'long' ? 'off' : side;
}

function describe({ swing, points, discarded }: ScoredSwing, band: SweetSpotBand | null): string {
  const reach =
    swing.voidReason === null
      ? `${centimetres(swing.reachM)} cm, ${missWords(missOf(swing.reachM, band))}`
      : voidWords(swing.voidReason);
  if (swing.voidReason === 'air-swing') return `Swing ${swing.index + 1}: ${reach}`;
  const said = discarded ? 'discarded' : points === null ? 'not scored' : `${points} points`;
  return `Swing ${swing.index + 1}: ${reach}, ${said}`;
}
