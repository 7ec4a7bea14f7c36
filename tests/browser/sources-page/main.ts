/** The photo sources without the app around them, for browser tests: built like the app. */
import { openPhoto } from '../../../src/sources/photo/photo-client.ts'

const sources = { openPhoto }
export type Sources = typeof sources
Object.assign(globalThis, { sources })
