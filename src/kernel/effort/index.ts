export type { ElementKind, HandledStep, HandledTime, TimedElement } from './handed-time.ts';
