import type { ComponentChild } from 'preact';
import type { Size } from './Frame.tsx';

/** A cell of a picture's numbers; null: not known. */
export type Cell = number | string | null;

/** The numbers behind a drawing. */
export interface PictureTable {
  readonly columns: readonly PictureColumn[];
  readonly rows: readonly (readonly Cell[])[];
}

export interface PictureColumn {
  /** With its unit. */
  readonly name: string;
  /** Decimals on the screen; a saved table has them all. */
  readonly digits: number;
}

/** One way to look at a picture. */
export interface PictureView {
  readonly label: string;
  /** What is drawn, for those who do not see it. */
  readonly alternative: string;
  /** Height over width at which it reads best. */
  readonly aspect?: number;
  readonly draw: (size: Size) => ComponentChild;
  readonly table: PictureTable;
}

/** One picture of a set: the same for the screen, a report, and a saved file. */
export interface PictureSpec {
  /** Part of file names: lower case with hyphens. */
  readonly id: string;
  readonly title: string;
  /** What it says of this player, a whole sentence; where there is nothing to draw, why, and how many swings are lacking. */
  readonly words: string;
  /** More of the same kind. */
  readonly more?: readonly string[];
  /** How to read it, in plain words. */
  readonly explanation: string;
  /** Where the measure comes from. */
  readonly source: string;
  /** None: there is nothing to draw. */
  readonly views: readonly PictureView[];
}
