export {
  crashIssue,
  createEngine,
  type Engine,
  type EngineListener,
  type OpenWorker,
  Refused,
} from './client';
export { openWorker } from './worker';
