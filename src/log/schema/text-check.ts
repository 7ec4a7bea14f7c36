/**
 * 32-bit check of a text: FNV-1a over its UTF-16 code units. Notices a record that was changed from
 * outside even where it still has the right shape (a digit of a temperature); no protection against
 * intent.
 */
export function textCheck(text: string): number {
  let h = 0x811c_9dc5
  for (let i = 0; i < text.length; i++) h = Math.imul(h ^ text.charCodeAt(i), 0x0100_0193)
  return h >>> 0
}
