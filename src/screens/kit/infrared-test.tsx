import { useSignal } from '@preact/signals'
import { leakAfterTests } from '../../estimate/infrared-leak.ts'
import type { LeakTest } from '../../estimate/leak-test.ts'
import { LEAK_TEST_IDS, type LeakTestId } from '../../estimate/leak-test-ids.ts'
import type { BalanceState } from '../../estimate/types.ts'
import { changeCamera } from '../../session/kit/camera-store.ts'
import { useServices } from '../../session/services.ts'
import { Segments } from '../../ui/segments.tsx'
import { useSaving } from '../../ui/use-saving.ts'
import { LEAK_TEST_WORDS, leakAdvice, leakWords } from '../../ui/words/infrared.ts'
import { LeakPhoto } from './leak-photo.tsx'
import { Opener } from './opener.tsx'

/** As the tests ask for it. */
const DAYLIGHT: BalanceState = { kind: 'daylight', colourTemperatureK: null }

type Result = 'not done' | 'seen' | 'unseen'

/** Whether a camera sees infrared: two tests that anybody can do, and what they say. */
export function InfraredTest({
  device,
  tests,
  lock = DAYLIGHT,
  alone = false,
}: {
  device: string
  tests: readonly LeakTest[]
  lock?: BalanceState | undefined
  /** On a screen of its own: nothing to open or close. */
  alone?: boolean
}) {
  const open = useSignal(alone)
  const { now } = useServices()
  const { run } = useSaving()
  const resultOf = (id: LeakTestId): Result => {
    const found = tests.find(({ test }) => test === id)
    return found ? (found.seen ? 'seen' : 'unseen') : 'not done'
  }
  const keep = (test: LeakTestId, mine: readonly LeakTest[]) =>
    run((log) => {
      const others = tests.filter((one) => one.test !== test)
      return changeCamera(log, device, { leakTests: [...others, ...mine] }, now())
    })
  const choose = (test: LeakTestId, result: Result) =>
    keep(test, result === 'not done' ? [] : [{ test, seen: result === 'seen' }])
  const leak = leakAfterTests(tests)
  return (
    <section class="stack" aria-label={`Infrared, ${device}`}>
      {tests.length > 0 && (
        <p>
          Infrared filter: {leakWords(leak)}.
          {open.value && <span class="small soft"> {leakAdvice(leak)}</span>}
        </p>
      )}
      {open.value &&
        LEAK_TEST_IDS.map((id) => {
          const { name, doing, seen, unseen } = LEAK_TEST_WORDS[id]
          return (
            <section key={id} class="stack" aria-label={name}>
              <p>
                <strong>{name}.</strong> <span class="small soft">{doing}</span>
              </p>
              <Segments<Result>
                of={[
                  ['not done', 'Not done'],
                  ['unseen', unseen],
                  ['seen', seen],
                ]}
                chosen={resultOf(id)}
                onChoose={(result) => void choose(id, result)}
              />
              <LeakPhoto test={id} lock={lock} onResult={(found) => void keep(id, [found])} />
            </section>
          )
        })}
      {!alone && (
        <Opener open={open} toOpen="Test for infrared" toClose="Close the infrared test" />
      )}
    </section>
  )
}
