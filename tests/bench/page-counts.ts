import type { CDPSession } from 'playwright-core'

export interface PageCounts {
  readonly nodes: number
  readonly listeners: number
  readonly heapBytes: number
}

/** What a page keeps once all garbage is gone. */
export async function pageCounts(session: CDPSession): Promise<PageCounts> {
  // What the first collection frees may have kept other things alive: twice.
  for (let i = 0; i < 2; i++) await session.send('HeapProfiler.collectGarbage')
  const { nodes, jsEventListeners } = await session.send('Memory.getDOMCounters')
  const { usedSize } = await session.send('Runtime.getHeapUsage')
  return { nodes, listeners: jsEventListeners, heapBytes: usedSize }
}
