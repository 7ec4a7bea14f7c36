/** The part of the Battery Status API (W3C) that some browsers have. */
interface Battery {
  readonly level: number
  readonly charging: boolean
}

/** Below this share, and not on the charger, it may not last. */
const LOW = 0.2

/** Whether the battery is low, where the browser says. */
export async function batteryIsLow(): Promise<boolean> {
  const device = navigator as unknown as { getBattery?: () => Promise<Battery> }
  try {
    const battery = await device.getBattery?.()
    return battery !== undefined && !battery.charging && battery.level < LOW
  } catch {
    return false
  }
}
