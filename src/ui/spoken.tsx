import { signal } from '@preact/signals'

interface Word {
  readonly text: string
  readonly action?: { readonly label: string; readonly run: () => void }
}

const word = signal<Word | null>(null)
let timer: ReturnType<typeof setTimeout> | undefined
/** Long enough to read it twice and to take a glove off for "Undo"; without one it only covers things. */
const STAYS_MS = 10_000
const STAYS_WITHOUT_ACTION_MS = 5_000

/** Says one short thing at the foot of the screen, with at most one action (such as undo). */
export function say(text: string, action?: Word['action']): void {
  clearTimeout(timer)
  word.value = action ? { text, action } : { text }
  timer = setTimeout(
    () => {
      word.value = null
    },
    action ? STAYS_MS : STAYS_WITHOUT_ACTION_MS,
  )
}

export function SpokenWord() {
  const current = word.value
  return (
    <div role="status" aria-live="polite">
      {current && (
        <div class="word fade">
          <span>{current.text}</span>
          {current.action && (
            <button
              type="button"
              onClick={() => {
                word.value = null
                current.action?.run()
              }}
            >
              {current.action.label}
            </button>
          )}
          <button
            type="button"
            aria-label="Close this message"
            onClick={() => {
              word.value = null
            }}
          >
            ✕
          </button>
        </div>
      )}
    </div>
  )
}
