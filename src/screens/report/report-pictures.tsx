import type { ReportedSet } from '../../reports/reported-set.ts';
import { funnelPicture } from '../pictures/funnel-picture.tsx';
import type { PictureView } from '../pictures/picture-spec.ts';
import { scoreMapPicture } from '../pictures/score-map-picture.tsx';
import { pointsView } from './points-view.tsx';

/** A picture of the plain page. */
export interface DrawnPicture extends Pick<PictureView, 'draw' | 'alternative'> {
  readonly title: string;
  /** null where the title says it all. */
  readonly caption: string | null;
}

/** The funnel, and the balls: where they landed or else how they scored. What has nothing to draw is left out. */
export function reportPictures(set: ReportedSet): DrawnPicture[] {
  const funnel = funnelPicture(set)?.views[0];
  const landed = scoreMapPicture(set)?.views[0];
  const points = landed === undefined ? pointsView(set) : null;
  return [
    ...(funnel === undefined
      ? []
      : [
          {
            ...funnel,
            title: 'The funnel: how much reach differs',
            caption:
              'From the start of the swing, left, to contact, right. A line that lies in the grey says nothing about the player.',
          },
        ]),
    ...(landed === undefined
      ? []
      : [
          {
            ...landed,
            title: 'Where the balls landed',
            caption: 'Seen from above, the player looking up. Zero is the middle of the target.',
          },
        ]),
    ...(points === null ? [] : [{ ...points, title: 'How the balls scored', caption: null }]),
  ];
}
