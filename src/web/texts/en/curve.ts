export const curveTexts = {
  closer: 'Look closer',
  farther: 'Step back',
  wholeCurve: 'All of the curve',
  all: 'All',
  fit: 'Fit height',
  fitTitle: 'Fit the height to what is seen (F)',
  seen: (from: number, to: number, unit: string) => {
    const digits = Math.max(0, Math.min(4, 2 - Math.floor(Math.log10(Math.max(1e-9, to - from)))))
    return `${from.toFixed(digits)} to ${to.toFixed(digits)} ${unit}`
  },
  nextUnit: 'Show it in the next unit',
  keys: 'Arrows move along it. Plus and minus look closer and step back; 0 shows all, F fits the height.',
}
