export const report = 1
