/** Room light by the illuminance on the piece, lux; common practice. */
export const roomLux = { dark: 0, dim: 100, lit: 500, shade: 10_000 } as const

export type RoomId = keyof typeof roomLux
