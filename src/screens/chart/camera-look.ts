import type { CameraLook } from '../../colour/heat-view.ts'
import { cameraModel } from '../../estimate/camera-model.ts'
import { CAMERA_LOCUS } from '../../estimate/estimate-glow.ts'

/** What a typical camera locked on daylight makes of a glow: the mean of the camera locus. */
export function typicalCameraLook(): CameraLook {
  const model = cameraModel(CAMERA_LOCUS, 'display-p3', {
    kind: 'daylight',
    colourTemperatureK: null,
  })
  return (temperatureK) => {
    const inRange = Math.min(model.hottestK, Math.max(model.coldestK, temperatureK))
    const green = model.green(inRange).mean
    return {
      greenOverRed: model.scale === 'log' ? Math.exp(green) : green,
      blueOverRed: model.blue(inRange).mean,
    }
  }
}
