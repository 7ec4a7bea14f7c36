import { expect, test } from 'vitest'
import { integrationStyle } from '../../../src/light/spectrum-import/integration-style.ts'

test('the way a text writes its integration time is the same whatever the time', () => {
  const style = (line: string) => integrationStyle(['Made-up spectrometer', line, '400 1'])
  expect(style('Integration Time (sec): 0.25')).toBe('integration time (sec): #')
  expect(style('Integration  Time (sec):\t"1,5e-2"')).toBe('integration time (sec): #')
  expect(style('Integration Time (sec): 2.5e-10')).toBe('integration time (sec): #')
  expect(style('Int. time 100 ms')).toBe('int. time # ms')
  expect(style('Belichtung: 100 ms')).toBe('belichtung: # ms')
  expect(style('Exposure')).toBeNull()
  expect(style('Point time 3')).toBeNull()
})

test('what stands among the data is no heading', () => {
  const data = Array.from({ length: 90 }, (_, i) => `${400 + i} 1`)
  expect(integrationStyle([...data, 'exposure 5 ms'])).toBeNull()
  expect(integrationStyle([...data.slice(0, 79), 'exposure 5 ms'])).toBe('exposure # ms')
})
