/**
 * Writes camera-locus.data.json from measured camera sensitivities and training reflectances in
 * the JSON form of the public rawtoaces data:
 *
 *   node src/estimate/camera-locus/camera-locus.derive.mjs SENSITIVITIES_FOLDER TRAINING.json
 *
 * Only derived numbers are kept: means and principal components over all cameras of the folder.
 */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { resolve } from 'node:path'
import { argv, exit } from 'node:process'
import { fileURLToPath } from 'node:url'
import { runnerImport } from 'vite'

const [folder, trainingFile] = argv.slice(2)
if (folder === undefined || trainingFile === undefined) {
  console.error('Usage: node camera-locus.derive.mjs SENSITIVITIES_FOLDER TRAINING.json')
  exit(2)
}
const load = async (path) => {
  const file = fileURLToPath(new URL(path, import.meta.url))
  return (await runnerImport(file, { configFile: false, logLevel: 'warn' })).module
}
const { deriveCameraLocus } = await load('./derive.ts')
const { cameraFromJson, trainingFromJson } = await load('../../light/simulate/sensitivity.ts')

const json = (path) => JSON.parse(readFileSync(path, 'utf8'))
const cameras = readdirSync(folder)
  .filter((name) => name.endsWith('.json'))
  .sort()
  .map((name) => cameraFromJson(json(resolve(folder, name))))
const locus = deriveCameraLocus(cameras, trainingFromJson(json(trainingFile)), {
  source:
    'Derived from the camera sensitivities and 190 training reflectances of rawtoaces-data, Academy Software Foundation',
  licence: 'Apache-2.0',
})
/** A millionth of G/R is 0.004 K. */
const text = JSON.stringify(locus, (_, value) =>
  typeof value === 'number' ? Number(value.toFixed(6)) : value,
)
writeFileSync(fileURLToPath(new URL('./camera-locus.data.json', import.meta.url)), `${text}\n`)
console.log(`${cameras.length} cameras, ${text.length} bytes`)
