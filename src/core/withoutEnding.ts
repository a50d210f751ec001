/** What is the ending of a file's name: a dot and up to five letters or digits, so that a dot within a name is none. */
export const FILE_ENDING = /\.[a-z0-9]{1,5}$/i

/** A file's name without its ending; a name that is all ending stays. */
export const withoutEnding = (name: string): string => name.replace(FILE_ENDING, '') || name
