import fc from 'fast-check'

/**
 * Property tests draw the same cases at every run, so that a change is judged by itself. Set LYNCHET_SEED to another whole
 * number to look further; a failure says which seed it came from.
 */
fc.configureGlobal({ seed: Number(process.env.LYNCHET_SEED ?? 20_261_125) })
