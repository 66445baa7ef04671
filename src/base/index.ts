export * from './hash';
export * from './outcome';
export * from './random';
export * from './share';
export * from './work';
