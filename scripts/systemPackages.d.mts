/** The browser's path, or `null`. */
export function findBrowser(): string | null
/** Ends the process when something that the tests need is missing and cannot be installed. */
export function needSystemPackages(options?: { readonly slow?: boolean }): void
