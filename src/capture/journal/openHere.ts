/** Journals that this program has open itself. */
const open = new Set<string>()
export const opened = (path: string): void => void open.add(path)
export const released = (path: string): void => void open.delete(path)
export const isOpenHere = (path: string): boolean => open.has(path)
