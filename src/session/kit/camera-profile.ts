/** A camera as a thing of its own: what was said of one device and everything that was found with it. */
import { sameBalance } from '../../estimate/camera-model.ts'
import type { BalanceState } from '../../estimate/types.ts'
import type { FlatField } from '../../light/flat-field.ts'
import type { Channels } from '../../light/image.ts'
import type { PhotoInfo } from '../../sources/photo/photo.ts'
import type { StepId } from './camera-data.ts'
import type { KitModel } from './kit-model.ts'
import { wayOf } from './ready-way.ts'
import type { StoredCamera, StoredCurve, StoredGrey, StoredHeat } from './stored-items.ts'

export type CameraItems = Pick<KitModel, 'cameras' | 'greys' | 'heats' | 'curves'>

export interface CameraProfile {
  /** Make and model, or the name that the person gave. */
  readonly device: string
  /** Null where only its cards, curves or heats are known: a kit of an earlier version. */
  readonly stored: StoredCamera | null
  readonly greys: readonly StoredGrey[]
  readonly heats: readonly StoredHeat[]
  readonly curves: readonly StoredCurve[]
}

/** Whether an item's camera id (device, lens; or a video device) is of a device. */
export function isOfDevice(
  cameraId: string | null,
  device: string,
  liveIds: readonly string[] = [],
): boolean {
  if (cameraId === null || device === '') return false
  return `${cameraId} · `.startsWith(`${device} · `) || liveIds.includes(cameraId)
}

/** Everything that the kit holds of one device. */
export function profileOf(device: string, kit: CameraItems): CameraProfile {
  const stored = kit.cameras.value.find(({ data }) => data.device === device) ?? null
  const mine = ({ cameraId }: { readonly cameraId: string | null }) =>
    isOfDevice(cameraId, device, stored?.data.liveIds)
  return {
    device,
    stored,
    greys: kit.greys.value.filter(mine),
    heats: kit.heats.value.filter(({ reference }) => mine(reference)),
    curves: kit.curves.value.filter(mine),
  }
}

/** The flat field of a photo's lens in its channels; null where none was kept. */
export function flatFieldFor(
  { stored }: Pick<CameraProfile, 'stored'>,
  { channels, facts }: Pick<PhotoInfo, 'channels' | 'facts'>,
): FlatField | null {
  const kept = stored?.data.flatFields.find(
    (one) => one.channels === channels && one.lens === facts.lens,
  )
  return kept?.field ?? null
}

/** The devices of a kit, the one used last first; then those known by their items alone. */
export function devicesOf(kit: CameraItems): string[] {
  const stored = [...kit.cameras.value]
    .sort((a, b) => b.data.usedAt.localeCompare(a.data.usedAt))
    .map(({ data }) => data)
  const devices = stored.map(({ device }) => device)
  const ids = [
    ...kit.heats.value.map(({ reference }) => reference.cameraId),
    ...[...kit.greys.value, ...kit.curves.value].flatMap(({ cameraId }) => cameraId ?? []),
  ]
  for (const id of [...new Set(ids)].sort((a, b) => a.length - b.length)) {
    const known =
      devices.some((device) => isOfDevice(id, device)) ||
      stored.some(({ liveIds }) => liveIds.includes(id))
    if (!known) devices.push(id)
  }
  return devices
}

/**
 * The card that belongs to readings of a camera in one state: that of its newest known heat, because
 * what a card leaves open then falls out of the reading; without one, the newest card.
 */
export function cardOf(
  { greys, heats }: Pick<CameraProfile, 'greys' | 'heats'>,
  cameraId: string,
  channels: Channels,
  balanceState: BalanceState,
): StoredGrey | null {
  const kind = balanceState.kind
  const fitting = greys.filter(
    (grey) =>
      grey.channels === channels &&
      (grey.cameraId === null || grey.cameraId === cameraId) &&
      (channels === 'camera' || grey.balanceKind === null || grey.balanceKind === kind),
  )
  const heat = heats.find(
    ({ off, reference }) =>
      !off &&
      reference.cameraId === cameraId &&
      reference.channels === channels &&
      reference.balance !== null &&
      sameBalance(reference.balanceState, balanceState),
  )
  const balance = heat?.reference.balance
  if (heat && balance) {
    const { item, reference } = heat
    return (
      fitting.find((grey) => grey.balance.id === balance.id) ?? {
        id: item.id,
        name: `Card of ${item.name}`,
        balance,
        channels,
        cameraId,
        balanceKind: kind,
        takenAt: reference.takenAt,
      }
    )
  }
  return fitting[0] ?? null
}

/** One thing that is known of a camera. */
export interface Piece {
  readonly step: StepId
  /** ISO 8601. */
  readonly since: string
  /** ISO 8601: when it should be looked at again. */
  readonly checkAgain: string
  readonly due: boolean
}

/**
 * Days after which a piece is to be checked. Makers change their pictures with updates a few times a
 * year (common practice), which touches card and curve; a known heat is held against the others at
 * each reading and may be older.
 */
const CHECK_AGAIN_DAYS: Record<StepId, number> = { lock: 365, card: 180, sweep: 180, heat: 365 }
const DAY_MS = 86_400_000

function piece(step: StepId, since: string, now: Date): Piece {
  const at = Date.parse(since) + CHECK_AGAIN_DAYS[step] * DAY_MS
  const known = Number.isFinite(at)
  return {
    step,
    since,
    checkAgain: known ? new Date(at).toISOString() : since,
    due: known && at < now.getTime(),
  }
}

/** What a device has of the four steps, by its newest. */
export function piecesOf(profile: CameraProfile, now: Date): Partial<Record<StepId, Piece>> {
  const { stored, greys, curves, heats } = profile
  const lock = stored?.data.lock
  const curve = curves.find(({ check }) => check?.agrees ?? true)
  const heat = heats.find(({ off }) => !off)
  const card = greys[0]
  const cardAt =
    wayOf(lock) === 'card in picture'
      ? stored?.data.cardPlace && lock?.since
      : (card?.takenAt ?? heats.find(({ reference }) => reference.balance)?.reference.takenAt)
  return {
    ...(lock ? { lock: piece('lock', lock.since, now) } : {}),
    ...(cardAt ? { card: piece('card', cardAt, now) } : {}),
    ...(curve ? { sweep: piece('sweep', curve.check?.at ?? curve.foundAt, now) } : {}),
    ...(heat ? { heat: piece('heat', heat.reference.takenAt, now) } : {}),
  }
}
