export * from './blockCholesky';
export * from './disjointSets';
export * from './point';
export * from './point3';
export * from './polyline';
export * from './segment';
