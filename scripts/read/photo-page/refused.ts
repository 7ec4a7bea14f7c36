/** Ends a case with the code of a refusal. */
export class Refused extends Error {
  constructor(
    readonly code: string,
    readonly findings: readonly unknown[] = [],
  ) {
    super(code)
  }
}
