import { carryOverWords } from '../../core/measures/picture-words.ts';
import { MEASURES } from '../../core/measures/thresholds.ts';
import { Frame } from './Frame.tsx';
import type { PictureSpec } from './picture-spec.ts';
import type { ReadSet } from './read-set.ts';
import { Band, Curve, Rule } from './shapes.tsx';
import { SWING_AXIS } from './swing-axis.ts';

const { carriedFrom, midSwingPercent } = MEASURES.funnel.limits;

/** How much of an early deviation is still there at contact. */
export function carryOverPicture({ measures }: ReadSet): PictureSpec | null {
  const measure = measures.funnel;
  if (measure === undefined) return null;
  const { evidence, guards, verdict } = measure;
  const about = {
    id: 'carry-over',
    title: 'Carry-over: is a swing that starts off still off at contact?',
    explanation: `At each moment: do swings with a longer reach there also have a longer reach at contact? 1 means that what is off stays off, as in a swing that runs by itself; 0 means that nothing of it is left, as when it is put right on the way. Near contact the line must rise to 1. At mid-swing (${midSwingPercent} %) a value of ${carriedFrom} and more counts as carried on.`,
    source: 'Correlation over swings with Fisher’s interval (Fisher 1921).',
  };
  if (evidence === null || guards === null) return { ...about, words: verdict.words, views: [] };
  const { value, low, high } = evidence.carryOver;
  const percent = Array.from(value, (_, i) => i);
  const words = carryOverWords(guards.carryOver, evidence.carryOver);
  return {
    ...about,
    words,
    views: [
      {
        label: 'through the swing',
        alternative: `A line from ${value[0]!.toFixed(2)} at the start to 1 at contact.`,
        draw: (size) => (
          <Frame
            size={size}
            x={SWING_AXIS}
            y={{ low: -1, high: 1, label: 'Agreement with contact, from −1 to 1' }}
            legend={[
              { label: 'agreement', colour: '--in', kind: 'line' },
              { label: '95 % interval', colour: '--in-soft', kind: 'area' },
            ]}
          >
            {(plot) => (
              <>
                <Band plot={plot} x={percent} low={low} high={high} colour="--in-soft" />
                <Curve plot={plot} x={percent} y={value} colour="--in" />
                <Rule
                  plot={plot}
                  at={midSwingPercent}
                  colour="--ink-soft"
                  label="mid-swing"
                  isLabelLow
                  isVertical
                />
              </>
            )}
          </Frame>
        ),
        table: {
          columns: [
            { name: 'Swing time, %', digits: 0 },
            { name: 'Agreement with contact (r)', digits: 2 },
            { name: '95 % from', digits: 2 },
            { name: '95 % to', digits: 2 },
          ],
          rows: percent.map((at) => [at, value[at]!, low[at]!, high[at]!]),
        },
      },
    ],
  };
}
