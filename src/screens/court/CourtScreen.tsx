import { useEffect } from 'preact/hooks';
import { FunnelChart } from '../chart/FunnelChart.tsx';
import { goTo } from '../route.ts';
import { runningSet } from '../running-set.ts';
import type { CourtModel } from './court-model.ts';
import { FitGuide } from './FitGuide.tsx';
import { keepAwake } from './keep-awake.ts';
import { LastReach } from './LastReach.tsx';
import { LastTen } from './LastTen.tsx';
import { ScorePad } from './ScorePad.tsx';
import { SensorStrip } from './SensorStrip.tsx';
import { ZeroGuide } from './ZeroGuide.tsx';
import './court.css';

/** The live screen of a running set, read between swings. Every box keeps its place and size. */
export function CourtScreen({ model }: { readonly model: CourtModel }) {
  useEffect(keepAwake, []);
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => pressKey(model, event);
    addEventListener('keydown', onKey);
    return () => removeEventListener('keydown', onKey);
  }, [model]);

  const end = async (): Promise<void> => {
    await model.end();
    runningSet.value = null;
    goTo({ screen: 'start' });
  };
  return (
    <main class="court">
      <h1 class="out-of-sight">Court</h1>
      <SensorStrip view={model} line={quietLine(model)} onConnect={model.connect} />
      {isFitting(model) ? (
        <section class="court-fit" aria-label="Sensors">
          <FitGuide model={model} />
        </section>
      ) : (
        <>
          <section class="court-reach" aria-label="Last reach">
            {model.zero.value.phase === 'zeroed' ? (
              <LastReach view={model} />
            ) : (
              <ZeroGuide view={model} />
            )}
          </section>
          <div class="court-between">
            <FunnelChart funnel={model.funnel.value} />
            <LastTen band={model.description.sweetSpotBand} swings={model.swings.value} />
          </div>
        </>
      )}
      <ScorePad model={model} onEnd={() => void end()} />
    </main>
  );
}

/** Real sensors are connected and looked at before the holds; simulated ones sit already. */
function isFitting(model: CourtModel): boolean {
  return model.description.source === 'sensors' && model.zero.value.phase === 'not-started';
}

function quietLine(model: CourtModel): string {
  const { player, implement, ball, armEstimatedFromStatureM } = model.description;
  const saved = model.savedBytes.value;
  const kept = saved === 0 ? 'Nothing saved yet' : `Saved ${Math.ceil(saved / 1000)} kB`;
  if (model.playedOut.value) return `${kept} · The player has played the last ball.`;
  // The reach itself is a guess then, its changes are not.
  const estimate = armEstimatedFromStatureM === undefined ? [] : ['arm length estimated'];
  return [kept, ...estimate, player, implement, ball].join(' · ');
}

function pressKey(model: CourtModel, event: KeyboardEvent): void {
  if (event.repeat || event.ctrlKey || event.altKey || event.metaKey) return;
  const points = model.description.scoreSteps[Number(event.key) - 1];
  if (points !== undefined) model.score(points);
  else if (event.key.toLowerCase() === 'u') model.undo();
  else if (event.key.toLowerCase() === 'd') model.discard();
}
