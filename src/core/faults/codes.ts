/**
 * Every fault a person may meet, by the code that programs may rely on.
 * The text here says what the code means in general; the sentence shown is written where the fault is found.
 * Each code has a heading in docs/reference/faults.md (a test holds the two together).
 */
export const faultCodes = {
  'empty-file': 'The file holds nothing.',
  'unknown-kind': 'The file is none of the kinds that can be read.',
  'wrong-extension': 'The name says one kind of file, the bytes another; the bytes were believed.',
  'broken-file': 'The file is damaged or cut short; what stood before the damage was kept.',
  'unsafe-file': 'The file asks for something unsafe (entities, extreme depth, an extreme unpacking ratio).',
  'file-too-large': 'The file is larger than the stated limit.',
  'bad-value': 'A value could not be understood; its row or element was left out.',
  'coordinate-out-of-range': 'A coordinate lies outside the range of its system.',
  'coordinates-swapped': 'Latitude and longitude look swapped.',
  'unsupported-feature': 'An element is valid but has no place in a survey; it was left out.',
  'no-times': 'The fixes carry no times; nothing that needs time can be worked out.',
  'times-backwards': 'Times run backwards; the order of the file was kept.',
  'too-few-fixes': 'The track has no or one fix, so no ground was walked between fixes.',
  'missing-columns': 'The table has no columns that give a position.',
  'area-invalid': 'The polygon crosses itself or has no area.',
  'no-area': 'There is no search area to work in.',
  'no-track': 'There is no walked track to work with.',
  'no-overlap': 'The track does not touch the search area.',
  'setting-out-of-range': 'A setting is outside its allowed range.',
  'raster-too-large': 'The grid would have too many cells; a coarser cell is offered.',
  'outside-grid': 'The place lies outside the grid or its transformation.',
  'bad-coordinate': 'The text is not a coordinate in any known notation.',
  'mixed-grids': 'Things in different grids cannot be worked together.',
  'not-a-survey': 'The file is not a survey.',
  'newer-survey': 'The survey was written by a later version of the program.',
  'survey-locked': 'Another program holds the survey locked.',
  'survey-read-only': 'The survey cannot be written.',
  'survey-exists': 'A file of that name is there already.',
  'survey-missing': 'There is no such file.',
  'survey-damaged': 'The survey file is damaged.',
  'disk-full': 'The disk is full; nothing was changed.',
  'cannot-write': 'The file cannot be written.',
  'not-found': 'There is no such thing in the survey.',
  cancelled: 'The work was cancelled by the user.',
  'nothing-to-export': 'There is nothing of that kind to write.',
  'port-in-use': 'Another program is using the port, or this user may not open it.',
  assumed: 'Something the file does not say was assumed; the sentence says what.',
  'unknown-system': 'The coordinate system is not stated, or not one that is known here.',
  'missing-part': 'A part that belongs to the file is not there; the rest was read.',
  'tie-points-weak': 'The tie points do not pin the picture down.',
} as const satisfies Record<string, string>

export type FaultCode = keyof typeof faultCodes
