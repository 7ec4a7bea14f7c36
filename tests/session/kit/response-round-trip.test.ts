import { afterEach, expect, test } from 'vitest'
import { responseFromLamp } from '../../../src/estimate/spectrum/response.ts'
import { USUAL_INSTRUMENT } from '../../../src/estimate/spectrum/types.ts'
import { importSpectra } from '../../../src/light/spectrum-import/import-spectra.ts'
import type { Json } from '../../../src/log/schema/types.ts'
import { sortKit } from '../../../src/session/kit/sort-kit.ts'
import { PRACTICE_LAMP, practiceSpectra } from '../../../src/sources/practice/practice-spectra.ts'
import { bytesOf, closeTestLogs, openTestLog } from '../../log/opening.ts'

afterEach(closeTestLogs)

test('a response goes away with the kit and comes back to the last figure', async () => {
  const read = importSpectra(practiceSpectra().lamp.text)
  if (!read.ok) throw new Error(read.code)
  const recording = { spectrum: read.spectra[0]!, dark: read.spectra[1]! }
  const made = responseFromLamp(recording, PRACTICE_LAMP, USUAL_INSTRUMENT)
  if (!made.ok) throw new Error(made.code)
  const range = { fromNm: 500, toNm: 800 }
  const here = await openTestLog()
  const { id } = await here.kit.add({
    kind: 'response',
    name: 'Bench spectrometer',
    notes: 'slit 25 µm',
    data: { response: made.response, range, recording, lampForm: null } as unknown as Json,
  })

  const file = new File(
    [(await bytesOf(here.export('kit'))) as Uint8Array<ArrayBuffer>],
    'kit.json',
  )
  const there = await openTestLog()
  const found = await there.readFile(file)
  await found.merge({ conflicts: 'mine' })
  const { items, damaged } = await there.kit.list('response')
  expect(damaged).toEqual([])
  const { responses, unreadable } = sortKit(items)
  expect(unreadable).toEqual([])
  expect(responses).toEqual([{ item: await here.kit.get(id), response: made.response, range }])

  // Deleting it can be taken back.
  const undo = await there.kit.remove([id])
  expect((await there.kit.list('response')).items).toEqual([])
  await there.kit.restore(undo)
  expect((await there.kit.list('response')).items).toEqual(items)
})
