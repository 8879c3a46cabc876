export const cli = 1
