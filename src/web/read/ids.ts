/** Where the choice of the failure mode stands on the page. */
export const MODE_ID = 'read-mode'
export const VARIANT_ID = 'read-variant'
