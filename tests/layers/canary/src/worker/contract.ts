export const notAType = 1;
