/**
 * A file dropped beside its place would make the browser leave the app and show the file. Who wants
 * dropped files listens for `drop` and takes them; nothing else happens to them.
 */
export function keepStrayDrops(): void {
  for (const kind of ['dragover', 'drop'] as const)
    addEventListener(kind, (event) => event.preventDefault())
}
