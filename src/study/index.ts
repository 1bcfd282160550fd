export {
  type CalcAnswer,
  type CalcProblem,
  CalcRefusal,
  type CalcTopic,
  calcSchemas,
  calcTopicNames,
  loadCalcTopic,
  runCalc,
} from './calc/index.ts';
