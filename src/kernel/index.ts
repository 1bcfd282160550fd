export * from './model/types.ts';
