import { afterEach, describe, expect, test } from 'vitest'
import { FLAGS } from '../../../src/log/recordings/columns.ts'
import { columnsOf } from '../../../src/session/recording/column-writer.ts'
import { settleCourse } from '../../../src/session/recording/settle-course.ts'
import type { VideoChoices } from '../../../src/session/recording/video-model.ts'
import { saveFilm } from '../../../src/session/recording/video-record.ts'
import type { VideoCurve } from '../../../src/sources/video/video-operations.ts'
import { closeTestLogs, openTestLog } from '../../log/opening.ts'
import { FACTS, filmCurve, ofReadings } from './made-up-film.ts'

afterEach(closeTestLogs)

const SAID: VideoChoices = {
  materialId: 'cavity',
  cover: 'none',
  balanceState: 'unknown',
  exposure: 'unknown',
  slowedBy: 1,
  object: ' melt ',
  device: '',
}
const film = new File([], 'IMG 7.mov', { lastModified: Date.parse('2026-05-04T10:00:10Z') })

async function saved(of: VideoCurve, said: Partial<VideoChoices> = {}, file = film) {
  const log = await openTestLog()
  const id = await saveFilm(log, of, file, FACTS, { ...SAID, ...said })
  return (await log.recordings.get(id))!
}

describe('a film in the log', () => {
  test('began when it was written less its length, and names its kind of stream as its camera', async () => {
    const { head } = await saved(filmCurve())
    expect(head).toMatchObject({
      source: 'video',
      simulated: false,
      cameraId: 'video avc 64x36',
      object: 'melt',
      material: 'cavity',
    })
    expect(Date.parse(head.startedAt.iso)).toBe(Date.parse('2026-05-04T10:00:00.100Z'))
  })

  test('has the name of its file where nobody has named what it shows', async () => {
    expect((await saved(filmCurve(), { object: ' ' })).head.object).toBe('IMG 7')
  })

  test('keeps why there is no figure, where balance drifts, and what flickers', async () => {
    const { columns } = await saved(
      filmCurve({
        gap: ofReadings((i) => (i === 3 ? 'clipped' : i === 4 ? 'lost' : null)),
        flickers: ofReadings((i) => i === 7),
        driftsFrom: 98,
      }),
    )
    const flags = [...columns.flags]
    expect(flags[3]! & FLAGS.clipped).toBeTruthy()
    expect(flags[4]! & FLAGS.lost).toBeTruthy()
    expect(flags[7]! & FLAGS.flicker).toBeTruthy()
    const drifts = flags.map((flag, i) => (flag & FLAGS['balance drifts'] ? i : -1))
    expect(drifts.filter((i) => i >= 0)).toEqual([98, 99])
    const { columns: still } = await saved(filmCurve())
    expect([...still.flags].some((flag) => flag & FLAGS['balance drifts'])).toBe(false)
  })
})

describe('how fast a course goes', () => {
  const settled = (change: Partial<VideoCurve>, exposureLocked: boolean, swept = false) => {
    const of = filmCurve(change)
    const columns = columnsOf(
      of.ms.map((ms, i) => ({
        ms,
        temperatureK: of.temperatureK[i]!,
        noiseK: of.noiseK[i]!,
        commonK: of.commonK[i]!,
        lnRatio: of.lnRatio[i]!,
        lnRed: of.lnRed[i]!,
        flags: 0,
      })),
    )
    return { share: settleCourse(columns, { swept, exposureLocked }), columns }
  }

  test('is told by brightness where exposure stands still: surer than by colour alone', () => {
    const byColour = settled({}, false)
    const byLevel = settled({}, true)
    expect(byLevel.share).toBeLessThan(byColour.share)
    expect([...byColour.columns.temperatureK]).toEqual([
      ...columnsOf(
        filmCurve().ms.map((ms, i) => ({
          ms,
          temperatureK: 1300 - i,
          noiseK: 2,
          commonK: 40,
          lnRatio: 0,
          lnRed: 0,
          flags: 0,
        })),
      ).temperatureK,
    ])
  })

  test('is not, although exposure is said to stand still, where brightness jumps', () => {
    const jump = { lnRed: ofReadings((i) => -1 - 0.013 * i + (i >= 50 ? 0.7 : 0)) }
    const { share, columns } = settled(jump, true)
    expect([...columns.flags].some((flag) => flag & FLAGS['exposure changed'])).toBe(true)
    expect(share).toBe(settled(jump, false).share)
  })
})
