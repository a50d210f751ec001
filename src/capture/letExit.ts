/**
 * A timer that does not keep the program running when all else has ended. In a page every timer ends with the
 * page.
 */
export function letExit(timer: ReturnType<typeof setTimeout>): void {
  if (typeof timer === 'object') timer.unref()
}
