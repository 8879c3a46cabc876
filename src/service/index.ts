export const service = 1
