export const server = 1
