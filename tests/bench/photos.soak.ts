/** Sixty photos opened and put away: what the page keeps of them. */
export { bench } from './photos-in-a-row.bench.ts'
