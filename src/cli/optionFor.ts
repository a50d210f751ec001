/** The options by which what a calibration warns of is settled on the command line. */
const OPTIONS: Readonly<Record<string, string>> = {
  'point-suspect': '--leave-out with its line leaves it out.',
  hysteresis: '--rising-only fits the way up alone.',
  'gravity-assumed': 'Give --latitude and --height, or --gravity.',
  'loads-without-doubt': 'Add a tolerance column, or give --tolerance.',
  'unit-assumed': '--load-unit says it too.',
  'reading-unit-assumed': '--reading-unit says it too.',
}

/** What is said here after a warning of this code, with a space before it; nothing where no option settles it. */
export const optionFor = (code: string): string => {
  const option = OPTIONS[code]
  return option === undefined ? '' : ` ${option}`
}
