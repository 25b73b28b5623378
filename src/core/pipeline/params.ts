import type { FilterMethod } from '../orientation/filter.ts';

/** What can be chosen about the pipeline; everything else is fixed by the method. */
export interface PipelineParams {
  readonly filter: FilterMethod;
  /** false leaves the headings as the pointing pose set them: only to show what that costs. */
  readonly headingAgreement: boolean;
  /** false keeps the joints where the tape has them. */
  readonly leverRefinement: boolean;
}

export const DEFAULT_PARAMS: PipelineParams = {
  filter: 'vqf',
  headingAgreement: true,
  leverRefinement: true,
};
