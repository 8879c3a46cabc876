export { readWordList, type WordListContent } from './read-word-list.ts'
