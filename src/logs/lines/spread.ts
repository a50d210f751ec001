/** The golden ratio less one: its multiples, less their whole parts, fall nowhere together. */
const GOLDEN = (Math.sqrt(5) - 1) / 2

/**
 * The k-th of places that are picked about `step` apart, at another place within each step: what comes again
 * every so many rows, as in a log whose channels take turns, is then met in every one of its phases.
 */
export const spreadPlace = (k: number, step: number): number => Math.floor((k + ((k * GOLDEN) % 1)) * step)
