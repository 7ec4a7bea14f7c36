import { expect, test } from 'vitest'
import { isTm27, readTm27 } from '../../../src/light/spectrum-import/tm27.ts'

// Names of elements as in ANSI/IES TM-27-14, from memory.
const document = (data: string, header = '') => `<?xml version="1.0"?>
<IESTM2714 xmlns="http://www.ies.org/iestm2714" version="1.0">
 <Header><Description>Made-up lamp</Description>${header}</Header>
 <SpectralDistribution><SpectralQuantity>relative</SpectralQuantity>${data}</SpectralDistribution>
</IESTM2714>`
const sample = (nm: string, value: string) =>
  `<SpectralData wavelength="${nm}">${value}</SpectralData>`

test('samples are read in order of wavelength, each once, and named', () => {
  const text = document(sample('410', '2.5') + sample('400.0', '1e-1') + sample('410', '9'))
  expect(isTm27(text)).toBe(true)
  expect(readTm27(text)).toEqual({
    name: 'Made-up lamp (relative)',
    wavelengthNm: [400, 410],
    signal: [0.1, 2.5],
  })
})

test('what is no number is left out, and a document of none is no spectrum', () => {
  expect(readTm27(document(sample('400', '1') + sample('x', '2') + sample('420', 'none')))).toEqual(
    {
      name: 'Made-up lamp (relative)',
      wavelengthNm: [400],
      signal: [1],
    },
  )
  expect(readTm27(document(''))).toBeNull()
  expect(isTm27('<svg></svg>')).toBe(false)
})
