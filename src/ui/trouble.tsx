import { Notices } from './notices.tsx'
import type { Notice } from './words/estimate.ts'

/** What went wrong, and the ways on. */
export function Trouble({ notice, again }: { notice: Notice; again: () => void }) {
  return (
    <div class="stack">
      <div role="alert">
        <Notices notices={[notice]} />
      </div>
      <div class="row">
        <button type="button" class="grow" onClick={again}>
          Try again
        </button>
        <button type="button" class="grow" onClick={() => location.reload()}>
          Reload
        </button>
      </div>
    </div>
  )
}
