/** Where what is known beside the curve stands on the page. */
export const FACTS_ID = 'read-facts'
/** Where the choice of the failure mode stands on the page. */
export const MODE_ID = 'read-mode'
export const VARIANT_ID = 'read-variant'
