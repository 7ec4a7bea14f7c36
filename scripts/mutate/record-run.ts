import { writeFileSync } from 'node:fs'
import { basename, join, relative } from 'node:path'
import { env } from 'node:process'
import { afterAll, expect } from 'vitest'

/** Writes down which probes a test file ran through: those of StrykerJS count in a global. */
interface Counting {
  __stryker__?: { mutantCoverage?: { static: Record<string, number> } }
}

const start = performance.now()
afterAll(() => {
  const test = relative(process.cwd(), expect.getState().testPath ?? '').replaceAll('\\', '/')
  const hits = Object.keys((globalThis as Counting).__stryker__?.mutantCoverage?.static ?? {})
  const seconds = (performance.now() - start) / 1000
  const name = `run-${test.replaceAll('/', '-')}.json`
  writeFileSync(
    join(env.GLOWBOOK_PROBES ?? '', basename(name)),
    JSON.stringify({ test, seconds, hits }),
  )
})
