import { readdirSync, readFileSync } from 'node:fs'
import type { BrowserContext } from 'playwright-core'
import { locusOfCurves, ratioCurves } from '../../src/estimate/camera-locus/derive.ts'
import { readCamera, readCameras, readTraining } from '../measured-data.ts'
import { builtApp } from './browser.ts'

/** What is known of cameras in general, as it stands in the built app: nodes, then the curves. */
const BUILT = /cameras:\d+,hottestK:\d+,coldestK:\d+,states:JSON\.parse\(`[^`]*`\)/

/**
 * From now on pages know what they would of cameras in general without some of them. Workers of live
 * pictures and maps are left as they are.
 */
export async function leaveOut(context: BrowserContext, names: readonly string[]): Promise<void> {
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
  const folder = `${builtApp}/assets`
  const scripts = readdirSync(folder).filter(
    (file) => file.endsWith('.js') && !file.includes('.worker'),
  )
  const holding = scripts.filter((file) => BUILT.test(readFileSync(`${folder}/${file}`, 'utf8')))
  if (holding.length === 0) throw new Error('No script of the app holds what is known of cameras.')
  for (const file of holding) {
    const body = readFileSync(`${folder}/${file}`, 'utf8').replace(BUILT, () => known)
    await context.route(`**/assets/${file}`, (route) =>
      route.fulfill({ contentType: 'text/javascript', body }),
    )
  }
}
