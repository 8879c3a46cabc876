export const formats = 1
