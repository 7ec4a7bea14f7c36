/** The wall clock's date as it was where the reading was taken: the text itself, not another zone. */
export const showDay = (iso: string): string => iso.slice(0, 10)
export const showTime = (iso: string): string => iso.slice(11, 16)
/** 2026-03-14 15:09 */
export const showMoment = (iso: string): string => `${showDay(iso)} ${showTime(iso)}`

/** An instant by this device's clock, for what happened to the device itself (a backup, an edit). */
export function showLocalMoment(iso: string): string {
  const date = new Date(iso)
  const local = new Date(date.getTime() - date.getTimezoneOffset() * 60_000)
  return showMoment(local.toISOString())
}
export const showLocalDay = (iso: string): string => showDay(showLocalMoment(iso))
