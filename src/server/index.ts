export {
  ABSENT,
  type Fingerprint,
  type ProjectFolder,
  READ_LIMITS,
  type ReadLimits,
  readProjectFolder,
  type WriteResult,
  writeProjectFile,
} from './disk.ts';
