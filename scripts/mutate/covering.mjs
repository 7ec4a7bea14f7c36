/** Which test files run through which mistakes: all that may, once, with a probe at each. */
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { slowness } from '../machine-speed.mjs'
import { probed } from './sample.mjs'
import { relatedTests } from './vitest.mjs'

/**
 * The sources with all mutants in them, in a folder for `vitest.config.ts`, and the test files that run
 * through each mutant, with the seconds that they take on a quiet machine; `runs` is null where a test fails without any
 * mistake: then each would count as noticed.
 *
 * @param {readonly import('./sample.mjs').Mutant[]} mutants
 * @param {number} cores
 */
export async function coveringTests(mutants, cores) {
  const folder = mkdtempSync(join(tmpdir(), 'glowbook-probes-'))
  const { sources, ids } = await probed(mutants)
  writeFileSync(join(folder, 'sources.json'), JSON.stringify(sources))
  const settings = { GLOWBOOK_PROBES: folder }
  const slow = [slowness()]
  const passed = await relatedTests(Object.keys(sources), cores, {
    ...settings,
    GLOWBOOK_COUNT: 'yes',
  })
  slow.push(slowness())
  const slower = slow.reduce((sum, one) => sum + one, 0) / slow.length
  /** @type {{ test: string, seconds: number, hits: string[] }[]} */
  const files = readdirSync(folder)
    .filter((name) => name.startsWith('run-'))
    .map((name) => JSON.parse(readFileSync(join(folder, name), 'utf8')))
    .map(({ seconds, ...run }) => ({ ...run, seconds: seconds / slower }))
  return {
    settings,
    ids,
    runs: passed ? ids.map((id) => files.filter(({ hits }) => hits.includes(id))) : null,
    end: () => rmSync(folder, { recursive: true }),
  }
}
