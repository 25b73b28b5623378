import type { SweetSpotBand } from '../../core/recording/set-record.ts';
import { placeOf, type ReachScale, ticksOf } from './reach-scale.ts';
import { missOf } from './swing-words.ts';
import './reach-ruler.css';

interface Props {
  readonly scale: ReachScale;
  readonly band: SweetSpotBand | null;
  /** null draws the empty ruler. */
  readonly reachM: number | null;
}

/**
 * A short ruler of reach, short to the left, long to the right.
 * The bar runs from the edge of the sweet-spot band to the last reach: its side and length are the miss.
 */
export function ReachRuler({ scale, band, reachM }: Props) {
  const bandFrom = band === null ? 0 : placeOf(scale, band.reachM - band.halfWidthM);
  const bandTo = band === null ? 0 : placeOf(scale, band.reachM + band.halfWidthM);
  const side = reachM === null ? null : missOf(reachM, band).side;
  const place = reachM === null ? 0 : placeOf(scale, reachM);
  return (
    <div class="ruler" aria-hidden="true">
      <span class="ruler-end">short</span>
      <span class="ruler-end ruler-end-long">long</span>
      {band !== null && (
        <div
          class="ruler-band"
          style={{ left: percent(bandFrom), width: percent(bandTo - bandFrom) }}
        />
      )}
      <div class="ruler-line" />
      {side === 'short' && (
        <div
          class="ruler-miss"
          style={{ left: percent(place), width: percent(bandFrom - place) }}
        />
      )}
      {side === 'long' && (
        <div class="ruler-miss" style={{ left: percent(bandTo), width: percent(place - bandTo) }} />
      )}
      {ticksOf(scale).map((tickM) => (
        <span key={tickM} class="ruler-tick" style={{ left: percent(placeOf(scale, tickM)) }}>
          {Math.round(tickM * 100)}
        </span>
      ))}
      {side !== null && (
        <svg
          class={`ruler-pointer ruler-pointer-${side}`}
          viewBox="0 0 32 40"
          aria-hidden="true"
          style={{ left: percent(place) }}
        >
          <path d={side === 'in' ? 'M16 40L10 31A15 15 0 1 1 22 31z' : 'M16 40L1 4H31z'} />
        </svg>
      )}
    </div>
  );
}

function percent(share: number): string {
  return `${(share * 100).toFixed(2)}%`;
}
