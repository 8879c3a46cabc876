export { type FindPlace, type Fragment, fragmentsOf } from './fragment.ts'
export { type JoinGroup, joinGroups, type ObjectCounts, objectCounts } from './join-groups.ts'
export {
  type JoinLine,
  type JoinScatter,
  joinScatter,
  type PlacedNumber,
  togetherOf,
} from './join-scatter.ts'
export { type FindToJoin, joiningPairs } from './joining-pairs.ts'
export { groundWeights, type JoinGround, type Likeness } from './likeness.ts'
export { type JoinProposal, type Pair, type ProposeOptions, pairOf, proposeJoins } from './propose-joins.ts'
