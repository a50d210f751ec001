import type { CheckChart } from '../core/calibration/checkChart.ts'
import type { JudgedCheck } from '../core/calibration/judgeCheck.ts'
import { decimalsFor, plainNumber, threeDigits } from '../core/units/showForce.ts'
import { noteLines } from './calibrationText.ts'
import type { Io } from './io.ts'
import { pen, wrapped } from './terminal.ts'

const NORMAL_95 = 1.959_963_984_540_054

/** A daily check for the terminal: the verdict, the figures, the chart of the checks so far. */
export function checkText(
  judged: JudgedCheck,
  checks: number,
  io: Pick<Io, 'env' | 'outIsTerminal' | 'columns'>,
): string {
  const { check, errorPct, limitPct, chart } = judged
  const columns = Math.max(40, Math.min(io.columns, 110))
  const draw = pen(io)
  const doubtN = NORMAL_95 * Math.hypot(check.appliedStandardN, check.indicatedStandardN)
  const decimals = decimalsFor(doubtN)
  const sign = errorPct < 0 ? '−' : '+'
  const lines = [
    draw(
      check.verdict === 'out' ? 'warning' : 'strong',
      check.verdict === 'out'
        ? 'The rig is off: do not rely on it until this is settled'
        : 'The rig reads as it should',
    ),
    wrapped(
      `Known force ${plainNumber(check.appliedN, decimals)} N, indicated ${plainNumber(check.indicatedN, decimals)} N: ${sign}${Math.abs(errorPct).toFixed(2)} %${limitPct === null ? '' : `, of ±${limitPct.toFixed(2)} % that may be`}.`,
      columns,
    ),
    ...(check.zeroN === null
      ? []
      : [`Empty hook ${threeDigits(check.zeroN)} N from the calibration's zero.`]),
    chart === null
      ? `Check ${checks} with this mass under this calibration; the chart has limits from the fourth on.`
      : `Check ${checks} with this mass under this calibration; limits of the chart ${plainNumber(chart.low, 2)} to ${plainNumber(chart.high, 2)} %.`,
    ...(chart === null ? [] : [draw('pencil', strip(chart))]),
    ...noteLines(check.findings, io),
  ]
  return `${lines.join('\n')}\n`
}

const MARKS = '▁▂▃▄▅▆▇'

/** The last checks as a strip between the chart's limits; × lies outside them. */
function strip({ values, low, high }: CheckChart): string {
  const marks = values.slice(-40).map(value => {
    if (value < low || value > high) return '×'
    return MARKS[Math.min(MARKS.length - 1, Math.floor(((value - low) / (high - low)) * MARKS.length))]
  })
  return `  lower limit ▁ ${marks.join('')} ▇ upper limit`
}
