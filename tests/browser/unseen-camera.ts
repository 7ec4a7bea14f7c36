import type { BrowserContext } from 'playwright-core'
import { locusOfCurves, ratioCurves } from '../../src/estimate/camera-locus/derive.ts'
import { readCamera, readCameras, readTraining } from '../measured-data.ts'

/** What is known of cameras in general, as it stands in the built app: nodes, then the curves. */
const BUILT = /cameras:\d+,hottestK:\d+,coldestK:\d+,states:JSON\.parse\(`[^`]*`\)/

/**
 * From now on the app knows what it would of cameras in general without some of them.
 *
 * @returns how many of the app's files have been changed so far; 0 means that nothing was
 */
export async function leaveOut(
  context: BrowserContext,
  names: readonly string[],
): Promise<() => number> {
  const unseen = names.map(readCamera)
  const others = readCameras().filter(
    ({ make, model }) => !unseen.some((one) => one.make === make && one.model === model),
  )
  const training = readTraining()
  const { cameras, hottestK, coldestK, states } = locusOfCurves(
    others.map((one) => ratioCurves(one, training)),
    { source: 'test', licence: '' },
  )
  const known = `cameras:${cameras},hottestK:${hottestK},coldestK:${coldestK},states:${JSON.stringify(states)}`
  let changed = 0
  await context.route(/\/assets\/[^/]+\.js$/, async (route) => {
    const response = await route.fetch()
    const text = await response.text()
    if (BUILT.test(text)) changed++
    await route.fulfill({ response, body: text.replace(BUILT, () => known) })
  })
  return () => changed
}
