import { Choice } from '../controls/Choice.tsx';
import { LengthField } from '../controls/LengthField.tsx';
import { Tick } from '../controls/Tick.tsx';
import { blocksOf } from './plan-entry.ts';
import type { PlanModel } from './plan-model.ts';

/** The reach hoped for, and what the player is told of each swing. */
export function FeedbackFields({ model }: { readonly model: PlanModel }) {
  const entry = model.entry.value;
  const { hopedReachCm, halfWidthCm, feedback } = entry;
  const hasBand = !Number.isNaN(hopedReachCm);
  const canFade = blocksOf(entry).length > 1;
  const change = (part: Partial<typeof feedback>): void =>
    model.change({ feedback: { ...feedback, ...part } });
  return (
    <>
      <fieldset class="fields">
        <legend>Sweet-spot band, if known</legend>
        <LengthField
          label="Reach hoped for"
          required={false}
          value={hopedReachCm}
          onChange={(cm) => model.change({ hopedReachCm: cm })}
        />
        <LengthField
          label="Good within ±"
          min={0.5}
          max={50}
          required={hasBand}
          value={halfWidthCm}
          onChange={(cm) => model.change({ halfWidthCm: cm })}
        />
      </fieldset>
      <Choice
        name="cue"
        stacked
        legend="After a swing the player hears"
        value={feedback.cue}
        onChange={(cue) => change({ cue })}
        options={[
          { value: 'none', label: 'Nothing: the ball says enough' },
          { value: 'tone', label: 'A tone: short, and leaves the eyes free' },
          { value: 'speech', label: 'The reach, spoken: says by how much' },
        ]}
      />
      {feedback.cue !== 'none' && (
        <div class="fields">
          <p class="soft">Who hears something after every ball comes to depend on it.</p>
          <Tick
            label="Only off the band"
            hint={hasBand ? 'Silence means good.' : 'Needs a sweet-spot band.'}
            isDisabled={!hasBand}
            isTicked={feedback.isOnlyOffBand && hasBand}
            onChange={(isOnlyOffBand) => change({ isOnlyOffBand })}
          />
          <Tick
            label="Ever less often"
            hint={
              canFade
                ? 'Every swing in the first block, one in four in the last.'
                : 'Needs more than one block.'
            }
            isDisabled={!canFade}
            isTicked={feedback.isFading && canFade}
            onChange={(isFading) => change({ isFading })}
          />
        </div>
      )}
    </>
  );
}
