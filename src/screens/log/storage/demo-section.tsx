import { useSignal } from '@preact/signals'
import { useEffect } from 'preact/hooks'
import { useServices } from '../../../session/services.ts'
import { say } from '../../../ui/spoken.tsx'
import { useSaving } from '../../../ui/use-saving.ts'
import { readingsWord } from '../../../ui/words/log.ts'
import { demoSentence } from '../../../ui/words/storage.ts'

/** A made-up workshop to look around in: everything of it is labelled, and goes at one touch. */
export function DemoSection() {
  return (
    <section class="card stack">
      <h2>Made-up workshop</h2>
      <p>Invented readings to look around in. Labelled “Made up”, never mixed with yours.</p>
      <DemoButton />
    </section>
  )
}

/** Loads it, or removes it when it is there. */
export function DemoButton() {
  const { log } = useServices()
  const count = useSignal<number | null>(null)
  const { busy, run } = useSaving()
  useEffect(() => {
    let stop: (() => void) | undefined
    let gone = false
    const look = async () => {
      const view = await (await log).find({ demo: true })
      if (!gone) count.value = view.count
    }
    log
      .then((opened) => {
        if (gone) return
        stop = opened.subscribe((change) => {
          if (change.kind === 'readings' || change.kind === 'everything') {
            look().catch(() => undefined)
          }
        })
        return look()
      })
      // Without a log there is no workshop either; its screen says why.
      .catch(() => undefined)
    return () => {
      gone = true
      stop?.()
    }
  }, [log, count])

  const change = () =>
    run(async (opened) => {
      if (count.peek()) {
        say(`${readingsWord(await opened.removeDemo())} of the made-up workshop removed.`)
      } else say(demoSentence(await opened.addDemo()))
    })
  if (count.value === null) return null
  return (
    <button type="button" disabled={busy.value} onClick={() => void change()}>
      {count.value > 0
        ? `Remove the made-up workshop (${count.value})`
        : 'Load the made-up workshop'}
    </button>
  )
}
