/** Shutter times as cameras write them: 1/60 s, 0.4 s, 2 s, 125 s. */
export const shutterWords = (seconds: number): string =>
  seconds < 0.29
    ? `1/${Math.round(1 / seconds)} s`
    : `${Number(seconds.toPrecision(seconds < 10 ? 2 : 3))} s`

/** Stops against a photo, signed. */
export const stopsWords = (stops: number): string => {
  const value = Math.round(10 * stops) / 10
  return value > 0 ? `+${value}` : value === 0 ? 'as it is' : `−${-value}`
}
