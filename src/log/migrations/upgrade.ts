import type { IDBPDatabase } from 'idb'
import { upgradeTo1 } from './version-1.ts'
import { type Upgrade, upgradeTo2 } from './version-2.ts'
import { upgradeTo3 } from './version-3.ts'

export const DATABASE_VERSION = 3

/** Every version in its turn: a database of any age passes the same migrations. */
export async function upgrade(db: IDBPDatabase<unknown>, from: number, tx: Upgrade): Promise<void> {
  if (from < 1) upgradeTo1(db)
  if (from < 2) await upgradeTo2(db, tx)
  if (from < 3) upgradeTo3(db)
}
