import { signal } from '@preact/signals'
import type { ComponentChildren } from 'preact'
import { renderToString } from 'preact-render-to-string'
import * as v from 'valibot'
import { expect, test } from 'vitest'
import { issueText } from '../../src/log/index/rows.ts'
import { summaryOf } from '../../src/log/index/summary.ts'
import { emptyColumns } from '../../src/log/recordings/columns.ts'
import { recordingHead } from '../../src/log/recordings/recording-schema.ts'
import { kitItem } from '../../src/log/schema/kit-schema.ts'
import { currentResult, reading as readingSchema } from '../../src/log/schema/reading-schema.ts'
import type { Json, KitItem, Reading } from '../../src/log/schema/types.ts'
import { compareResults } from '../../src/log/statistics/compare.ts'
import { statisticsOf } from '../../src/log/statistics/statistics.ts'
import { CurveEntry } from '../../src/screens/kit/curve-entry.tsx'
import { DeviceEntry } from '../../src/screens/kit/device-entry.tsx'
import { GreyEntry } from '../../src/screens/kit/grey-entry.tsx'
import { HeatEntry } from '../../src/screens/kit/heat-entry.tsx'
import { LampEntry } from '../../src/screens/kit/lamp-entry.tsx'
import { ResponseEntry } from '../../src/screens/kit/response-entry.tsx'
import { EntryDetails, EntryFacts } from '../../src/screens/log/entry/entry-facts.tsx'
import { EntryHistory } from '../../src/screens/log/entry/entry-history.tsx'
import { EntryResult } from '../../src/screens/log/entry/entry-result.tsx'
import { LogRow } from '../../src/screens/log/list/log-row.tsx'
import { AboutRecording } from '../../src/screens/recording/about-recording.tsx'
import { RecordingLines } from '../../src/screens/recording/list-screen.tsx'
import { sortKit } from '../../src/session/kit/sort-kit.ts'
import type { ListModel } from '../../src/session/log/list-model.ts'
import { storedMap } from '../../src/session/log/stored-map.ts'
import { storedDetails } from '../../src/session/recording/recording-details.ts'
import type { RecordingModel } from '../../src/session/recording/recording-model.ts'
import { type Services, ServicesProvider } from '../../src/session/services.ts'
import { showPlusMinus, showTemperature } from '../../src/ui/temperature.ts'
import { evennessSentences, marginSentence, markSentence } from '../../src/ui/words/heat-map.ts'
import {
  MAP_DETAILS,
  RECORDING_DETAILS,
  RECORDING_HEAD,
  RESPONSES,
  WHOLE_CAMERA,
} from './all-samples.ts'
import {
  leavesOf,
  numbersOf,
  type Path,
  SAMPLE_KIT,
  SAMPLE_READING,
  withLeaf,
} from './stored-samples.ts'

