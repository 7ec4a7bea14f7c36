import { vi } from 'vitest'

/** Reads of one row fail, as when the file behind a large value is lost. */
export function breakRow(seq: number): void {
  const clone = globalThis.structuredClone
  vi.stubGlobal('structuredClone', (value: unknown) => {
    if (typeof value === 'object' && value !== null && 'json' in value && 'seq' in value) {
      if (value.seq === seq) throw new DOMException('Failed to read large value', 'DataError')
    }
    return clone(value)
  })
}
