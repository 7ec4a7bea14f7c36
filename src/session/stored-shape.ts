import type * as v from 'valibot'

/**
 * Paths of the fields of a type, as 'a.b.c'; elements of a list count under the name of the list. Of a
 * union, those of all its members.
 */
export type FieldPaths<T, Before extends string = ''> = T extends readonly (infer Element)[]
  ? FieldPaths<Element, Before>
  : T extends object
    ? {
        [Key in keyof T & string]-?: `${Before}${Key}` | FieldPaths<T[Key], `${Before}${Key}.`>
      }[keyof T & string]
    : never

/** Fields of a shape that its stored form does not know: storing would drop them without a word. */
export type Unstored<Shape, Stored> = Exclude<FieldPaths<Shape>, FieldPaths<Stored>>

type Complete<Shape, Stored> = [Unstored<Shape, Stored>] extends [never]
  ? unknown
  : { readonly 'fields that would be lost': Unstored<Shape, Stored> }

/**
 * A schema that stores every field of `Shape`, optional ones included: one that is missing does not
 * compile, and its path stands in the message.
 *
 * Use: storing<GlowInput>()(v.object({ ... }))
 */
export const storing =
  <Shape>() =>
  <Schema extends v.GenericSchema>(
    schema: Schema & Complete<Shape, v.InferOutput<Schema>>,
  ): Schema =>
    schema
