/** Prints what is on the screen, with everything opened that can be opened. */
export function printPage(): void {
  for (const details of document.querySelectorAll<HTMLDetailsElement>('main.log details')) {
    details.open = true
  }
  print()
}
