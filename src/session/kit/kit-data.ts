/**
 * What kit items hold in `data`, as schemas: items also come from files, and what is not as it should
 * be must not reach the estimate.
 */
import * as v from 'valibot'
import { LEAK_TEST_IDS } from '../../estimate/leak-test-ids.ts'
import type {
  BalanceState,
  GreyBalance,
  KnownHeatReference,
  Linearity,
  SurfaceSlope,
} from '../../estimate/types.ts'
import type { ToneCurve } from '../../light/exposure-sweep/tone-curve.ts'
import * as q from '../../log/schema/quantities.ts'
import { isCovariance } from '../../numerics/covariance.ts'
import { storing } from '../stored-shape.ts'

const name = v.pipe(v.string(), v.maxLength(400))
const tripleOf = <Of extends v.GenericSchema<number>>(of: Of) => v.tuple([of, of, of])
const matrixOf = <Of extends v.GenericSchema<number>>(of: Of) =>
  v.tuple([tripleOf(of), tripleOf(of), tripleOf(of)])
export const matrix3 = matrixOf(q.light)
/** Of three channels; what nothing could scatter by has no root. */
const covariance3 = v.pipe(
  matrixOf(q.variance),
  v.check((matrix) => isCovariance(matrix), 'no covariance'),
)
export const linearColour = v.object({
  mean: v.tuple([q.redLight, q.light, q.light]),
  covariance: covariance3,
})
export const channels = v.picklist(['display-p3', 'camera'])

export const greyBalance = storing<GreyBalance>()(
  v.object({
    id: name,
    logGains: tripleOf(q.lnRatio),
    covariance: covariance3,
    light: v.object({
      kind: v.picklist(['daylight', 'filament', 'other']),
      colourTemperatureK: q.colourTemperatureK,
      standardUncertaintyK: q.uncertaintyK,
    }),
    samePicture: v.exactOptional(v.boolean()),
  }),
)

export const balanceState = storing<BalanceState>()(
  v.object({
    kind: v.picklist(['daylight', 'lamp', 'locked', 'raw', 'automatic', 'unknown']),
    colourTemperatureK: v.nullable(q.colourTemperatureK),
    lock: v.exactOptional(v.picklist(['verified', 'set'])),
  }),
)

export const linearity = storing<Linearity>()(
  v.variant('kind', [
    v.object({ kind: v.literal('linear') }),
    v.object({ kind: v.literal('raw') }),
    v.object({
      kind: v.literal('sweep'),
      curveId: name,
      standardUncertaintyGreen: q.lnUncertainty,
      standardUncertaintyBlue: q.lnUncertainty,
      greenErrors: v.exactOptional(v.pipe(v.array(q.lnRatio), v.maxLength(100))),
      ownUncertainty: v.exactOptional(q.lnUncertainty),
      photos: v.exactOptional(q.wholeWithin(1, 1000)),
    }),
    v.object({
      kind: v.literal('single'),
      curveId: name,
      storedLevels: tripleOf(q.light),
      space: v.picklist(['srgb', 'display-p3']),
    }),
  ]),
)

/** Settings of a camera that can be kept as measured. */
export const MOST_EXPOSURES = 60

/** A label may be a few stops off; beyond that it is no exposure of the camera. */
const exposureError = {
  lnOff: q.within(-5, 5),
  standardUncertainty: q.within(0, 5),
}

export const storedLevelConditions = v.object({
  exposureSeconds: q.exposureSeconds,
  iso: q.iso,
  fNumber: q.fNumber,
  fieldRadius: q.share,
  measured: v.exactOptional(v.object({ lnOff: q.lnRatio, standardUncertainty: q.lnUncertainty })),
  stream: v.exactOptional(v.literal(true)),
})

export const measuredExposures = v.pipe(
  v.array(
    v.object({
      exposureSeconds: q.exposureSeconds,
      iso: q.iso,
      fNumber: q.fNumber,
      ...exposureError,
    }),
  ),
  v.maxLength(MOST_EXPOSURES),
)

/** One result of each test at the most. */
export const leakTests = v.pipe(
  v.array(
    v.object({
      test: v.picklist(LEAK_TEST_IDS),
      seen: v.boolean(),
      measured: v.exactOptional(
        v.object({
          leak: q.within(1e-8, 1),
          lnSd: q.within(0.01, 10),
        }),
      ),
    }),
  ),
  v.maxLength(LEAK_TEST_IDS.length),
)

export const surfaceSlope = storing<SurfaceSlope>()(
  v.object({
    id: name,
    lnGreenOverRed: q.lnSlope,
    standardUncertainty: q.lnUncertainty,
    piece: v.exactOptional(name),
  }),
)

export const reference = storing<Omit<KnownHeatReference, 'id' | 'name'>>()(
  v.object({
    cameraId: name,
    takenAt: name,
    temperatureK: q.temperatureK,
    standardUncertaintyK: q.uncertaintyK,
    glow: linearColour,
    channels,
    balance: v.nullable(greyBalance),
    balanceState,
    linearity,
    surface: surfaceSlope,
    group: v.nullable(name),
    level: v.exactOptional(storedLevelConditions),
  }),
)

