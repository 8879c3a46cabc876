/** Types of setup.mjs, which is plain JavaScript so that it runs before anything is installed: what TypeScript uses of it. */
export const compileCache: string
