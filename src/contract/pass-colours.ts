/**
 * Colours of the cover by number of passes: four steps of viridis (Smith and van der Walt 2015, CC0), which keep their order
 * in grey and for colour-blind eyes. The server paints tiles with them and the legend names them.
 */
export const passColours = [
  { passes: 1, label: '1 pass', rgb: [59, 82, 139] },
  { passes: 2, label: '2 passes', rgb: [33, 145, 140] },
  { passes: 3, label: '3 passes', rgb: [94, 201, 98] },
  { passes: 4, label: '4 or more', rgb: [253, 231, 37] },
] as const satisfies readonly { passes: number; label: string; rgb: readonly [number, number, number] }[]
