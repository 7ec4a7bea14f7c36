import type { Context } from '../context.ts'
export async function addDemo(_context: Context): Promise<number> {
  return 0
}
