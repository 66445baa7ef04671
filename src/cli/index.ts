export type { CommandIo } from './io';
export { main } from './main';
