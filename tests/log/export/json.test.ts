import { afterEach, describe, expect, it } from 'vitest'
import { closeTestLogs, draft, openTestLog, textOf } from '../opening.ts'

afterEach(closeTestLogs)

describe('the JSON file', () => {
  it('names its schema and version and holds readings and kit', async () => {
    const log = await openTestLog()
    const reading = await log.add(draft({ inputs: { a: [1, 2] } }))
    const item = await log.kit.add({ kind: 'lamp', name: 'Lamp', data: { volts: 12 } })
    const removed = await log.kit.add({ kind: 'lamp', name: 'Gone', data: null })
    await log.kit.remove([removed.id])
    expect(JSON.parse(await textOf(log.export('json')))).toEqual({
      schema: 'glowbook-log',
      version: 2,
      exportedAt: expect.stringMatching(/^2025-03-01T10:/),
      readings: [reading],
      kit: [item],
    })
    expect(JSON.parse(await textOf(log.export('kit')))).toMatchObject({ readings: [], kit: [item] })
    expect(JSON.parse(await textOf(log.export('json', { ids: [reading.id] })))).toMatchObject({
      readings: [reading],
      kit: [],
    })
  })

  it('is whole when there are many readings, and none', async () => {
    const log = await openTestLog()
    expect(JSON.parse(await textOf(log.export('json')))).toMatchObject({ readings: [], kit: [] })
    for (let i = 0; i < 230; i++) await log.add(draft({ object: `${i}` }))
    const { readings } = JSON.parse(await textOf(log.export('json'))) as {
      readings: { object: string }[]
    }
    expect(readings.map((r) => r.object)).toEqual(Array.from({ length: 230 }, (_, i) => `${i}`))
  })

  it('tells how far it is and stops when asked', async () => {
    const log = await openTestLog()
    for (let i = 0; i < 250; i++) await log.add(draft())
    const stop = new AbortController()
    const seen: [number, number][] = []
    const taking = textOf(
      log.export('json', {
        signal: stop.signal,
        progress: (done, total) => {
          seen.push([done, total])
          if (done >= 200) stop.abort(new Error('enough'))
        },
      }),
    )
    await expect(taking).rejects.toThrow('enough')
    expect(seen[0]).toEqual([0, 250])
    expect(seen.at(-1)).toEqual([200, 250])
  })
})
