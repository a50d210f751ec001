import { counted } from '../../core/counted.ts'
import { printable } from '../../core/printable.ts'
import { problemText } from '../../core/problem.ts'
import { threeDigits } from '../../core/units/showForce.ts'
import type { Difference } from '../../publish/package/differences.ts'
import { isSound, type Verified } from '../../publish/package/verifyPackage.ts'

const MOST_LINES = 60
/** One changed recording changes hundreds of figures: of each file the first few say which way. */
const MOST_OF_A_FILE = 4

/** What a check of a package found, for people. */
export function verifiedText(verified: Verified): string {
  const { study, name, specimens, logs, engine, files, fileFindings, figures, differences, notMade } =
    verified
  const lines = [
    `${printable(study, 100)} (${printable(name, 100)}): ${counted(specimens, 'specimen')} from ${counted(logs, 'log')}.`,
    `Made by version ${printable(engine.published)}; this is ${engine.own}.`,
    ...findingLines(verified),
    fileFindings.length === 0 ? `Files: all ${files} are as published.` : '',
    differences.length === 0 && notMade.length === 0
      ? `Figures: ${figures} were made again from the raw data, and none differs.`
      : `Figures: ${figures} were made again from the raw data; ${differences.length} ${differences.length === 1 ? 'differs' : 'differ'}${notMade.length > 0 ? ', and some could not be made' : ''}.`,
    !isSound(verified) && engine.published !== engine.own && fileFindings.length === 0
      ? 'The files are whole, so what differs may come from the other version of the engine.'
      : '',
    `SHA-256 of its list of files: ${verified.fingerprint}`,
  ]
  return `${lines.filter(Boolean).join('\n')}\n`
}

function findingLines({ fileFindings, differences, notMade }: Verified): string[] {
  const all = [
    ...fileFindings.map(({ path, text }) => `${printable(path, 120)}: ${text}`),
    ...notMade.map(problemText),
    ...differenceLines(differences),
  ]
  const more = all.length - MOST_LINES
  return more > 0 ? [...all.slice(0, MOST_LINES), `… and ${more} more lines; --json has all.`] : all
}

/** Readings first, since all else follows from them, and of a reading its results. */
function differenceLines(differences: readonly Difference[]): string[] {
  const files = [...new Set(differences.map(({ file }) => file))].sort((a, b) => rank(a) - rank(b))
  return files.flatMap(file => {
    const own = differences
      .filter(difference => difference.file === file)
      .sort((a, b) => Number(isResult(b)) - Number(isResult(a)))
    const more = own.length - MOST_OF_A_FILE
    const lines = own.slice(0, MOST_OF_A_FILE).map(differenceText)
    return more > 0 ? [...lines, `${printable(file, 120)}: and ${more} more.`] : lines
  })
}

const ORDER = ['readings/', 'comparison.json', 'specimens.csv']
const rank = (file: string): number => {
  const place = ORDER.findIndex(begin => file.startsWith(begin))
  return place < 0 ? ORDER.length : place
}
const isResult = ({ field }: Difference): boolean => field.startsWith('results.')

/** `readings/paste-1.json, results.peakForce.valueN: published 31.2, made again 30.9 (−0.3, −0.96 %)` */
function differenceText({ file, field, published, recomputed, by }: Difference): string {
  const share =
    by !== null && typeof published === 'number' && published !== 0
      ? `, ${signed((100 * by) / Math.abs(published))} %`
      : ''
  const amount = by === null ? '' : ` (${signed(by)}${share})`
  const digits = digitsToTell(published, recomputed)
  return `${printable(file, 120)}, ${printable(field, 120)}: published ${shown(published, digits)}, made again ${shown(recomputed, digits)}${amount}`
}

/** Six digits, and more where two numbers look the same in them. */
function digitsToTell(a: unknown, b: unknown): number {
  if (typeof a !== 'number' || typeof b !== 'number') return 6
  return [6, 9, 12].find(digits => a.toPrecision(digits) !== b.toPrecision(digits)) ?? 17
}

function shown(value: unknown, digits: number): string {
  if (typeof value === 'string') return `“${printable(value, 60)}”`
  if (typeof value === 'number') return String(Number(value.toPrecision(digits)))
  return JSON.stringify(value)?.slice(0, 60) ?? 'nothing'
}

/** Smaller than is worth a decimal stands as a power of ten. */
const signed = (value: number): string => {
  const size = Math.abs(value)
  const text = size > 0 && size < 1e-4 ? value.toExponential(1).replace('-', '−') : threeDigits(value)
  return value > 0 ? `+${text}` : text
}
