/**
 * A reading document of an older version in the shape of the present one; anything else as it is, for the schema to
 * judge. Figures stay as they were stated: what an old document does not tell becomes `null`.
 *
 * Version 1 knew no `zero` of the peak force; it follows from the warnings and the zeros that stand beside it.
 */
export function upgradedReading(value: unknown): unknown {
  if (!isRecord(value) || value.document !== 'tenterhook.reading' || value.version !== 1) return value
  const { recording, zeros, results, warnings } = value
  if (!isRecord(recording) || !isRecord(results) || !isRecord(results.peakForce)) return value
  const codes = new Set(Array.isArray(warnings) ? warnings.map(w => (isRecord(w) ? w.code : null)) : [])
  const levels = Array.isArray(zeros) ? zeros.filter(isRecord) : []
  const unseen = codes.has('zero-unknown') || levels.some(z => z.basis === 'assumed')
  const zero = unseen ? 'as-indicated' : codes.has('zero-set-under-load') ? 'set-under-load' : 'seen'
  return {
    ...value,
    version: 2,
    recording: { ...recording, linesNotRead: null },
    zeros: levels.map(z => (z.basis === 'assumed' ? { ...z, basis: 'indicated' } : z)),
    results: { ...results, peakForce: { ...results.peakForce, zero, zeroAlternatives: null } },
  }
}

const isRecord = (value: unknown): value is Record<string, unknown> =>
  typeof value === 'object' && value !== null && !Array.isArray(value)
