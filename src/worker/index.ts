export type { FileCheck, Reply, Request, WorkOrder } from './protocol';
