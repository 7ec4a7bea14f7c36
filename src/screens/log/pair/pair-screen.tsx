import { useSignal } from '@preact/signals'
import { useEffect, useMemo } from 'preact/hooks'
import { currentResult } from '../../../log/schema/reading-schema.ts'
import type { Reading } from '../../../log/schema/types.ts'
import { createEntryModel } from '../../../session/log/entry-model.ts'
import { hasMap } from '../../../session/log/maps-to-export.ts'
import { comparePair, withCardsK } from '../../../session/log/pair-comparison.ts'
import { useServices } from '../../../session/services.ts'
import { Notices } from '../../../ui/notices.tsx'
import { showMoment } from '../../../ui/words/dates.ts'
import { coverName, originWord, surfaceName } from '../../../ui/words/log.ts'
import { noticeOfLogFailure } from '../../../ui/words/log-errors.ts'
import { METHOD_NAMES } from '../../../ui/words/methods.ts'
import {
  comparisonWords,
  nextSentence,
  PAIR_WORDS,
  sharedSentence,
} from '../../../ui/words/pair.ts'
import { ResultLine } from '../entry/entry-history.tsx'
import css from '../log.module.css'
import { hrefOfPlace } from '../log-place.ts'
import { PrintFoot } from '../print-foot.tsx'
import { printPage } from '../print-page.ts'
import { PairMaps } from './pair-maps.tsx'
import own from './pair-screen.module.css'

/** Two readings side by side, and whether they differ more than their uncertainty allows. */
export function PairScreen({ ids }: { ids: readonly [string, string] }) {
  const { log } = useServices()
  const [first, second] = ids
  const models = useMemo(
    () => [createEntryModel(log, first), createEntryModel(log, second)] as const,
    [log, first, second],
  )
  useEffect(
    () => () => {
      for (const model of models) model.dispose()
    },
    [models],
  )
  const [a, b] = models.map(({ stored }) => stored.value)
  const failure = noticeOfLogFailure(models[0].failure.value ?? models[1].failure.value)
  const one = a?.state === 'sound' ? a.reading : null
  const two = b?.state === 'sound' ? b.reading : null
  const unreadable = [a, b].some((found) => found === undefined || found?.state === 'damaged')
  return (
    <main class={`screen ${css.log}`}>
      <header>
        <a class="button no-print" href="/log">
          Back
        </a>
        <h1>Two readings</h1>
      </header>
      {failure && <Notices notices={[failure]} />}
      {unreadable && <p class="card">One of the two is damaged or no longer in this log.</p>}
      {one && two && (
        <>
          <Verdict one={one} two={two} />
          {hasMap(one) && hasMap(two) && <PairMaps one={one} two={two} />}
          <div class={css.pairSides}>
            <Side reading={one} picture={models[0].picture.value} />
            <Side reading={two} picture={models[1].picture.value} />
          </div>
          <button type="button" class="no-print" onClick={printPage}>
            Print
          </button>
          <PrintFoot />
        </>
      )}
    </main>
  )
}

/** What a promise gives; null until then. */
function useWorkedOut<T>(work: () => Promise<T>, of: readonly unknown[]): T | 'failed' | null {
  const found = useSignal<T | 'failed' | null>(null)
  useEffect(() => {
    let wanted = true
    const show = (answer: T | 'failed') => {
      if (wanted) found.value = answer
    }
    found.value = null
    work().then(show, () => show('failed'))
    return () => {
      wanted = false
    }
  }, of)
  return found.value
}

interface Pair {
  readonly one: Reading
  readonly two: Reading
}

function Verdict({ one, two }: Pair) {
  const comparison = useWorkedOut(() => comparePair(one, two), [one, two])
  if (comparison === null) {
    return (
      <p class={`card ${own.comparing}`} role="status" aria-busy="true">
        {PAIR_WORDS.comparing}
      </p>
    )
  }
  if (comparison === 'failed') {
    return (
      <p class="card" role="alert">
        {PAIR_WORDS.failed}
      </p>
    )
  }
  const { title, line } = comparisonWords(comparison)
  const shared = sharedSentence(comparison)
  return (
    <section class="card stack">
      <h2>{title}</h2>
      <p>{line}</p>
      {shared && <p class="small soft">{shared}</p>}
      {comparison.cardsMayHelp && comparison.standardUncertaintyK !== null && (
        <Advice one={one} two={two} nowK={comparison.standardUncertaintyK} />
      )}
    </section>
  )
}

/** Comes after the verdict; its room is kept, so that nothing below moves under a finger. */
function Advice({ one, two, nowK }: Pair & { nowK: number }) {
  const cardsK = useWorkedOut(
    () => withCardsK(one, two, nowK).then((k) => ({ k })),
    [one, two, nowK],
  )
  return (
    <div class={own.room}>
      <p aria-hidden="true">{nextSentence(nowK)}</p>
      <p role="status" aria-busy={cardsK === null}>
        {cardsK === 'failed' ? PAIR_WORDS.noAdvice : cardsK && nextSentence(cardsK.k)}
      </p>
    </div>
  )
}

function Side({ reading, picture }: { reading: Reading; picture: string | null }) {
  const origin = originWord(reading)
  const rows = [
    ['Taken', showMoment(reading.takenAt.iso)],
    ['Method', METHOD_NAMES[reading.method]],
    ['Surface', reading.material && surfaceName(reading.material)],
    ['In front', reading.cover && reading.cover !== 'none' && coverName(reading.cover)],
    ['Place', reading.place],
    ['Tags', reading.tags.join(', ')],
  ] as const
  return (
    <section class="card stack">
      {picture ? (
        <img
          class={css.entryPicture}
          src={picture}
          alt={`The region of ${reading.object || 'it'}`}
        />
      ) : (
        <p class={`${css.noPicture} small soft`}>No picture</p>
      )}
      {origin && <span class={`tag ${css.ownLine}`}>{origin}</span>}
      <ResultLine result={currentResult(reading)} />
      <h3>{reading.object || 'no name'}</h3>
      {rows
        .filter(([, value]) => value)
        .map(([name, value]) => (
          <p key={name} class="small">
            <span class="soft">{name}</span> {value}
          </p>
        ))}
      <a class="button no-print" href={hrefOfPlace({ kind: 'entry', id: reading.id })}>
        Open
      </a>
    </section>
  )
}
