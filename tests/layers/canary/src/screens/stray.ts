import 'uplot';
import '../core/clocks/stray.ts';
import { notAType } from '../worker/contract.ts';
export const used = notAType;
