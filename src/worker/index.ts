export { type NestHost, type NestReply, type NestRequest, serveNest } from './nestServe';
export type {
  DryFitOrder,
  FileCheck,
  FileKind,
  ProposalOrder,
  Reply,
  Request,
  SheetOrder,
  WorkOrder,
} from './protocol';
export { serve, type WorkerHost, type Writers } from './serve';
