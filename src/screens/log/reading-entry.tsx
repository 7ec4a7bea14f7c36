import { useSignal } from '@preact/signals'
import { useEffect, useRef } from 'preact/hooks'
import type { EyeView } from '../../estimate/types.ts'
import type { Log, Reading, Stored } from '../../log/types.ts'
import { materialById } from '../../physics/materials.ts'
import { windowById } from '../../physics/windows.ts'
import { TemperatureFigure } from '../../ui/quantity.tsx'
import { go } from '../../ui/router.ts'
import { say } from '../../ui/spoken.tsx'
import { showPlusMinus, showTemperature } from '../../ui/temperature.ts'
import { showMoment } from '../../ui/words/dates.ts'
import { chapmanWords, stirlingWords } from '../../ui/words/heat-names.ts'
import { logSentence } from '../../ui/words/log-errors.ts'
import { METHOD_NAMES } from '../../ui/words/methods.ts'
import { useServices } from '../services.ts'

/** One reading, whole: its figure, its picture, what it rests on, and the notes. */
export function ReadingEntry({ id }: { id: string }) {
  const { log } = useServices()
  const stored = useSignal<Stored | null | undefined>(null)
  const failure = useSignal<string | null>(null)
  const opened = useRef<Log | undefined>(undefined)
  useEffect(() => {
    let wanted = true
    log
      .then(async (it) => {
        opened.current = it
        const found = await it.get(id)
        if (wanted) stored.value = found
      })
      .catch((error: unknown) => {
        failure.value = logSentence(error)
      })
    return () => {
      wanted = false
    }
  }, [id, log, stored, failure])

  const remove = async () => {
    const it = opened.current
    if (!it) return
    try {
      const undo = await it.remove([id])
      go('log')
      say('Reading deleted.', { label: 'Undo', run: () => void it.restore(undo) })
    } catch (error) {
      failure.value = logSentence(error)
    }
  }
  const found = stored.value
  return (
    <main class="screen log">
      <header>
        <a class="button" href="/log">
          Back
        </a>
        <h1>Reading</h1>
      </header>
      {failure.value && <p role="alert">{failure.value}</p>}
      {found === undefined && <p class="card">This reading is not in the log of this device.</p>}
      {found?.state === 'damaged' && (
        <section class="card stack">
          <h2>This record is damaged</h2>
          <p>It is kept as it is, and nothing of it is guessed. Its text:</p>
          <pre class="small">{found.damage.raw}</pre>
        </section>
      )}
      {found?.state === 'sound' && (
        <Sound
          reading={found.reading}
          log={opened.current}
          onChanged={(reading) => {
            stored.value = { state: 'sound', reading }
          }}
        />
      )}
      {found && (
        <button type="button" class="danger" onClick={() => void remove()}>
          Delete
        </button>
      )}
    </main>
  )
}

function Sound({
  reading,
  log,
  onChanged,
}: {
  reading: Reading
  log: Log | undefined
  onChanged: (reading: Reading) => void
}) {
  const result = reading.recomputations.at(-1)?.result ?? reading.result
  return (
    <>
      <section class="stack result">
        {reading.simulated && <span class="tag">Simulated</span>}
        {result.kind === 'temperature' && (
          <>
            <TemperatureFigure
              temperatureK={result.temperatureK}
              expandedUncertaintyK={result.expandedUncertaintyK}
            />
            <p class="soft">
              19 times in 20 between {showTemperature(result.interval95K[0])} and{' '}
              {showTemperature(result.interval95K[1])}.
            </p>
          </>
        )}
        {result.kind === 'upper bound' && <h2>Below {showTemperature(result.temperatureK)}</h2>}
        {result.kind === 'none' && <h2>No figure</h2>}
      </section>
      <Picture reading={reading} log={log} />
      <Labels key={reading.id} reading={reading} log={log} onChanged={onChanged} />
      <Facts reading={reading} />
    </>
  )
}

function Picture({ reading, log }: { reading: Reading; log: Log | undefined }) {
  const url = useSignal<string | null>(null)
  useEffect(() => {
    if (!reading.picture || !log) return
    let made: string | null = null
    let wanted = true
    log.picture(reading.id).then((blob) => {
      if (!blob || !wanted) return
      made = URL.createObjectURL(blob)
      url.value = made
    })
    return () => {
      wanted = false
      if (made) URL.revokeObjectURL(made)
    }
  }, [reading, log, url])
  return url.value ? (
    <img class="entry-picture" src={url.value} alt="The region that was read" />
  ) : null
}

function Labels({
  reading,
  log,
  onChanged,
}: {
  reading: Reading
  log: Log | undefined
  onChanged: (reading: Reading) => void
}) {
  const object = useSignal(reading.object)
  const notes = useSignal(reading.notes)
  const changed = object.value !== reading.object || notes.value !== reading.notes
  const save = async () => {
    if (!log) return
    try {
      onChanged(await log.edit(reading.id, { object: object.value, notes: notes.value }))
      say('Saved. The former words are kept.')
    } catch (error) {
      say(logSentence(error))
    }
  }
  return (
    <form
      class="stack"
      onSubmit={(event) => {
        event.preventDefault()
        void save()
      }}
    >
      <label class="field">
        <span>Object</span>
        <input
          type="text"
          maxLength={200}
          value={object.value}
          onInput={(event) => {
            object.value = event.currentTarget.value
          }}
        />
      </label>
      <label class="field">
        <span>Notes</span>
        <textarea
          rows={3}
          maxLength={20000}
          value={notes.value}
          onInput={(event) => {
            notes.value = event.currentTarget.value
          }}
        />
      </label>
      {changed && (
        <button type="submit" class="primary">
          Save words
        </button>
      )}
    </form>
  )
}

function Facts({ reading }: { reading: Reading }) {
  const { result, chromaticity } = reading
  const number = (value: EyeView['x']) => value.toFixed(4)
  return (
    <>
      <dl class="facts card">
        <dt>Taken</dt>
        <dd>{showMoment(reading.takenAt.iso)}</dd>
        <dt>Method</dt>
        <dd>{METHOD_NAMES[reading.method]}</dd>
        {reading.material && (
          <>
            <dt>Surface</dt>
            <dd>{materialById(reading.material)?.name ?? reading.material}</dd>
          </>
        )}
        {reading.cover && reading.cover !== 'none' && (
          <>
            <dt>In front</dt>
            <dd>{windowById(reading.cover)?.name ?? reading.cover}</dd>
          </>
        )}
        {result.kind === 'temperature' && (
          <>
            <dt>Chapman</dt>
            <dd>{chapmanWords(result.temperatureK, result.temperatureK)}</dd>
            <dt>Stirling</dt>
            <dd>{stirlingWords(result.temperatureK, result.temperatureK)}</dd>
          </>
        )}
        {chromaticity && (
          <>
            <dt>x, y</dt>
            <dd>
              {number(chromaticity.x)}, {number(chromaticity.y)}
            </dd>
            <dt>u′, v′</dt>
            <dd>
              {number(chromaticity.u)}, {number(chromaticity.v)}
            </dd>
          </>
        )}
      </dl>
      {result.kind === 'temperature' && result.budget.length > 0 && (
        <details>
          <summary>What the ± is made of</summary>
          <div class="inside">
            <dl class="facts">
              {result.budget.map(({ term, contributionK }) => (
                <>
                  <dt>{term}</dt>
                  <dd>{showPlusMinus(Math.abs(contributionK))}</dd>
                </>
              ))}
            </dl>
          </div>
        </details>
      )}
    </>
  )
}
