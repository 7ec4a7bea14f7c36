import { useEffect, useMemo } from 'preact/hooks'
import { createStatusModel } from '../../session/log/status-model.ts'
import { useServices } from '../../session/services.ts'
import { AskToKeep, StorageFacts } from '../../ui/storage-facts.tsx'

/** How safe everything is that lies on this device; why there is no log is said above. */
export function KitStorageSection() {
  const { log } = useServices()
  const model = useMemo(() => createStatusModel(log, Promise.resolve()), [log])
  useEffect(() => () => model.dispose(), [model])
  const status = model.status.value
  if (!status) return null
  return (
    <>
      <dl class="facts">
        <StorageFacts what="On this device" status={status} />
      </dl>
      <AskToKeep model={model} />
      <a class="button" href="/log/keeping">
        Make a backup
      </a>
    </>
  )
}
