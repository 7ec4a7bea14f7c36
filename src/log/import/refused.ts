/** Why a file from outside is not read. The sentences stand in src/ui/words/log-errors.ts. */
export type Refusal =
  /** No JSON or ZIP of this app. */
  | { readonly code: 'not ours' }
  /** Written by a newer version of the app. */
  | { readonly code: 'newer version'; readonly version: number }
  /** Cut short, or changed on its way. */
  | { readonly code: 'broken'; readonly where: string }
  /** A record or the file is larger, deeper or has more entries than any log of this app. */
  | { readonly code: 'too large'; readonly where: string }
  /** A record does not have the shape it should have. */
  | { readonly code: 'wrong content'; readonly where: string }
  /** A picture is not the one that its reading was saved with. */
  | { readonly code: 'wrong picture'; readonly id: string }

export class RefusedFile extends Error {
  override readonly name = 'RefusedFile'
  constructor(
    readonly refusal: Refusal,
    options?: ErrorOptions,
  ) {
    super(`file refused: ${refusal.code}`, options)
  }
}

export const broken = (where: string) => new RefusedFile({ code: 'broken', where })
export const tooLarge = (where: string) => new RefusedFile({ code: 'too large', where })
export const wrongContent = (where: string) => new RefusedFile({ code: 'wrong content', where })
