import { useEffect, useState } from 'preact/hooks';
import { beginSensorSet } from '../begin-set.ts';
import { FunnelChart } from '../chart/FunnelChart.tsx';
import { goTo } from '../route.ts';
import { justEnded, runningSet } from '../running-set.ts';
import type { WorkerClient } from '../worker-client.ts';
import { BlockLine } from './BlockLine.tsx';
import { pressCourtKey } from './court-keys.ts';
import type { CourtModel } from './court-model.ts';
import { type AfterSet, EndPanel } from './EndPanel.tsx';
import { FitGuide } from './FitGuide.tsx';
import { keepAwake } from './keep-awake.ts';
import { LastReach } from './LastReach.tsx';
import { LastTen } from './LastTen.tsx';
import { MorePanel } from './MorePanel.tsx';
import { NextBlock } from './NextBlock.tsx';
import { NotePanel } from './NotePanel.tsx';
import { ScorePad } from './ScorePad.tsx';
import { SensorStrip } from './SensorStrip.tsx';
import { ZeroGuide } from './ZeroGuide.tsx';
import './court.css';
import './panel.css';

interface Props {
  readonly model: CourtModel;
  readonly client: WorkerClient;
}

/** What stands in place of funnel and last ten. */
type Panel = 'none' | 'more' | 'note' | 'next-block' | 'end';

/** The live screen of a running set, read between swings. Every box keeps its place and size. */
export function CourtScreen({ model, client }: Props) {
  const [panel, setPanel] = useState<Panel>('none');
  const [isByMap, setByMap] = useState(true);
  // More swings than planned were asked for in this block.
  const [extendedBlock, setExtendedBlock] = useState(-1);
  useEffect(keepAwake, []);
  useEffect(() => {
    const onKey = (event: KeyboardEvent): void => pressCourtKey(model, event);
    addEventListener('keydown', onKey);
    return () => removeEventListener('keydown', onKey);
  }, [model]);

  const close = (): void => setPanel('none');
  const { block, swings, wanted } = model.progress.value;
  const isFull = wanted !== null && swings >= wanted && extendedBlock !== block;
  const shown = panel === 'none' && isFull ? 'next-block' : panel;
  const planned = model.description.plan?.target ?? null;
  const panels = {
    none: null,
    more: (
      <MorePanel
        model={model}
        onNote={() => setPanel('note')}
        onNextBlock={() => setPanel('next-block')}
        isByMap={planned === null ? null : isByMap}
        onByMap={setByMap}
        onBack={close}
      />
    ),
    note: <NotePanel model={model} onDone={close} />,
    'next-block': (
      <NextBlock
        model={model}
        onBegun={close}
        onMore={() => {
          setExtendedBlock(block);
          close();
        }}
        onEnd={() => setPanel('end')}
      />
    ),
    end: (
      <EndPanel
        model={model}
        client={client}
        onEnd={(then) => void endSet(model, client, then)}
        onBack={close}
      />
    ),
  };
  return (
    <main class="court">
      <h1 class="out-of-sight">Court</h1>
      <SensorStrip view={model} line={quietLine(model)} onConnect={model.connect}>
        <BlockLine progress={model.progress.value} />
      </SensorStrip>
      {isFitting(model) ? (
        <section class="court-fit" aria-label="Sensors">
          {panels[panel] ?? <FitGuide model={model} />}
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
            {panels[shown] ?? (
              <>
                <FunnelChart funnel={model.funnel.value} />
                <LastTen band={model.band.value} swings={model.likeSwings.value} />
              </>
            )}
          </div>
        </>
      )}
      <ScorePad
        model={model}
        isByMap={isByMap}
        onNote={() => setPanel('note')}
        onMore={() => setPanel('more')}
        onEnd={() => setPanel('end')}
      />
    </main>
  );
}

async function endSet(model: CourtModel, client: WorkerClient, then: AfterSet): Promise<void> {
  const { setId, plan, scoreSteps, calibrations = [] } = model.description;
  // a second tap while the last packets come must not leave early
  if (!(await model.end())) return;
  runningSet.value = null;
  if (then === 'start') {
    justEnded.value = setId;
    goTo({ screen: 'start' });
  } else if (then === 'reading') goTo({ screen: 'set', setId });
  else if (plan !== undefined) {
    // Another arm hopes for another reach.
    const conditions = plan.conditions.map((one) => ({ ...one, sweetSpotBand: null }));
    const again = { ...plan, conditions, cautionsConfirmedAtMs: Date.now() };
    beginSensorSet(client, then, { plan: again, scoreSteps }, calibrations);
  }
}

/** Sensors are connected and looked at before the holds; the simulated player's sit already the first time. */
function isFitting({ description, zero }: CourtModel): boolean {
  if (zero.value.phase !== 'not-started') return false;
  return description.source === 'sensors' || zero.value.problem !== null;
}

function quietLine(model: CourtModel): string {
  const { player, armEstimatedFromStatureM } = model.description;
  const saved = model.savedBytes.value;
  const kept = saved === 0 ? 'Nothing saved yet' : `Saved ${Math.ceil(saved / 1000)} kB`;
  const played = model.swings.value.length;
  if (model.playedOut.value)
    return `${kept} · The simulated player has finished its ${played} swings. End the set.`;
  // The reach itself is a guess then, its changes are not.
  const estimate = armEstimatedFromStatureM === undefined ? [] : ['arm length estimated'];
  return [kept, ...estimate, player].join(' · ');
}
