import { createServer } from 'node:net'
import lighthouse from 'lighthouse'
import { launchBrowser } from '../browser/browser.ts'
import type { Bench } from './figure.ts'

const targets = { performance: 95, accessibility: 100, 'best-practices': 100 }

/** Lighthouse as it comes: a mid-range phone on a slow mobile network, simulated. */
export const bench: Bench = async ({ short, url }) => {
  if (short) return []
  const port = await freePort()
  const browser = await launchBrowser([`--remote-debugging-port=${port}`])
  try {
    const run = await lighthouse(url, {
      port,
      logLevel: 'error',
      onlyCategories: Object.keys(targets),
    })
    if (run === undefined || run.lhr.runtimeError)
      throw new Error(`Lighthouse gave no result: ${run?.lhr.runtimeError?.message ?? 'none'}`)
    const { categories, audits } = run.lhr
    for (const { auditRefs } of Object.values(categories)) {
      for (const { id, weight } of auditRefs) {
        const audit = audits[id]
        if (weight > 0 && audit?.score !== null && (audit?.score ?? 1) < 0.9)
          console.log(`  Lighthouse: ${audit?.title} ${audit?.displayValue ?? ''}`)
      }
    }
    return Object.entries(targets).map(([id, atLeast]) => ({
      name: `Lighthouse ${id}`,
      value: Math.round((categories[id]?.score ?? 0) * 100),
      unit: 'of 100',
      target: { atLeast },
      timed: id === 'performance',
    }))
  } finally {
    await browser.close()
  }
}

function freePort(): Promise<number> {
  return new Promise((resolve, reject) => {
    const server = createServer()
    server.once('error', reject)
    server.listen(0, 'localhost', () => {
      const address = server.address()
      server.close(() => resolve(typeof address === 'object' && address ? address.port : 0))
    })
  })
}
