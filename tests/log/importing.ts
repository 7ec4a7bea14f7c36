/** Files on their way into a log, for the tests of it. */
import { RefusedFile } from '../../src/log/import/refused.ts'
import type { Log, Reading } from '../../src/log/schema/types.ts'
import { draft, jpegBlob, openTestLog, temperatureResult } from './opening.ts'

export const jsonFile = (value: unknown) => new Blob([JSON.stringify(value)])
export const fileOf = (readings: unknown[], more: object = {}) =>
  jsonFile({ schema: 'glowbook-log', version: 2, readings, kit: [], ...more })

/** Why reading a file was refused; anything else fails the test. */
export async function refusal(work: Promise<unknown>) {
  const error = await work.then(
    () => undefined,
    (e: unknown) => e,
  )
  if (!(error instanceof RefusedFile)) throw new Error(`not refused: ${String(error)}`)
  return error.refusal
}

/** An edited and recomputed reading with a picture, a plain one, and a lamp. */
export async function filledLog(): Promise<{ log: Log; reading: Reading }> {
  const log = await openTestLog()
  const reading = await log.add(draft({ object: 'Kiln shelf', inputs: { a: [1, 2] } }), {
    blob: jpegBlob(),
    width: 3,
    height: 2,
  })
  await log.edit(reading.id, { notes: 'second firing' })
  await log.recompute(reading.id, { result: temperatureResult(1180), reason: 'newer method' })
  await log.add(draft({ object: 'Anvil' }))
  await log.kit.add({ kind: 'lamp', name: 'Lamp', data: { volts: 12 } })
  return { log, reading }
}

export const none = { new: 0, same: 0, conflicting: 0, foreign: 0 }
