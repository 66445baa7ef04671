export { type NestHost, type NestReply, type NestRequest, serveNest } from './nestServe';
export type { FileCheck, FileKind, ProposalOrder, Reply, Request, WorkOrder } from './protocol';
export { serve, type WorkerHost, type Writers } from './serve';
