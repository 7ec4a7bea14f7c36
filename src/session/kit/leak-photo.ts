/** A test of a camera's infrared filter, judged by its picture. */
import { leakOfPlate } from '../../estimate/leak-of-plate.ts'
import { type LeakTest, leakOfRemoteControl } from '../../estimate/leak-test.ts'
import type { LeakTestId } from '../../estimate/leak-test-ids.ts'
import type { BalanceState } from '../../estimate/types.ts'
import type { PhotoMeasurement } from '../../light/measure-photo.ts'
import type { Photo } from '../../sources/photo/photo.ts'
import { FIRST_CHOICES, glowInput } from '../reading/glow-input.ts'
import { cameraIdOf, linearityOf, stateOf } from '../reading/photo-meaning.ts'

export type LeakJudgement =
  | { readonly kind: 'result'; readonly test: LeakTest }
  /** Expose less. */
  | { readonly kind: 'clipped' }
  /** The file does not state its exposure: a level says nothing then. */
  | { readonly kind: 'exposure not stated' }
  /** Nothing that is as hot as this has such a colour. */
  | { readonly kind: 'no such plate' }

/** @param lock how the camera is locked; the file may contradict it */
export function judgeLeak(
  test: LeakTestId,
  photo: Photo,
  measurement: PhotoMeasurement,
  lock: BalanceState,
): LeakJudgement {
  const result = (seen: boolean, measured?: LeakTest['measured']): LeakJudgement => ({
    kind: 'result',
    test: { test, seen, ...(measured && { measured }) },
  })
  if (measurement.findings.some(({ code }) => code === 'clipped' || code === 'some clipped'))
    return { kind: 'clipped' }
  if (measurement.refused) return result(false)
  if (test === 'remote control') {
    const { exposureSeconds, iso, fNumber } = photo.facts
    if (exposureSeconds === null || iso === null || fNumber === null)
      return { kind: 'exposure not stated' }
    const level = measurement.glow.mean[1]
    if (!(level > 0)) return result(false)
    return result(true, leakOfRemoteControl(level, { exposureSeconds, iso, fNumber }))
  }
  const found = leakOfPlate(
    glowInput({
      measurement,
      channels: photo.channels,
      cameraToXyz: photo.cameraToXyz,
      linearity: linearityOf(photo, measurement, null),
      balance: null,
      choices: { ...FIRST_CHOICES, balanceState: stateOf(photo, lock) },
      cameraId: cameraIdOf(photo.facts),
      faithfulColours: false,
      takenAt: photo.facts.takenAt,
      references: [],
      level: null,
    }),
  )
  return found ? result(true, found) : { kind: 'no such plate' }
}
