/** Names for a handheld are cut to this where nothing else is asked for. */
export const usualNameLength = 30
