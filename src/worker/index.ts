export type { FileCheck, Reply, Request, WorkOrder } from './protocol';
export { serve, type WorkerHost, type Writers } from './serve';
