/** Ground to be searched, the bounds of a field, ground to be left alone, ground to be careful on. */
export const areaKinds = ['search', 'field', 'no-go', 'hazard'] as const
export type AreaKind = (typeof areaKinds)[number]
