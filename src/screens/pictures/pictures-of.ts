import { anglePlanesPicture } from './angle-planes-picture.tsx';
import { carryOverPicture } from './carry-over-picture.tsx';
import { couplingPicture } from './coupling-picture.tsx';
import { funnelPicture } from './funnel-picture.tsx';
import { manifoldPicture } from './manifold-picture.tsx';
import { orderPicture } from './order-picture.tsx';
import type { PictureSpec } from './picture-spec.ts';
import { qualityPicture } from './quality-picture.tsx';
import type { ReadSet } from './read-set.ts';
import { scoreMapPicture } from './score-map-picture.tsx';
import { sharesPicture } from './shares-picture.tsx';
import { spreadByClassPicture } from './spread-by-class-picture.tsx';
import { sweetSpotPicture } from './sweet-spot-picture.tsx';

/** All pictures of a set in the order of reading; null: its measures are still being computed. */
const PICTURES: readonly ((read: ReadSet) => PictureSpec | null)[] = [
  funnelPicture,
  sweetSpotPicture,
  spreadByClassPicture,
  scoreMapPicture,
  sharesPicture,
  couplingPicture,
  anglePlanesPicture,
  manifoldPicture,
  carryOverPicture,
  orderPicture,
  qualityPicture,
];

/** Every picture of a set whose measures are there, in order, and how many are still to come. */
export function picturesOf(read: ReadSet): {
  readonly pictures: readonly PictureSpec[];
  readonly waiting: number;
} {
  const made = PICTURES.map((make) => make(read));
  const pictures = made.filter((spec) => spec !== null);
  return { pictures, waiting: made.length - pictures.length };
}
