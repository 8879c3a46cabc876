export const ui = 1
