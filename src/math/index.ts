export * from './point';
export * from './polyline';
