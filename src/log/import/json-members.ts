/**
 * A JSON object read as a stream: the elements of its lists come one by one, so that a file of any
 * length takes the memory of one record. Size and depth are bounded before anything is parsed.
 * What JSON.parse refuses is refused here; the walk itself only finds where a value ends.
 */
import { broken, RefusedFile, tooLarge, wrongContent } from './refused.ts'

export interface Member {
  readonly name: string
  /** Place in its list; null for a value that stands by itself. */
  readonly index: number | null
  readonly value: unknown
}

export interface MemberLimits {
  readonly recordCharacters: number
  readonly memberCharacters: number
  readonly depth: number
  readonly membersOfObject: number
  readonly containers: number
}

/** @param lists names of the members whose elements come one by one */
export async function* jsonMembers(
  chunks: AsyncIterable<string>,
  lists: readonly string[],
  limits: MemberLimits,
): AsyncGenerator<Member> {
  const walk = new Walk(lists, limits)
  for await (const chunk of chunks) {
    walk.feed(chunk)
    yield* walk.take()
  }
  walk.end()
  yield* walk.take()
}

type Expecting =
  | 'opening brace'
  | 'name or end'
  | 'name'
  | 'colon'
  | 'value'
  | 'comma or end'
  | 'element or end'
  | 'element'
  | 'comma or end of list'
  | 'nothing'

class Walk {
  private expecting: Expecting = 'opening brace'
  private name = ''
  private index: number | null = null
  private readonly seen = new Set<string>()
  private found: Member[] = []
  /** Text of the value being read so far, from earlier chunks. */
  private text = ''
  private inValue = false
  private inString = false
  private escaped = false
  private depth = 0
  /** Members so far of each open container. */
  private readonly members: number[] = []
  private containers = 0

  constructor(
    private readonly lists: readonly string[],
    private readonly limits: MemberLimits,
  ) {}

  *take(): Generator<Member> {
    const { found } = this
    this.found = []
    yield* found
  }

  end(): void {
    if (this.expecting === 'opening brace') throw new RefusedFile({ code: 'not ours' })
    if (this.expecting !== 'nothing' || this.inValue) throw broken('end is missing')
  }

  feed(chunk: string): void {
    let at = 0
    while (at < chunk.length) at = this.inValue ? this.value(chunk, at) : this.between(chunk, at)
  }

  /** Structure between values; returns where to go on. */
  private between(chunk: string, at: number): number {
    const c = chunk[at]!
    if (c === ' ' || c === '\n' || c === '\r' || c === '\t') return at + 1
    // A byte order mark that some editors add.
    if (c === '\uFEFF' && this.expecting === 'opening brace') return at + 1
    switch (this.expecting) {
      case 'opening brace':
        if (c !== '{') throw new RefusedFile({ code: 'not ours' })
        this.expecting = 'name or end'
        return at + 1
      case 'name or end':
      case 'name':
        if (c === '}' && this.expecting === 'name or end') return this.finish(at)
        if (c !== '"') throw broken('a name is missing')
        return this.begin(at)
      case 'colon':
        if (c !== ':') throw broken('a colon is missing')
        this.expecting = 'value'
        return at + 1
      case 'value':
        if (this.lists.includes(this.name)) {
          if (c !== '[') throw wrongContent(`${this.name}: no list`)
          this.index = 0
          this.expecting = 'element or end'
          return at + 1
        }
        return this.begin(at)
      case 'element or end':
      case 'element':
        if (c === ']' && this.expecting === 'element or end') {
          this.expecting = 'comma or end'
          return at + 1
        }
        return this.begin(at)
      case 'comma or end of list':
        if (c === ']') this.expecting = 'comma or end'
        else if (c === ',') this.expecting = 'element'
        else throw broken('a comma is missing')
        return at + 1
      case 'comma or end':
        if (c === '}') return this.finish(at)
        if (c !== ',') throw broken('a comma is missing')
        this.expecting = 'name'
        return at + 1
      case 'nothing':
        throw broken('something follows the end')
    }
  }

  private finish(at: number): number {
    this.expecting = 'nothing'
    return at + 1
  }

  private begin(at: number): number {
    this.inValue = true
    this.text = ''
    this.depth = 0
    this.containers = 0
    return at
  }

  /** Goes on to the end of a value or of the chunk; returns where it ended. */
  private value(chunk: string, from: number): number {
    const bare = (code: number) =>
      code === 0x2c || code === 0x7d || code === 0x5d || code <= 0x20 || code === 0x3a
    for (let at = from; at < chunk.length; at++) {
      const code = chunk.charCodeAt(at)
      if (this.inString) {
        if (this.escaped) this.escaped = false
        else if (code === 0x5c) this.escaped = true
        else if (code === 0x22) {
          this.inString = false
          if (this.depth === 0) return this.close(chunk, from, at + 1)
        }
      } else if (code === 0x22) {
        if (this.depth === 0 && this.text.length + at - from > 0) throw broken('a stray quote')
        this.inString = true
      } else if (code === 0x7b || code === 0x5b) {
        // The object and its list are two levels around this value.
        if (++this.depth > this.limits.depth - 2) throw tooLarge(`${this.where()}: too deep`)
        if (++this.containers > this.limits.containers) throw tooLarge(`${this.where()}: too many`)
        this.members[this.depth] = 0
      } else if (code === 0x3a && this.depth > 0) {
        if (++this.members[this.depth]! > this.limits.membersOfObject) {
          throw tooLarge(`${this.where()}: too many names`)
        }
      } else if (code === 0x7d || code === 0x5d) {
        if (this.depth === 0) return this.close(chunk, from, at)
        if (--this.depth === 0) return this.close(chunk, from, at + 1)
      } else if (this.depth === 0 && bare(code)) {
        return this.close(chunk, from, at)
      }
    }
    this.add(chunk.slice(from))
    return chunk.length
  }

  private add(text: string): void {
    const most = this.index === null ? this.limits.memberCharacters : this.limits.recordCharacters
    if (this.text.length + text.length > most) throw tooLarge(this.where())
    this.text += text
  }

  private close(chunk: string, from: number, to: number): number {
    this.add(chunk.slice(from, to))
    this.inValue = false
    let value: unknown
    try {
      value = JSON.parse(this.text)
    } catch (error) {
      throw new RefusedFile({ code: 'broken', where: this.where() }, { cause: error })
    }
    this.text = ''
    this.took(value)
    return to
  }

  private took(value: unknown): void {
    switch (this.expecting) {
      case 'name':
      case 'name or end':
        this.name = String(value)
        // Of two members with one name the later would hide the earlier.
        if (this.seen.has(this.name)) throw wrongContent(`${this.name.slice(0, 40)}: twice`)
        if (this.seen.size >= 100) throw tooLarge('names')
        this.seen.add(this.name)
        this.index = null
        this.expecting = 'colon'
        return
      case 'value':
        this.found.push({ name: this.name, index: null, value })
        this.expecting = 'comma or end'
        return
      default:
        this.found.push({ name: this.name, index: this.index, value })
        this.index = (this.index ?? 0) + 1
        this.expecting = 'comma or end of list'
    }
  }

  private where(): string {
    const name = this.name.slice(0, 40)
    return this.index === null ? name : `${name}[${this.index}]`
  }
}
