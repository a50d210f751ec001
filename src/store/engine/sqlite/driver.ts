import { setTimeout as after } from 'node:timers/promises'
import {
  CompiledQuery,
  type DatabaseConnection,
  SqliteDialect,
  type SqliteDialectConfig,
  SqliteDriver,
} from 'kysely'
import { faultText } from '../../../core/problem.ts'
import { letGoOfStatements } from './letGo.ts'
import { RESULT, resultCode } from './resultCode.ts'

/**
 * How long a writer waits for another process; a large import holds the right to write for a second or two.
 */
const WAIT_MS = 15_000
const ASK_AGAIN_MS = 20
/**
 * Waiting inside the database holds up this whole process: only for what is over in a moment. Writers wait
 * outside.
 */
export const BUSY_MS = 200

/**
 * Transactions ask for the right to write at their start. One that starts as a reader and writes later fails
 * at once, whatever the waiting time, when another process wrote in between (SQLite documentation,
 * “Isolation”). They wait without holding up this process, where a capture may be running.
 */
class WritingDriver extends SqliteDriver {
  /**
   * A disk that is full has made the database roll back by itself: what went wrong is told, not that this is
   * done.
   */
  override async rollbackTransaction(connection: DatabaseConnection): Promise<void> {
    try {
      await super.rollbackTransaction(connection)
    } catch (error) {
      if (!/no transaction is active/.test(faultText(error))) throw error
    }
  }

  override async beginTransaction(connection: DatabaseConnection): Promise<void> {
    const untilMs = performance.now() + WAIT_MS
    for (;;) {
      try {
        await beginAtOnce(connection)
        return
      } catch (error) {
        if (resultCode(error) !== RESULT.busy || performance.now() > untilMs) throw error
        await after(ASK_AGAIN_MS)
      }
    }
  }

  override async destroy(): Promise<void> {
    await letGoOfStatements()
    await super.destroy()
  }
}

/**
 * Asks for the right to write without waiting inside the database, which would hold up the whole process each
 * time.
 */
async function beginAtOnce(connection: DatabaseConnection): Promise<void> {
  await connection.executeQuery(CompiledQuery.raw('pragma busy_timeout = 0'))
  try {
    await connection.executeQuery(CompiledQuery.raw('begin immediate'))
  } finally {
    await connection.executeQuery(CompiledQuery.raw(`pragma busy_timeout = ${BUSY_MS}`))
  }
}

export class WritingSqliteDialect extends SqliteDialect {
  readonly #config: SqliteDialectConfig

  constructor(config: SqliteDialectConfig) {
    super(config)
    this.#config = config
  }

  override createDriver(): SqliteDriver {
    return new WritingDriver(this.#config)
  }
}
