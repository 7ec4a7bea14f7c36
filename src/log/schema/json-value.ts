/** Plain data as JSON can carry it. */
export type Json =
  | null
  | boolean
  | number
  | string
  | readonly Json[]
  | { readonly [name: string]: Json }

/** Bounds of a JSON value from outside. */
export interface JsonLimits {
  /** Containers within containers; a bare number has depth 0. */
  readonly depth: number
  /** Characters of its compact JSON text, roughly (escapes are not counted). */
  readonly characters: number
}

/** What a reading may carry of inputs and of details. */
export const BLOB_LIMITS: JsonLimits = { depth: 24, characters: 1_000_000 }

/**
 * Members of one object. Real ones have some tens, and the time to read an object grows faster than
 * their number: a million take 20 s.
 */
export const MEMBERS_MOST = 2000

export type JsonProblem = 'not plain data' | 'too deep' | 'too large' | 'forbidden name'

/** Names that reach into an object's prototype when copied carelessly. */
const FORBIDDEN = new Set(['__proto__', 'constructor', 'prototype'])

/**
 * Why a value may not be kept as JSON, or null when it may. Never throws and never recurses (a value
 * 100,000 levels deep must not end the program), ends early on cycles through the depth limit.
 */
export function jsonProblem(value: unknown, limits: JsonLimits = BLOB_LIMITS): JsonProblem | null {
  let characters = 0
  const open: { value: unknown; depth: number }[] = [{ value, depth: 0 }]
  for (let next = open.pop(); next !== undefined; next = open.pop()) {
    const { value: here, depth } = next
    if (here === null || typeof here === 'boolean') characters += 5
    else if (typeof here === 'number') {
      if (!Number.isFinite(here)) return 'not plain data'
      characters += 8
    } else if (typeof here === 'string') characters += here.length + 2
    else if (typeof here === 'object') {
      if (depth >= limits.depth) return 'too deep'
      characters += 2
      if (Array.isArray(here)) {
        // The bound comes before the walk: an array may be long and empty.
        if (characters + here.length > limits.characters) return 'too large'
        for (let i = 0; i < here.length; i++) open.push({ value: here[i], depth: depth + 1 })
        characters += here.length
      } else {
        const prototype: unknown = Object.getPrototypeOf(here)
        if (prototype !== Object.prototype && prototype !== null) return 'not plain data'
        const members = Object.entries(here)
        if (members.length > MEMBERS_MOST) return 'too large'
        for (const [name, inner] of members) {
          if (FORBIDDEN.has(name)) return 'forbidden name'
          characters += name.length + 4
          open.push({ value: inner, depth: depth + 1 })
        }
      }
    } else return 'not plain data'
    if (characters > limits.characters) return 'too large'
  }
  return null
}

/**
 * One text for one value: names sorted, so that two records are the same exactly when their texts
 * are. For values that passed {@link jsonProblem}.
 */
export function canonicalText(value: Json): string {
  if (value === null || typeof value !== 'object') return JSON.stringify(value)
  if (Array.isArray(value)) return `[${value.map(canonicalText).join(',')}]`
  const record = value as { readonly [name: string]: Json }
  const names = Object.keys(record).sort()
  return `{${names.map((name) => `${JSON.stringify(name)}:${canonicalText(record[name]!)}`).join(',')}}`
}
