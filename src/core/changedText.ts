const WORDS: Readonly<Record<string, string>> = {
  variantId: 'variant',
  statusReason: 'reason',
  failureMode: 'failure mode',
  widthMm: 'width in mm',
  thicknessMm: 'thickness in mm',
  lengthMm: 'length in mm',
  temperatureC: 'temperature in °C',
  humidityPct: 'humidity in %',
  pulledOn: 'day of the pull',
  pullOrder: 'pull number',
  typedPeak: 'typed peak',
}

/** What a change of a specimen is listed as. */
export const changedText = (name: string, fields: object): string =>
  `“${name}”: ${Object.entries(fields)
    .map(([field, value]) =>
      `${WORDS[field] ?? field} ${typeof value === 'object' && value !== null ? '' : field === 'variantId' ? '' : String(value ?? '–')}`.trim(),
    )
    .join(', ')}`.slice(0, 500)
