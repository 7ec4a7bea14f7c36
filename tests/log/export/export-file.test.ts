import { beforeEach, describe, expect, test, vi } from 'vitest'
import { canShare, fileFrom, fileName, saveOrShare } from '../../../src/log/export/export-file.ts'

describe('a file that leaves', () => {
  test('holds all chunks in their order, also where their maker uses one buffer again', async () => {
    const buffer = new Uint8Array(400_000)
    async function* chunks() {
      for (let i = 0; i < 7; i++) {
        buffer.fill(i)
        yield buffer
      }
    }
    const file = await fileFrom(chunks(), 'log.zip', 'application/zip')
    expect([file.name, file.type, file.size]).toEqual(['log.zip', 'application/zip', 2_800_000])
    const bytes = new Uint8Array(await file.arrayBuffer())
    for (let i = 0; i < 7; i++)
      expect([bytes[400_000 * i], bytes[400_000 * i + 399_999]]).toEqual([i, i])
  })

  test('is none where its chunks end in a failure', async () => {
    const stopped = new DOMException('stopped', 'AbortError')
    async function* chunks() {
      yield new Uint8Array(3)
      throw stopped
    }
    await expect(fileFrom(chunks(), 'log.zip', 'application/zip')).rejects.toBe(stopped)
  })

  test('has a name that sorts by date', () => {
    expect(fileName('zip', '2026-05-04T10:00:00Z')).toBe('glowbook-log-2026-05-04.zip')
    expect(fileName('kit', '2026-05-04T10:00:00Z')).toBe('glowbook-kit-2026-05-04.json')
    expect(fileName('csv', '2026-05-04T10:00:00Z')).toBe('glowbook-log-2026-05-04.csv')
  })
})

describe('saving', () => {
  const file = new File(['log'], 'log.json')
  const links: {
    href: string
    download: string
    hidden: boolean
    clicked: number
    removed: number
  }[] = []
  const sheet = (share: () => Promise<void>, takes = true) =>
    vi.stubGlobal('navigator', { canShare: () => takes, share })

  beforeEach(() => {
    links.length = 0
    vi.useFakeTimers({ toFake: ['setTimeout'] })
    vi.stubGlobal('document', {
      body: { append: () => undefined },
      createElement() {
        const link = { href: '', download: '', hidden: false, clicked: 0, removed: 0 }
        links.push(link)
        const count = { click: () => void link.clicked++, remove: () => void link.removed++ }
        return Object.assign(link, count)
      },
    })
    return () => void vi.useRealTimers()
  })

  test('goes by the share sheet where there is one that takes the file', async () => {
    const shared: unknown[] = []
    sheet(async (...given: unknown[]) => void shared.push(...given))
    expect(canShare(file)).toBe(true)
    expect(await saveOrShare(file)).toBe('shared')
    expect(shared).toEqual([{ files: [file], title: 'log.json' }])
    expect(links).toEqual([])
  })

  test('a sheet that the person has closed is no failure, and nothing is downloaded', async () => {
    sheet(async () => {
      throw new DOMException('closed', 'AbortError')
    })
    expect(await saveOrShare(file)).toBe('dismissed')
    expect(links).toEqual([])
  })

  test('is a download where the sheet refuses, does not take it, or is not there', async () => {
    sheet(async () => {
      throw new DOMException('not from a tap', 'NotAllowedError')
    })
    expect(await saveOrShare(file)).toBe('downloaded')
    sheet(async () => undefined, false)
    expect(await saveOrShare(file)).toBe('downloaded')
    vi.stubGlobal('navigator', {})
    expect(canShare(file)).toBe(false)
    expect(await saveOrShare(file)).toBe('downloaded')
    expect(links).toHaveLength(3)
    for (const link of links)
      expect(link).toMatchObject({ download: 'log.json', hidden: true, clicked: 1, removed: 1 })
    // The browser may read the file for a minute.
    const given = vi.spyOn(URL, 'revokeObjectURL')
    vi.advanceTimersByTime(59_000)
    expect(given).not.toHaveBeenCalled()
    vi.advanceTimersByTime(2000)
    expect(given.mock.calls.map(([address]) => address)).toEqual(links.map(({ href }) => href))
  })
})
