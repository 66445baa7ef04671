export * from './blockCholesky';
export * from './point';
export * from './polyline';
