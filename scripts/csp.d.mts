/** See csp.mjs. Declared for the service worker, which is compiled without scripts. */
export const contentSecurityPolicy: string
export const pagePolicy: string
export const decoderPolicy: string
export const isolationHeaders: Record<string, string>
export const decoderPath: string
export function headersFor(path: string): Record<string, string>
