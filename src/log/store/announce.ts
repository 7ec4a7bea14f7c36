import type { LogChange } from '../schema/types.ts'

/** What one tab tells the others: what has changed, not what it has become. */
export type Message =
  | { readonly kind: 'readings'; readonly ids: string[]; readonly blocks: number[] }
  | { readonly kind: 'everything' }
  | { readonly kind: 'kit' }
  | { readonly kind: 'recordings' }
  | { readonly kind: 'settings' }

export interface Announcer {
  /** To the listeners of this tab and to other tabs. */
  announce(message: Message): void
  /** To the listeners of this tab alone. */
  tell(change: LogChange): void
  subscribe(listener: (change: LogChange) => void): () => void
  close(): void
}

/** @param onMessage what the log itself does before listeners hear of another tab's change */
export function openAnnouncer(
  name: string,
  onMessage: (message: Message) => Promise<void>,
): Announcer {
  const listeners = new Set<(change: LogChange) => void>()
  const tell = (change: LogChange) => {
    for (const listener of listeners) listener(change)
  }
  let channel = typeof BroadcastChannel === 'undefined' ? null : new BroadcastChannel(name)
  if (channel !== null) {
    channel.onmessage = async ({ data }: MessageEvent<Message>) => {
      await onMessage(data)
      tell(changeOf(data, true))
    }
  }
  return {
    announce(message) {
      channel?.postMessage(message)
      tell(changeOf(message, false))
    },
    tell,
    subscribe(listener) {
      listeners.add(listener)
      return () => listeners.delete(listener)
    },
    close() {
      listeners.clear()
      channel?.close()
      channel = null
    },
  }
}

function changeOf(message: Message, elsewhere: boolean): LogChange {
  return message.kind === 'readings'
    ? { kind: 'readings', ids: message.ids, elsewhere }
    : { kind: message.kind, elsewhere }
}
