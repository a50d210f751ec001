/** `1 specimen`, `3 specimens`. */
export const counted = (n: number, noun: string): string => `${n} ${noun}${n === 1 ? '' : 's'}`
