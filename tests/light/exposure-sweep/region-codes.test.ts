import { test } from 'vitest'
import { regionCodes } from '../../../src/light/exposure-sweep/frame-levels.ts'
import { expectClose } from '../../close-to.ts'

const SIDE = 20
const region = { shape: 'rectangle', x: 0, y: 0, width: SIDE, height: SIDE } as const

/** A field of middle codes in which one channel alternates by so many codes either way. */
const alternating = (channel: number, codes: number) => ({
  width: SIDE,
  height: SIDE,
  space: 'display-p3' as const,
  codes: Float32Array.from({ length: 3 * SIDE * SIDE }, (_, i) => {
    const sign = Math.floor(i / 3) % 2 === 0 ? 1 : -1
    return (128 + (i % 3 === channel ? sign * codes : 0)) / 255
  }),
})

test('scatter of a channel goes into luma and chroma as ITU-T T.871 mixes them', () => {
  // Y = 0.299 R + 0.587 G + 0.114 B; Cb = -0.1687 R - 0.3313 G + 0.5 B; Cr = 0.5 R - 0.4187 G - 0.0813 B.
  const mixed = [
    [0.299, 0.1687, 0.5],
    [0.587, 0.3313, 0.4187],
    [0.114, 0.5, 0.0813],
  ]
  for (const channel of [0, 1, 2]) {
    const found = regionCodes(alternating(channel, 10), region, [2, 2, 2])
    expectClose(found.scatter[channel]!, 10, 1e-4)
    for (const plane of [0, 1, 2])
      expectClose(found.planeScatter[plane]!, 10 * mixed[channel]![plane]!, 0.02)
  }
})
