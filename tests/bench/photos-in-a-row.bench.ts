import { launchBrowser } from '../browser/browser.ts'
import { type Bench, type Figure, heapGrowth } from './figure.ts'
import { photosInARow } from './photos-in-a-row.ts'

/** What a page still holds of photos that were put away. */
export const bench: Bench = async ({ short, url }) => {
  const browser = await launchBrowser()
  try {
    const counts = await photosInARow(browser, url, short ? 3 : 60)
    // The first photos bring the code that reads them.
    const [first, last] = [counts[1]!, counts.at(-1)!]
    const none = { unit: `more after ${counts.length - 2} photos`, target: { atMost: 0 } }
    const figures: Figure[] = [
      { name: 'nodes of photos put away', value: last.nodes - first.nodes, ...none },
      { name: 'listeners of photos put away', value: last.listeners - first.listeners, ...none },
    ]
    return short ? figures : [...figures, heapGrowth('photos in a row', counts)]
  } finally {
    await browser.close()
  }
}
