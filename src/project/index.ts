export {
  type BoxSpace,
  type Brief,
  type Demand,
  type Given,
  type Hands,
  type OpeningSpace,
  readBrief,
  type Sex,
  type Space,
  type StandSpace,
  type Wish,
} from './brief.ts';
export type { BriefLoads, GivenFigures } from './brief-loads.ts';
export {
  DETAILS,
  type Detail,
  type DetailClass,
  type DetailStress,
  detailNames,
  detailsFor,
  findDetail,
  usualDetail,
} from './data/details.ts';
export {
  type JointPrinciple,
  type OpeningWay,
  type PrincipleWear,
  principleBox,
  principleMass,
  principlePlay,
  type StiffnessName,
  stiffnessScale,
} from './data/joint-principle.ts';
export { findPrinciple, JOINT_SHELF, principleNames, usualPrinciple } from './data/joint-shelf.ts';
export type { BareFatigue, FatigueFamily, PlasticState } from './data/material-strength.ts';
export { bareMetal, findMaterial, type Material, materialIn, materialNames } from './data/materials.ts';
export { findPart, partNames, partParameters } from './data/parts.ts';
export { STOCK_LISTS, type StockList, type StockTube, stockFor, wallSeries } from './data/stock.ts';
export { readTyreSize, type TyreSize } from './data/tyre-size.ts';
export {
  type Compiled,
  compileExpression,
  type Dependent,
  type Evaluate,
  type ExpressionNode,
  type ExpressionProblem,
  evaluateConstant,
  functionNames,
  orderByDependency,
  parseExpression,
  references,
  type Scope,
} from './expression.ts';
export { type Imported, type ImportOptions, importGeometry, type Plane } from './import.ts';
export { CURRENT_FORMAT } from './migrations.ts';
export { nearestName } from './nearest.ts';
export { type Nudge, nudgeLiteral } from './nudge.ts';
export { readOwnParts } from './parts-file.ts';
export { PROBLEM_CODES, type Problem, type ProblemCode } from './problems.ts';
export { type Project, readProject } from './project.ts';
export { printable, renderProblem, renderProblems } from './render.ts';
export type { Hardware, HardwareOpening } from './resolve/hardware.ts';
export type { OwnPart, OwnParts } from './resolve/part-values.ts';
export type { SlotInfo } from './resolve/program.ts';
export { type ResolvedCandidate, type ResolveOptions, resolveCandidate } from './resolve.ts';
export { type Edit, insertItem, insertKey, removeKey, renameKey, scalarText, setValue } from './save.ts';
export type { CandidateData } from './schema/candidate-schema.ts';
export { valueAt } from './schema/check-structure.ts';
export { jsonSchemas, type SchemaName } from './schema/json-schemas.ts';
export { starterFiles } from './starter.ts';
export {
  LARGEST_FILE,
  type Path,
  type ProblemExtra,
  problemAt,
  readDocument,
  type SourceDocument,
  type Span,
} from './text.ts';
export {
  DIMENSION,
  type Dimension,
  describeDimension,
  formatQuantity,
  inSI,
  nameDimension,
  parseUnit,
  sameDimension,
  timesDimension,
  type Unit,
} from './units.ts';
export { decodeUtf8 } from './utf8.ts';
export { withDifferences, withVariant } from './variants.ts';
