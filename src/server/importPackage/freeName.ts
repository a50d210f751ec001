/** The name, or with the first number behind it that makes it one of its own: `Handles (2)`. */
export function freeName(name: string, taken: ReadonlySet<string>): string {
  let free = name
  for (let n = 2; taken.has(free); n++) free = `${name} (${n})`
  return free
}
