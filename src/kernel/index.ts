export * from './envelope/index.ts';
export * from './linkage/index.ts';
export * from './mass/index.ts';
export * from './math/index.ts';
export * from './model/types.ts';
export * from './rider/index.ts';
export * from './simple/index.ts';
export * from './steer/index.ts';
