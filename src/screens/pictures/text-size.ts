/** Height of the text in drawings, pixels. */
export const TEXT_PX = 13;
/** Mean width of a letter, as a share of the height; a little too wide rather than too narrow. */
export const LETTER = 0.56;
