/** The wall clock's date as it was where the reading was taken: the text itself, not another zone. */
export const showDay = (iso: string): string => iso.slice(0, 10)
export const showTime = (iso: string): string => iso.slice(11, 16)
/** 2026-03-14 15:09 */
export const showMoment = (iso: string): string => `${showDay(iso)} ${showTime(iso)}`
