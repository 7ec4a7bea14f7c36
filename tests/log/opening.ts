import 'fake-indexeddb/auto'
import type { LogOptions } from '../../src/log/open-log.ts'
import { openLog } from '../../src/log/open-log.ts'
import { LogError, type LogFailure } from '../../src/log/schema/errors.ts'
import type { Log, NewReading, Result } from '../../src/log/schema/types.ts'

/** Where the mark of presence lies in tests. */
export function memoryMarks(): {
  getItem(n: string): string | null
  setItem(n: string, t: string): void
} {
  const texts = new Map<string, string>()
  return {
    getItem: (name) => texts.get(name) ?? null,
    setItem: (name, text) => void texts.set(name, text),
  }
}

let names = 0
export const freshName = () => `log under test ${names++}`

/** A clock that goes on by a second at each look, from a fixed moment. */
export function tickingClock(from = '2025-03-01T10:00:00Z'): () => Date {
  let ms = Date.parse(from)
  return () => {
    ms += 1000
    return new Date(ms)
  }
}

const open: Log[] = []

export async function openTestLog(options: LogOptions = {}): Promise<Log> {
  const log = await openLog({
    name: freshName(),
    now: tickingClock(),
    zone: () => 'Europe/Vienna',
    storage: null,
    marks: memoryMarks(),
    ...options,
  })
  open.push(log)
  return log
}

/** To be called after each test: broadcast channels keep the process alive. */
export function closeTestLogs(): void {
  for (const log of open.splice(0)) log.close()
}

/** What the log rejects with; no rejection, or another error, fails the test. */
export async function failureOf(work: Promise<unknown>): Promise<LogFailure> {
  const error = await work.then(
    () => 'nothing was rejected',
    (e: unknown) => e,
  )
  if (!(error instanceof LogError)) throw new Error(`no LogError: ${String(error)}`)
  return error.failure
}

export function temperatureResult(temperatureK: number, standardUncertaintyK = 10): Result {
  return {
    kind: 'temperature',
    temperatureK,
    standardUncertaintyK,
    expandedUncertaintyK: 2 * standardUncertaintyK,
    interval95K: [temperatureK - 2 * standardUncertaintyK, temperatureK + 2 * standardUncertaintyK],
    budget: [
      { term: 'camera', contributionK: 0.8 * standardUncertaintyK, sharedBy: 'camera a' },
      { term: 'pixel noise', contributionK: 0.6 * standardUncertaintyK, sharedBy: null },
    ],
    methodVersion: '1',
  }
}

export function draft(changes: Partial<NewReading> = {}): NewReading {
  return { method: 'photo', result: temperatureResult(1173), object: 'Kiln shelf', ...changes }
}

/** A JPEG with a JFIF head, metadata with a place, an ICC profile, a comment and a scan. */
export function jpegWithMetadata(): Uint8Array<ArrayBuffer> {
  const text = (s: string) => [...s].map((c) => c.charCodeAt(0))
  const segment = (marker: number, content: number[]) => [
    0xff,
    marker,
    (content.length + 2) >> 8,
    (content.length + 2) & 0xff,
    ...content,
  ]
  return new Uint8Array([
    0xff,
    0xd8,
    ...segment(0xe0, [...text('JFIF\0'), 1, 1, 0, 0, 1, 0, 1, 0, 0]),
    ...segment(0xe1, text('Exif\0\0GPSLatitude 48 12 30')),
    ...segment(0xe2, [...text('ICC_PROFILE\0'), 1, 1, 1, 2, 3]),
    ...segment(0xed, text('Photoshop 3.0 city')),
    ...segment(0xfe, text('comment with a place')),
    ...segment(0xdb, [0, ...new Array<number>(64).fill(1)]),
    ...segment(0xda, [1, 1, 0, 0, 63, 0]),
    1,
    2,
    0xff,
    0,
    3,
    0xff,
    0xd9,
    ...text('trailing preview'),
  ])
}

export function jpegBlob(): Blob {
  return new Blob([jpegWithMetadata()], { type: 'image/jpeg' })
}

export async function bytesOf(chunks: AsyncIterable<Uint8Array>): Promise<Uint8Array<ArrayBuffer>> {
  const parts: Uint8Array[] = []
  for await (const chunk of chunks) parts.push(chunk.slice())
  const all = new Uint8Array(parts.reduce((sum, part) => sum + part.length, 0))
  let at = 0
  for (const part of parts) {
    all.set(part, at)
    at += part.length
  }
  return all
}

export async function textOf(chunks: AsyncIterable<Uint8Array>): Promise<string> {
  return new TextDecoder('utf-8', { ignoreBOM: true }).decode(await bytesOf(chunks))
}

/** Everything that the log holds, to see that nothing has changed. */
export async function contentOf(log: Log): Promise<string> {
  const text = await textOf(log.export('json'))
  return text.replace(/"exportedAt":"[^"]*"/, '')
}
