export * from './flavour';
