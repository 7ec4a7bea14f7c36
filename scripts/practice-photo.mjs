/**
 * Makes the practice photo that ships with the app: `node scripts/practice-photo.mjs` writes
 * public/practice/forge-bar.jpg and src/sources/practice/forge-bar.data.json.
 */
import { mkdirSync, writeFileSync } from 'node:fs'
import { fileURLToPath } from 'node:url'
import { runnerImport } from 'vite'

/** @param {string} path */
const file = (path) => fileURLToPath(new URL(path, import.meta.url))
const { module } = await runnerImport(file('../src/sources/practice/make-practice-photo.ts'), {
  configFile: false,
  logLevel: 'warn',
})
const { photo, truth } = module.makePracticePhoto()
mkdirSync(file('../public/practice'), { recursive: true })
writeFileSync(file('../public/practice/forge-bar.jpg'), photo)
writeFileSync(
  file('../src/sources/practice/forge-bar.data.json'),
  `${JSON.stringify(truth, null, 2)}\n`,
)
console.log(`${photo.length} bytes`)
