export { type DryFitInput, dryFit } from './dryFit';
export { foldWorthMending, gapWorthSaying } from './tolerance';
