/**
 * What a person does in the app, said once: the journeys are written with it and go through every
 * engine. `app-by-hand.ts` presses as a hand does; `tests/engines/app-by-script.ts` does it by scripts
 * in the page, for engines whose drivers can do no more.
 */
export interface App {
  /** Opens a place and stands past the cautions. */
  open(place?: string): Promise<void>
  /** Presses the first control on show with this name. */
  press(name: string | RegExp): Promise<void>
  choose(label: string, value: string): Promise<void>
  fill(label: string, text: string): Promise<void>
  /** Gives files to the file input on show that takes such files or is called so. */
  giveFiles(files: readonly GivenFile[], called: string): Promise<void>
  /** From now on files that leave the app are caught: see {@link leftFile}. */
  catchFiles(): Promise<void>
  /** The next file that has left the app. */
  leftFile(): Promise<GivenFile>
  /** Waits until the text stands on the screen. */
  see(text: string | RegExp): Promise<void>
  /** The text of the first element on show that fits and, where a text is wanted, holds it. */
  textOf(selector: string, wanted?: RegExp): Promise<string>
  count(selector: string): Promise<number>
  /**
   * Runs the body of an async function with `args` in the page: for what no person does.
   *
   * @returns its value, as JSON carries it
   */
  run<T>(body: string, ...args: unknown[]): Promise<T>
}

export interface GivenFile {
  readonly name: string
  readonly type: string
  readonly bytes: Uint8Array
}
