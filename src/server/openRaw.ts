import { assemble } from '../capture/assemble.ts'
import { journalContents } from '../capture/journal/entries.ts'
import { fine, wrong } from '../core/problem.ts'
import { withHash } from '../core/withHash.ts'
import { type OpenRaw, openText } from '../publish/package/recomputed.ts'

/** Opens the raw data of a package: logs as text, captures from their journals. */
export const openRaw: OpenRaw = (bytes, log) => {
  if (log.source === 'log') return openText(bytes, log)
  const contents = journalContents(bytes)
  if (contents === null)
    return wrong({
      where: log.name,
      what: 'it is no journal of a capture that can be read.',
      cure: 'It was changed, or made by a later version.',
    })
  const assembled = assemble(contents, log.name)
  return assembled.ok ? fine(withHash(assembled.value.recording, log.sha256)) : assembled
}