/** Numbers that a file may state: each is refused by its field's name, or shown as what it is. */
const EXTREMES = [
  ...[0, -1, 5e-324, 1e-300, 0.001, 0.5, 100_000, 1e308, -1e308],
  // What the ranges just allow.
  ...[1e-6, 50, 20_000, 1e6, -1e6, 1e9],
]
/** Names that every object inherits, half a surrogate pair, a word without an end. */
const NAMES = ['constructor', '__proto__', 'toString', 'hasOwnProperty', '\ud800', 'x'.repeat(60)]
const NO_NUMBER = /NaN|± –|– ±|– °C|Infinity|undefined|\de[+-]?\d|native code|\[object/

const kitOf = (items: readonly KitItem[]) => {
  const sorted = sortKit(items)
  const signals = Object.fromEntries(
    Object.entries(sorted).map(([name, found]) => [name, signal(found)]),
  )
  return { sorted, model: { ...signals, items: signal(items) } as unknown as Services['kit'] }
}
const servicesWith = (kit: Services['kit']) =>
  ({ kit, log: new Promise(() => {}), now: () => new Date('2026-04-01') }) as unknown as Services

const textOf = (children: ComponentChildren, items: readonly KitItem[] = []) =>
  renderToString(
    <ServicesProvider value={servicesWith(kitOf(items).model)}>{children}</ServicesProvider>,
  ).replace(/<[^>]*>/g, ' ')

function readingText(reading: Reading, changed: Path = []): string {
  if (changed[0] === 'inputs') {
    return textOf(<EntryFacts reading={reading} list={{} as ListModel} />)
  }
  const shown = textOf(
    <>
      <LogRow summary={summaryOf(reading)} chosen={null} onToggle={() => {}} />
      <EntryResult reading={reading} />
      <EntryFacts reading={reading} list={{} as ListModel} />
      <EntryDetails reading={reading} />
      <EntryHistory reading={reading} again={null} onLook={() => {}} />
    </>,
  )
  const result = currentResult(reading)
  const other = currentResult(SAMPLE_READING)
  if (result.kind !== 'temperature' || other.kind !== 'temperature') return shown
  const computed = [statisticsOf([result, other]), compareResults(result, other)]
  return `${shown} ${numbersOf(computed).length} ${everyNumber(computed)}`
}

/** The numbers that are none. */
const everyNumber = (value: unknown) =>
  numbersOf(value)
    .filter(
      (path) => !Number.isFinite(path.reduce<unknown>((at, name) => at?.[name as never], value)),
    )
    .map((path) => `${path.join('.')} NaN`)
    .join(' ')

function kitText(item: KitItem): string {
  const { sorted } = kitOf([item])
  return textOf(
    <>
      {sorted.cameras.map(({ data }) => (
        <DeviceEntry key="0" device={data.device} surveys={new Map()} />
      ))}
      {sorted.greys.map((grey) => (
        <GreyEntry key="1" grey={grey} item={item} />
      ))}
      {sorted.heats.map((heat) => (
        <HeatEntry key="2" heat={heat} survey={undefined} />
      ))}
      {sorted.lamps.map((kept) => (
        <LampEntry key="3" kept={kept} photos={0} />
      ))}
      {sorted.curves.map((kept) => (
        <CurveEntry key="4" kept={kept} item={item} />
      ))}
      {sorted.responses.map((kept) => (
        <ResponseEntry key="5" kept={kept} />
      ))}
    </>,
    [item],
  )
}

/** The last name of a path: what a refusal has to mention. */
const fieldOf = (path: Path) => path.findLast((name) => typeof name === 'string') as string
const problemOf = (schema: v.GenericSchema, value: unknown) => {
  const parsed = v.safeParse(schema, value)
  return parsed.success ? null : issueText(parsed.issues)
}

test('every number of a reading is refused by name or shown as a number', () => {
  const wrong: string[] = []
  for (const path of numbersOf(SAMPLE_READING)) {
    for (const extreme of EXTREMES) {
      const changed = withLeaf(SAMPLE_READING, path, extreme)
      const problem = problemOf(readingSchema, changed)
      const where = `${path.join('.')} = ${extreme}`
      if (problem === null) {
        const bad = NO_NUMBER.exec(readingText(changed, path))
        if (bad) wrong.push(`${where}: shows ${bad[0]}`)
      } else if (!problem.includes(fieldOf(path))) wrong.push(`${where}: refused as ${problem}`)
    }
  }
  expect(wrong).toEqual([])
})

test('a hostile name in any field of a reading or of the kit is shown as it stands', () => {
  const wrong: string[] = []
  const walk = <T extends object>(
    whole: T,
    fits: (one: T) => boolean,
    show: (one: T) => string,
  ) => {
    for (const path of leavesOf(whole, 'string')) {
      for (const name of NAMES) {
        const changed = withLeaf(whole, path, name)
        if (!fits(changed)) continue
        const bad = NO_NUMBER.exec(show(changed))
        if (bad) wrong.push(`${path.join('.')} = ${name}: shows ${bad[0]}`)
      }
    }
  }
  walk(
    SAMPLE_READING,
    (one) => v.is(readingSchema, one),
    (one) => readingText(one),
  )
  const none = { kind: 'none' as const, reason: 'no glow', methodVersion: '1' }
  walk(
    { ...SAMPLE_READING, recomputations: [], result: none },
    (one) => v.is(readingSchema, one),
    (one) => readingText(one),
  )
  for (const item of SAMPLE_KIT) walk(item, (one) => v.is(kitItem, one), kitText)
  expect(wrong).toEqual([])
})

test.each([...SAMPLE_KIT, WHOLE_CAMERA, ...RESPONSES].map((item) => [item.kind, item] as const))(
  'every number of a %s is refused by name or shown as a number',
  (_kind, item) => {
    const wrong: string[] = []
    expect(sortKit([item]).unreadable).toEqual([])
    for (const path of numbersOf(item)) {
      if (path[0] === 'version') continue
      for (const extreme of EXTREMES) {
        const changed = withLeaf(item, path, extreme)
        const problem = problemOf(kitItem, changed) ?? sortKit([changed]).unreadable[0]?.where
        const where = `${path.join('.')} = ${extreme}`
        if (problem === undefined) {
          const bad = NO_NUMBER.exec(kitText(changed))
          if (bad) wrong.push(`${where}: shows ${bad[0]}`)
        } else if (!problem.includes(fieldOf(path))) wrong.push(`${where}: refused as ${problem}`)
      }
    }
    expect(wrong).toEqual([])
  },
)

/** Every number of a value in turn, as each extreme that is taken. */
function walkTaken<T>(whole: T, text: (changed: T) => string | null): string[] {
  return numbersOf(whole).flatMap((path) =>
    [0, 1e-300, 1e-6, 50, 20_000, 1e308].flatMap((extreme) => {
      const bad = NO_NUMBER.exec(text(withLeaf(whole, path, extreme)) ?? '')
      return bad ? [`${path.join('.')} = ${extreme}: shows ${bad[0]}`] : []
    }),
  )
}

test('every number of a map is refused or shown as a number', () => {
  const text = (details: Json) => {
    const made = storedMap(details)
    if (!made) return null
    const { map, evenness } = made
    const { marginPixels, closer, scale } = map
    return [
      ...evennessSentences(evenness, map.side, 0.5),
      markSentence(evenness),
      marginSentence(marginPixels, closer),
      showTemperature(scale.temperatureK),
      showPlusMinus(scale.common95K / 2),
      showPlusMinus(evenness.usualOwnK),
    ].join(' ')
  }
  expect(text(MAP_DETAILS)).toContain('°C')
  expect(walkTaken(MAP_DETAILS, text)).toEqual([])
})

test('every number of a recording is refused or shown as a number', () => {
  const shown = (head: typeof RECORDING_HEAD, details: Json) => {
    const parsed = v.safeParse(recordingHead, head)
    if (!parsed.success) return null
    const model = { details: signal(storedDetails(details)) } as unknown as RecordingModel
    const stored = { head: parsed.output, columns: emptyColumns(0), details }
    return textOf(
      <>
        <RecordingLines head={parsed.output} />
        <AboutRecording model={model} stored={stored} />
      </>,
    )
  }
  expect(shown(RECORDING_HEAD, RECORDING_DETAILS)).toContain('silver')
  expect(walkTaken(RECORDING_HEAD, (head) => shown(head, RECORDING_DETAILS))).toEqual([])
  expect(walkTaken(RECORDING_DETAILS, (details) => shown(RECORDING_HEAD, details))).toEqual([])
})
