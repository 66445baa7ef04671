export { type DryFitInput, dryFit } from './dryFit';
export { gapWorthSaying } from './tolerance';
