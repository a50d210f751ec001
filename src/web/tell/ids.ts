/** Where the parts of the page are listed, and where the method is written among them. */
export const BLOCKS_ID = 'tell-parts'
export const METHOD_ID = 'tell-method'
