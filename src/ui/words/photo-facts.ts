import type { PhotoFacts } from '../../sources/files/photo-facts.ts'
import type { Notice } from './estimate.ts'

/** What in the photo's own record speaks against the reading. */
export function noticesFromFacts(facts: PhotoFacts): Notice[] {
  return facts.flashFired
    ? [
        {
          weight: 'warn',
          title: 'The flash fired',
          todo: 'Its light is read with the glow. Switch the flash off and take the photo again.',
        },
      ]
    : []
}
