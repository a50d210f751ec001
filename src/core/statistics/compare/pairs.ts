/** Every pair of indices, the first index before the second. */
export const pairs = (count: number): [number, number][] =>
  Array.from({ length: count }, (_, a) =>
    Array.from({ length: count - a - 1 }, (_, i): [number, number] => [a, a + 1 + i]),
  ).flat()
