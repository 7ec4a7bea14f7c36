import { useServices } from '../../session/services.ts'

/** What a sheet of paper must say by itself. */
export function PrintFoot({ id }: { id?: string }) {
  const { now } = useServices()
  return (
    <p class="print-only small">
      Glowbook, printed {now().toISOString().slice(0, 10)}. An estimate, no safety instrument.
      {id && ` Entry ${id}.`}
    </p>
  )
}
