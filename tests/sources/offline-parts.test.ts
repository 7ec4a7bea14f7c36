import { describe, expect, test } from 'vitest'
import { offlinePartOf } from '../../src/sources/offline-parts.ts'

describe('the tier that a built file belongs to', () => {
  test('the raw decoder is a heavy part', () => {
    expect(offlinePartOf('/assets/raw/libraw-CKnqEbQ6.wasm')).toBe('raw')
  })

  test('everything else is the shell', () => {
    for (const path of [
      '/',
      '/index.html',
      '/assets/index-BWF7.js',
      '/assets/raw-1.js',
      '/practice/bar.jpg',
      '/log/raw/',
    ])
      expect(offlinePartOf(path)).toBeUndefined()
  })
})
