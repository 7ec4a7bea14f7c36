import { expect, test } from 'vitest'
import type { InstrumentResponse, Recording } from '../../../src/estimate/spectrum/types.ts'
import { spectrumInput } from '../../../src/session/spectrum/spectrum-input.ts'

const said = {
  recording: {} as Recording,
  response: {} as InstrumentResponse,
  others: [],
  materialId: 'steel-oxidised',
  window: null,
  range: null,
  ratioNm: [550, 650] as const,
  statedGlow: false,
}

test('a temperature rests on what was said, and on nothing else', () => {
  const input = spectrumInput(said)
  expect(input).toEqual({
    recording: said.recording,
    response: said.response,
    surface: input.surface,
    window: null,
    range: null,
    ratioNm: [550, 650],
  })
  const more = spectrumInput({ ...said, others: [said.response], statedGlow: true })
  expect([more.others, more.statedGlow]).toEqual([[said.response], true])
})

test('a surface that nobody knows is grey, and less sure than any that is known', () => {
  const unknown = spectrumInput({ ...said, materialId: '' }).surface
  expect([unknown.spectral, unknown.lnGreenOverRed]).toEqual(['grey', 0])
  expect(unknown.standardUncertainty).toBeGreaterThan(
    spectrumInput(said).surface.standardUncertainty,
  )
})
