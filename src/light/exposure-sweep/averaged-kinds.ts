import type { Recovery } from './recover-response.ts'

/**
 * A curve between both kinds: one that keeps ratios leaves ln(G/R) as the nominal function has it, that
 * is, without bend. Mean and covariance of the mixture.
 *
 * @param channel the recovery of a curve on each channel, and the probability of that kind, 0..1
 */
export function averagedKinds<R extends Pick<Recovery, 'response' | 'responseCovariance'>>(
  channel: R,
  probability: number,
): R {
  const { coefficients } = channel.response
  let at = 0
  const responseCovariance = coefficients.flatMap((a, i) =>
    coefficients
      .slice(0, i + 1)
      .map(
        (b) =>
          probability * channel.responseCovariance[at++]! + probability * (1 - probability) * a * b,
      ),
  )
  return {
    ...channel,
    responseCovariance,
    response: { ...channel.response, coefficients: coefficients.map((v) => probability * v) },
  }
}
