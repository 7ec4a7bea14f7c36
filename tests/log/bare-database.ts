import { type Database, openDatabase } from '../../src/log/store/database.ts'
import { freshName } from './opening.ts'

const open: Database[] = []

/** A new database alone, without a log over it. */
export async function bareDatabase(): Promise<Database> {
  const db = await openDatabase({
    name: freshName(),
    patienceMs: 5000,
    onClosed: () => undefined,
    onWritten: () => undefined,
    estimate: async () => undefined,
  })
  open.push(db)
  return db
}

/** To be called after each test. */
export function closeBareDatabases(): void {
  for (const db of open.splice(0)) db.close()
}
