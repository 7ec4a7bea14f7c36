/** A log with its journal in memory, work of every kind in it, and its database deleted. */
import { emptyColumns } from '../../../src/log/recordings/columns.ts'
import { draft, freshName, jpegBlob, memoryMarks, openTestLog } from '../opening.ts'
import { keeperOver, memoryFiles } from './memory-files.ts'

export const deleteDatabase = (name: string) =>
  new Promise((resolve) => {
    indexedDB.deleteDatabase(name).onsuccess = resolve
  })

/** A log of one browser: its database, its private files and its mark. */
export function place() {
  const name = freshName()
  const files = memoryFiles()
  const marks = memoryMarks()
  const open = () => {
    files.kill()
    return openTestLog({ name, marks, journal: async () => keeperOver(files) })
  }
  return { name, files, marks, open }
}

export function recorded() {
  const columns = emptyColumns(30)
  columns.temperatureK.fill(1173)
  return columns
}

/** Work of every kind. */
export async function busyLog(open: ReturnType<typeof place>['open']) {
  const log = await open()
  const first = await log.add(draft({ object: 'first', inputs: { n: 1 } }), {
    blob: jpegBlob(),
    width: 8,
    height: 8,
  })
  const second = await log.add(draft({ object: 'second' }))
  const third = await log.add(draft({ object: 'third' }))
  await log.edit(first.id, { notes: 'brushed' })
  await log.remove([second.id])
  await log.restore(await log.remove([third.id]))
  await log.kit.add({ kind: 'camera', name: 'Bench camera', data: { lens: 'wide' } })
  await log.settings.set('unit', 'F')
  for (const object of ['bar', 'bar again']) {
    await log.recordings.add(
      {
        source: 'live',
        simulated: false,
        startedAt: { iso: '2025-03-01T11:00:00.000+01:00', zone: 'Europe/Vienna' },
        cameraId: '',
        methodVersion: '1',
        object,
      },
      recorded(),
      { why: 'all of it' },
    )
  }
  return { log, first, second, third }
}
