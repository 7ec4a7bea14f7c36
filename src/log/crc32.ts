const TABLE = new Uint32Array(256)
for (let n = 0; n < 256; n++) {
  let c = n
  for (let bit = 0; bit < 8; bit++) c = c & 1 ? 0xedb8_8320 ^ (c >>> 1) : c >>> 1
  TABLE[n] = c
}

/**
 * CRC-32 (ISO-HDLC: polynomial 0xEDB88320 reflected, as in ISO/IEC 3309, ZIP and PNG).
 * Check value: crc32 of the ASCII digits "123456789" is 0xCBF43926.
 *
 * @param before the CRC of what came before, to go on in chunks
 */
export function crc32(bytes: Uint8Array, before = 0): number {
  let c = ~before
  for (let i = 0; i < bytes.length; i++) c = TABLE[(c ^ bytes[i]!) & 0xff]! ^ (c >>> 8)
  return ~c >>> 0
}
