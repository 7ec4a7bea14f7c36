/**
 * Example tables of ISO/IEC 10918-1 (ITU-T T.81, 1992), annex K: quantisation K.1 and K.2, Huffman
 * codes K.3 to K.6. Quantisation in rows of the 8x8 block.
 */
export const LUMINANCE_STEPS = [
  16, 11, 10, 16, 24, 40, 51, 61, 12, 12, 14, 19, 26, 58, 60, 55, 14, 13, 16, 24, 40, 57, 69, 56, 14,
  17, 22, 29, 51, 87, 80, 62, 18, 22, 37, 56, 68, 109, 103, 77, 24, 35, 55, 64, 81, 104, 113, 92, 49,
  64, 78, 87, 103, 121, 120, 101, 72, 92, 95, 98, 112, 100, 103, 99,
]
export const CHROMINANCE_STEPS = [
  17, 18, 24, 47, 99, 99, 99, 99, 18, 21, 26, 66, 99, 99, 99, 99, 24, 26, 56, 99, 99, 99, 99, 99, 47,
  66, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99,
  99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99, 99,
]

/** Number of codes of each length 1..16, then the symbols in order of their codes, as hex text. */
export interface CodeTable {
  readonly counts: readonly number[]
  readonly symbols: string
}

export const LUMINANCE_DC: CodeTable = {
  counts: [0, 1, 5, 1, 1, 1, 1, 1, 1, 0, 0, 0, 0, 0, 0, 0],
  symbols: '000102030405060708090a0b',
}
export const CHROMINANCE_DC: CodeTable = {
  counts: [0, 3, 1, 1, 1, 1, 1, 1, 1, 1, 1, 0, 0, 0, 0, 0],
  symbols: '000102030405060708090a0b',
}
export const LUMINANCE_AC: CodeTable = {
  counts: [0, 2, 1, 3, 3, 2, 4, 3, 5, 5, 4, 4, 0, 0, 1, 125],
  symbols:
    '01020300041105122131410613516107227114328191a1082342b1c11552d1f02433627282090a161718191a2526' +
    '2728292a3435363738393a434445464748494a535455565758595a636465666768696a737475767778797a838485' +
    '868788898a92939495969798999aa2a3a4a5a6a7a8a9aab2b3b4b5b6b7b8b9bac2c3c4c5c6c7c8c9cad2d3d4d5d6' +
    'd7d8d9dae1e2e3e4e5e6e7e8e9eaf1f2f3f4f5f6f7f8f9fa',
}
export const CHROMINANCE_AC: CodeTable = {
  counts: [0, 2, 1, 2, 4, 4, 3, 4, 7, 5, 4, 4, 0, 1, 2, 119],
  symbols:
    '000102031104052131061241510761711322328108144291a1b1c109233352f0156272d10a162434e125f11718191a' +
    '262728292a35363738393a434445464748494a535455565758595a636465666768696a737475767778797a828384' +
    '85868788898a92939495969798999aa2a3a4a5a6a7a8a9aab2b3b4b5b6b7b8b9bac2c3c4c5c6c7c8c9cad2d3d4d5' +
    'd6d7d8d9dae2e3e4e5e6e7e8e9eaf2f3f4f5f6f7f8f9fa',
}
