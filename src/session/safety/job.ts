import * as v from 'valibot'

/** Kinds of work that have a list of checks of their own. */
export const JOB_KINDS = ['mains element', 'lamp', 'forge', 'kiln', 'melting', 'quenching'] as const
export type JobKind = (typeof JOB_KINDS)[number]

const text = v.pipe(v.string(), v.maxLength(400))
const instant = v.pipe(
  v.string(),
  v.maxLength(40),
  v.check((at) => Number.isFinite(Date.parse(at))),
)
const ticked = v.object({ id: text, at: instant })

/** A job as the device keeps it while it is open. */
export const openJob = v.object({
  kind: v.picklist(JOB_KINDS),
  startedAt: instant,
  ticked: v.pipe(v.array(ticked), v.maxLength(100)),
  closed: v.pipe(v.array(ticked), v.maxLength(100)),
  /** Link the readings that are taken while it is open. */
  withReadings: v.boolean(),
})
export type OpenJob = v.InferOutput<typeof openJob>

/** Checks that a person has added to a kind of work. */
export const ownChecks = v.pipe(
  v.array(v.object({ kind: v.picklist(JOB_KINDS), id: text, text })),
  v.maxLength(100),
)
export type OwnChecks = v.InferOutput<typeof ownChecks>

export const newJob = (kind: JobKind, at: Date): OpenJob => ({
  kind,
  startedAt: at.toISOString(),
  ticked: [],
  closed: [],
  withReadings: true,
})

type List = 'ticked' | 'closed'

export const isTicked = (job: OpenJob, list: List, id: string): boolean =>
  job[list].some((one) => one.id === id)

/** Ticks a check, or takes the tick off again. */
export function tick(job: OpenJob, list: List, id: string, at: Date): OpenJob {
  const without = job[list].filter((one) => one.id !== id)
  const next =
    without.length < job[list].length ? without : [...without, { id, at: at.toISOString() }]
  return { ...job, [list]: next }
}
