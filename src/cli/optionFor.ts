/** How what core warns of, or what stands in its way, is settled on the command line. */
const OPTIONS: Readonly<Record<string, string>> = {
  'point-suspect': '--leave-out with its line leaves it out.',
  hysteresis: '--rising-only fits the way up alone.',
  'gravity-assumed': 'Give --latitude and --height, or --gravity.',
  'loads-without-doubt': 'Add a tolerance column, or give --tolerance.',
  'unit-assumed': '--load-unit says it too.',
  'reading-unit-assumed': '--reading-unit says it too.',
  'too-few-readings-differ': 'Give a lower --degree.',
  'fit-turns-back': 'Give --degree 1.',
  'no-travel': 'Give --mm-per-second, or --travel and --mm-per-turn.',
  'travel-stands-still': 'Give --travel or --mm-per-second.',
  'counts-without-scale': 'Use `tenterhook rig quick --mass 1kg --reading … --zero …`.',
  'counts-not-calibrated':
    'Use `tenterhook calibrate POINTS.csv --save rig.json`, or with one mass `tenterhook rig quick`.',
}

/** What is said here after a warning or a problem of this code, with a space before it; nothing where no option settles it. */
export function optionFor(code: string | undefined): string {
  const option = code === undefined ? undefined : OPTIONS[code]
  return option === undefined ? '' : ` ${option}`
}
