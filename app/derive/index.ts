export {
  crashIssue,
  createEngine,
  type Engine,
  type EngineListener,
  type OpenWorker,
  Refused,
} from './client';
export { type NestHandle, type OpenNestWorker, openNestWorker } from './nestWorker';
export { openWorker } from './worker';
