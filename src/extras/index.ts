export { type ExtraSurface, makeExtras } from './makeExtras';
export { openingChoices } from './openings';
