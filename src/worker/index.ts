export type { FileCheck, FileKind, Reply, Request, WorkOrder } from './protocol';
export { serve, type WorkerHost, type Writers } from './serve';
