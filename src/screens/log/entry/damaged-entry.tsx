import { saveOrShare } from '../../../log/export/export-file.ts'
import type { Damage } from '../../../log/schema/types.ts'
import css from '../log.module.css'

/** A record that cannot be trusted: kept verbatim, its text can be exported. */
export function DamagedEntry({ damage, onDelete }: { damage: Damage; onDelete: () => void }) {
  const { id, where, raw } = damage
  return (
    <>
      <section class="card stack">
        <h2>This record is damaged</h2>
        <p>
          It is kept as it lies here, and nothing in it is guessed. A backup may bring it back: read
          the file in under “Backup”.
        </p>
        <p class="small soft">What is wrong: {where}</p>
        {raw !== '' && (
          <>
            {/* A region that scrolls must be reachable by keyboard. */}
            {/* biome-ignore lint/a11y/noNoninteractiveTabindex: see above */}
            <pre class={`small ${css.raw}`} tabIndex={0}>
              {raw}
            </pre>
            <button
              type="button"
              onClick={() => {
                const name = `damaged-reading-${id.replace(/[^0-9a-z-]+/gi, '-')}.json`
                void saveOrShare(new File([raw], name, { type: 'application/json' }))
              }}
            >
              Export the text
            </button>
          </>
        )}
      </section>
      <button type="button" class="danger" onClick={onDelete}>
        Delete
      </button>
    </>
  )
}