const reading = v.object({
  value: q.electrical,
  percentOfReading: q.meterAccuracy,
  digits: q.meterAccuracy,
  resolution: q.meterAccuracy,
})
const accuracy = v.object({ percentOfReading: q.meterAccuracy, digits: q.meterAccuracy })

/** A lamp of the kit: what stays the same from one dimmer setting to the next. */
export const lampData = v.object({
  rating: v.object({
    colourTemperatureK: q.colourTemperatureK,
    standardUncertaintyK: q.uncertaintyK,
  }),
  ratingKind: v.picklist(['general-service', 'halogen', 'stated']),
  ratedVolts: v.nullable(q.electrical),
  ratedWatts: v.nullable(q.electrical),
  /** Of the lamp alone, cold, with the temperature it had then. */
  cold: v.nullable(v.object({ ohms: reading, temperatureK: q.temperatureK })),
  meters: v.object({
    volts: accuracy,
    amperes: accuracy,
    watts: accuracy,
    ohms: accuracy,
  }),
  /** How it is fed: whole sine or direct, or a dimmer that cuts the wave. */
  supply: v.variant('kind', [
    v.object({ kind: v.literal('whole') }),
    v.object({
      kind: v.literal('cut'),
      meter: v.picklist(['true-rms', 'average-responding', 'unknown']),
      supplyVolts: q.electrical,
    }),
  ]),
})
export type LampData = v.InferOutput<typeof lampData>

/** How the temperature of a known heat came about; kept so that it can be computed again. */
const origin = v.variant('kind', [
  v.object({
    kind: v.literal('known heat'),
    id: name,
    atmosphere: v.nullable(v.picklist(['covered', 'open-air'])),
    steelClass: v.nullable(v.picklist(['low-carbon', 'medium-carbon', 'high-carbon', 'unknown'])),
    valueK: v.nullable(q.temperatureK),
    limitsOfErrorK: v.nullable(q.uncertaintyK),
  }),
  v.object({
    kind: v.literal('lamp'),
    lampName: name,
    target: name,
    method: v.picklist(['rated', 'volts', 'watts', 'resistance']),
    lamp: lampData,
    /** What was read at this setting. */
    readings: v.object({
      volts: v.nullable(reading),
      amperes: v.nullable(reading),
      watts: v.nullable(reading),
    }),
    trueTemperatureK: q.temperatureK,
  }),
])
export type Origin = v.InferOutput<typeof origin>

export const greyData = v.looseObject({
  balance: greyBalance,
  /** Gains of one kind of channels say nothing about the other. */
  channels: v.optional(channels, 'display-p3'),
  /**
   * Of the card's photo: the same photo is the same card wherever it is opened. Items of earlier
   * versions have none and go by their own id.
   */
  contentId: v.exactOptional(name),
})

/** A tone curve as an exposure sweep recovers it (light/exposure-sweep/tone-curve.ts). */
const curveKind = v.picklist(['channel', 'ratio'])
const toneCurve = storing<ToneCurve>()(
  v.pipe(
    v.object({
      version: v.literal(2),
      kind: curveKind,
      space: v.picklist(['srgb', 'display-p3']),
      response: v.object({
        kind: curveKind,
        basis: v.object({
          first: q.lnRatio,
          spacing: v.pipe(q.lnRatio, v.minValue(1e-3)),
          size: q.wholeWithin(0, 100),
        }),
        coefficients: v.array(q.lnRatio),
      }),
      covariance: v.array(q.variance),
      from: q.lnRatio,
      to: q.lnRatio,
      residual: q.lnUncertainty,
      data: q.wholeWithin(0, 1e9),
    }),
    v.check(({ response: { basis, coefficients }, covariance }) => {
      const { size } = basis
      return coefficients.length === size && covariance.length === (size * (size + 1)) / 2
    }, 'coefficients or covariance do not fit the size of the basis'),
  ),
)
/** The latest check of a curve on new photos: root mean square residual in ln light. */
const curveCheck = v.object({ at: name, residual: q.lnUncertainty, agrees: v.boolean() })
export type CurveCheck = v.InferOutput<typeof curveCheck>
export const toneCurveData = v.looseObject({
  curve: toneCurve,
  curveId: name,
  channelOdds: v.optional(q.within(1e-3, 1e3), 1),
  check: v.optional(v.nullable(curveCheck), null),
})
/** A curve of a version whose numbers mean something else today. */
export const earlierCurveData = v.looseObject({
  curve: v.looseObject({ version: v.literal(1) }),
  curveId: name,
})
/** Tungsten melts at 3695 K; its colour is a little hotter than itself. */
const HOTTEST_FILAMENT_K = 4500
export const knownHeatData = v.pipe(
  v.looseObject({
    reference,
    /** Switched off: kept, but not used. */
    off: v.optional(v.boolean(), false),
    origin: v.optional(v.nullable(origin), null),
    /** For raw photos: camera channels -> XYZ, from the file. */
    cameraToXyz: v.optional(v.nullable(matrix3), null),
  }),
  v.check(
    ({ origin, reference: { temperatureK } }) =>
      origin?.kind !== 'lamp' || temperatureK <= HOTTEST_FILAMENT_K,
    `reference.temperatureK: Expected <=${HOTTEST_FILAMENT_K} of a lamp`,
  ),
)
export type KnownHeatData = v.InferOutput<typeof knownHeatData>
export type ReferenceData = v.InferOutput<typeof reference>
