export * from './blockCholesky';
export * from './point';
export * from './point3';
export * from './polyline';
export * from './segment';
