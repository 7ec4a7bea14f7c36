import { type Signal, useSignal } from '@preact/signals'
import { NumberField } from '../../ui/number-field.tsx'

/** The name of the piece, and readings into the log every few seconds. */
export function SeriesPanel({
  object,
  running,
  onStart,
  onStop,
}: {
  object: Signal<string>
  running: { readonly seconds: number; readonly count: number } | null
  onStart: (seconds: number) => void
  onStop: () => void
}) {
  const seconds = useSignal<number | null>(10)
  return (
    <section class="stack">
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
      {running ? (
        <div class="row">
          <p class="grow" role="status">
            Series: {running.count} saved, every {running.seconds} s
          </p>
          <button type="button" onClick={onStop}>
            Stop series
          </button>
        </div>
      ) : (
        <details>
          <summary>Series</summary>
          <div class="inside">
            <NumberField
              label="Save every, s"
              value={seconds.value}
              min={1}
              max={3600}
              onValue={(value) => {
                seconds.value = value
              }}
            />
            <button
              type="button"
              disabled={seconds.value === null}
              onClick={() => seconds.value !== null && onStart(seconds.value)}
            >
              Start series
            </button>
          </div>
        </details>
      )}
    </section>
  )
}
