/** Which test files run through which mistakes: the whole unit suite once, with a probe at each. */
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { probed } from './sample.mjs'
import { vitest } from './vitest.mjs'

/**
 * The test files that run through each mutant, with the seconds that they take; null where a test
 * fails without any mistake: then each would count as noticed.
 *
 * @param {readonly import('./sample.mjs').Mutant[]} mutants
 * @param {number} cores
 * @returns {Promise<{ test: string, seconds: number }[][] | null>}
 */
export async function coveringTests(mutants, cores) {
  const folder = mkdtempSync(join(tmpdir(), 'glowbook-probes-'))
  try {
    const { sources, ids } = await probed(mutants)
    writeFileSync(join(folder, 'sources.json'), JSON.stringify(sources))
    const passed = await vitest(['--maxWorkers', String(cores)], { GLOWBOOK_PROBES: folder })
    if (!passed) return null
    /** @type {{ test: string, seconds: number, hits: string[] }[]} */
    const runs = readdirSync(folder)
      .filter((name) => name.startsWith('run-'))
      .map((name) => JSON.parse(readFileSync(join(folder, name), 'utf8')))
    return ids.map((id) => runs.filter(({ hits }) => hits.includes(id)))
  } finally {
    rmSync(folder, { recursive: true })
  }
}
