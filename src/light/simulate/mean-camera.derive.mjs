/**
 * Writes mean-camera.data.json from measured camera sensitivities and training reflectances in the
 * JSON form of the public rawtoaces data:
 *
 *   node src/light/simulate/mean-camera.derive.mjs SENSITIVITIES_FOLDER TRAINING.json
 *
 * Every camera counts alike, scaled to a green peak of 1. Only the mean and the colour matrices
 * fitted to it are kept.
 */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs'
import { resolve } from 'node:path'
import { argv, exit } from 'node:process'
import { fileURLToPath } from 'node:url'
import { runnerImport } from 'vite'

const [folder, trainingFile] = argv.slice(2)
if (folder === undefined || trainingFile === undefined) {
  console.error('Usage: node mean-camera.derive.mjs SENSITIVITIES_FOLDER TRAINING.json')
  exit(2)
}
const load = async (path) => {
  const file = fileURLToPath(new URL(path, import.meta.url))
  return (await runnerImport(file, { configFile: false, logLevel: 'warn' })).module
}
const { cameraFromJson, trainingFromJson } = await load('./sensitivity.ts')
const { simulateCamera } = await load('./simulated-camera.ts')

const json = (path) => JSON.parse(readFileSync(path, 'utf8'))
const cameras = readdirSync(folder)
  .filter((name) => name.endsWith('.json'))
  .map((name) => cameraFromJson(json(resolve(folder, name))))
const [{ firstNm, stepNm, values: rows }] = cameras
const values = rows.map((_, i) =>
  [0, 1, 2].map((channel) => {
    const scaled = cameras.map((camera) => {
      if (camera.firstNm !== firstNm || camera.stepNm !== stepNm) throw new Error('other grid')
      const greenPeak = Math.max(...camera.values.map((row) => row[1]))
      return camera.values[i][channel] / greenPeak
    })
    return scaled.reduce((sum, v) => sum + v, 0) / scaled.length
  }),
)
const mean = { make: 'Simulated', model: 'Practice camera', firstNm, stepNm, values }
const training = trainingFromJson(json(trainingFile))
const matrices = Object.fromEntries(
  ['daylight', 'lamp'].map((balance) => [balance, simulateCamera(mean, training, balance).matrix]),
)
const data = {
  source:
    'Mean of the camera sensitivities of rawtoaces-data, Academy Software Foundation; matrices fitted on its 190 training reflectances',
  licence: 'Apache-2.0',
  cameras: cameras.length,
  ...mean,
  matrices,
}
const text = JSON.stringify(data, (_, value) =>
  typeof value === 'number' ? Number(value.toFixed(5)) : value,
)
writeFileSync(fileURLToPath(new URL('./mean-camera.data.json', import.meta.url)), `${text}\n`)
console.log(`${cameras.length} cameras, ${text.length} bytes`)
