export const field = 1
