/** What is made of each item, in order; while one is taken, the next ones are in the making. */
export async function* ahead<T, R>(
  items: readonly T[],
  make: (item: T) => R | Promise<R>,
  most = 3,
): AsyncGenerator<R> {
  const coming: Promise<R>[] = []
  const begin = (item: T) => {
    const made = Promise.resolve(item).then(make)
    // Heard where it is taken; here only so that one which fails meanwhile is no fault of the process.
    made.catch(() => {})
    coming.push(made)
  }
  for (const [i, item] of items.entries()) {
    begin(item)
    if (i >= most - 1) yield await coming.shift()!
  }
  for (const made of coming) yield await made
}
