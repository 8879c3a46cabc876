export const work = 1
