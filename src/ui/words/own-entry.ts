/**
 * What a table says of a name that came from outside (a file, the log of another version); undefined
 * for names that it does not know, such as 'constructor', which every object inherits.
 */
export function ownEntry<T>(table: Readonly<Record<string, T>>, name: string): T | undefined {
  return Object.hasOwn(table, name) ? table[name] : undefined
}
