import { signal } from '@preact/signals'
import { describe, expect, test } from 'vitest'
import type { InstrumentResponse } from '../../../src/estimate/spectrum/types.ts'
import type { StoredResponse } from '../../../src/session/kit/stored-items.ts'
import { createImportedFiles } from '../../../src/session/spectrum/imported-files.ts'
import type { Made } from '../../../src/session/spectrum/model-types.ts'
import { NO_ROLES } from '../../../src/session/spectrum/pick-roles.ts'
import { createReferencesInUse } from '../../../src/session/spectrum/references-in-use.ts'
import { kitItem } from '../kit/items.ts'
import { directBench } from './direct-bench.ts'

const responseOf = (id: string) =>
  ({ wavelengthNm: [500], of: id }) as unknown as InstrumentResponse
const keptAs = (id: string, simulated = false): StoredResponse => ({
  item: kitItem({ id, kind: 'response', simulated }),
  response: responseOf(id),
  range: null,
})
const madeAs = (id: string): Made => ({
  id,
  recording: {} as Made['recording'],
  outcome: { ok: true, response: responseOf(id) },
})
const REFUSED: Made = {
  ...madeAs('refused'),
  outcome: { ok: false, code: 'lamp too dark' } as never,
}

function begun(...items: StoredResponse[]) {
  const kept = signal(items)
  const imported = createImportedFiles(directBench())
  return { kept, imported, references: createReferencesInUse(kept, imported) }
}
const text = (name: string, step: 'instrument' | 'glow', simulated = false) => ({
  name,
  step,
  text: Array.from({ length: 12 }, (_, i) => `${500 + 10 * i};${100 * i}`).join('\n'),
  simulated: simulated ? { truthK: null } : null,
})

describe('the response that counts', () => {
  test('is the one chosen of the kit, else the one just made, else the first put beside', () => {
    const { references } = begun(keptAs('of the kit', true))
    expect(references.inUse.value).toBeNull()
    references.further.value = [{ id: 'beside', response: responseOf('beside'), simulated: false }]
    expect(references.inUse.value).toMatchObject({ id: 'beside', kept: null })
    references.made.value = REFUSED
    expect(references.inUse.value?.id).toBe('beside')
    references.made.value = madeAs('made')
    expect(references.inUse.value).toMatchObject({ id: 'made', kept: null, simulated: false })
    references.storedResponse.value = 'of the kit'
    expect(references.inUse.value).toMatchObject({
      id: 'of the kit',
      kept: { id: 'of the kit' },
      simulated: true,
    })
  })

  test('is still the one made until the kit has what was kept of it, and none of another name', () => {
    const { kept, references } = begun()
    references.made.value = madeAs('made')
    references.further.value = [{ id: 'beside', response: responseOf('beside'), simulated: false }]
    references.storedResponse.value = 'made'
    expect(references.inUse.value).toMatchObject({ id: 'made', kept: null })
    kept.value = [keptAs('made')]
    expect(references.inUse.value?.kept?.id).toBe('made')
    references.storedResponse.value = 'gone from the kit'
    expect(references.inUse.value).toBeNull()
  })

  test('is simulated where its lamp is', async () => {
    const { imported, references } = begun()
    await imported.addTexts([text('lamp.csv', 'instrument', true)])
    references.made.value = madeAs('made')
    expect(references.inUse.value?.simulated).toBe(true)
  })
})

describe('those beside it', () => {
  test('are what was put there and what was chosen of the kit, the first itself not', () => {
    const { references } = begun(keptAs('a'), keptAs('b'), keptAs('c'))
    references.further.value = ['x', 'y'].map((id) => ({
      id,
      response: responseOf(id),
      simulated: false,
    }))
    references.moreResponses.value = ['a', 'b']
    const others = () => references.others.value.map((one) => (one as never as { of: string }).of)
    // The first put beside serves as the one in use.
    expect(others()).toEqual(['y', 'a', 'b'])
    references.storedResponse.value = 'b'
    expect(others()).toEqual(['x', 'y', 'a'])
    references.takeOut('x')
    expect(others()).toEqual(['y', 'a'])
    references.clear()
    expect([references.inUse.value, others()]).toEqual([null, []])
    expect([references.storedResponse.value, references.made.value]).toEqual([null, null])
  })

  test('the lamp’s files go with the response that is put there, the glow’s stay', async () => {
    const { imported, references } = begun()
    await imported.addTexts([
      text('lamp.csv', 'instrument', true),
      text('glow.csv', 'glow'),
      text('both.csv', 'instrument'),
    ])
    const key = (name: string) => imported.spectra.peek().find((one) => one.fileName === name)!.key
    imported.roles.value = {
      ...NO_ROLES,
      lamp: key('lamp.csv'),
      lampDark: key('both.csv'),
      glow: key('glow.csv'),
      // A dark that was recorded with the lamp is the glow's too.
      glowDark: key('both.csv'),
    }
    references.made.value = REFUSED
    references.putBeside()
    expect([references.further.value, imported.files.value.length]).toEqual([[], 3])
    references.made.value = madeAs('made')
    references.putBeside()
    expect(references.further.value).toEqual([
      { id: 'made', response: responseOf('made'), simulated: true },
    ])
    expect(references.made.value).toBeNull()
    expect(imported.files.value.map(({ name }) => name)).toEqual(['glow.csv', 'both.csv'])
    expect(imported.roles.value).toEqual({
      ...NO_ROLES,
      glow: key('glow.csv'),
      glowDark: key('both.csv'),
    })
  })
})
