import { MAY_BE_CLEARED } from './words/storage.ts'

/** At the first save, where the browser has not promised to keep what is stored. */
export function MayBeCleared() {
  return (
    <p class="small soft">
      {MAY_BE_CLEARED} <a href="/log/keeping">Make a backup</a> now and then.
    </p>
  )
}
