import type { Truth } from '../../../../src/capture/pretend/index.ts'
import type { Reading } from '../../../../src/core/reading/document.ts'

/** The reading that knows the truth: what the judge must give full marks. */
export function perfectReading(truth: Truth): Reading {
  const warnings: Reading['warnings'] = []
  const warn = (code: string, when: boolean) => when && warnings.push({ code, text: code })
  warn('over-range', truth.clipped > 0)
  warn('zero-unknown', !truth.zeroSeen)
  return {
    document: 'tenterhook.reading',
    version: 2,
    engine: 'truth',
    specimen: null,
    recording: {
      name: truth.file,
      sha256: '',
      samples: truth.samples,
      startS: 0,
      endS: truth.samples / truth.rateHz,
      rateHz: truth.rateHz,
      noiseN: truth.noiseN,
      quantumN: truth.quantumN,
      forceUnit: 'N',
      timeFrom: 'column',
      gaps: truth.gaps.map(g => ({ fromS: g.from, toS: g.to })),
      spikes: truth.spikes.map(s => ({ atS: s.t })),
      overRange: null,
      linesNotRead: 0,
      understood: '',
      segments: [{ fromS: 0, toS: 1, name: truth.file, sha256: '', began: 'start', shiftS: 0 }],
    },
    zeros: [],
    pulls: truth.pulls.map(p => ({
      startS: p.start,
      endS: p.end,
      peakS: p.peakS,
      peakN: p.peakN,
      uncertaintyN: null,
      ends: p.ends,
    })),
    events: [
      ...truth.events.map(e => ({
        kind: e.kind,
        atS: e.t,
        beforeN: e.beforeN,
        afterN: e.afterN,
        dropN: e.dropN,
        elements: e.elements === null ? null : { estimate: e.elements, low: e.elements, high: e.elements },
        confidence: 1,
      })),
      ...truth.retares.map(r => ({
        kind: 'rezero' as const,
        atS: r.t,
        beforeN: 0,
        afterN: 0,
        dropN: 0,
        elements: null,
        confidence: 1,
      })),
    ],
    results: {
      peakForce: {
        status: truth.status[0]!,
        zero: truth.zero ?? 'as-indicated',
        zeroAlternatives: null,
        valueN: truth.pulls.length > 0 ? truth.peakN : null,
        uncertaintyN: 0.01,
        lowN: null,
        highN: null,
        covers: [],
        atS: truth.peakS,
        indicatedN: truth.peakN,
      },
      partialBreaks: 0,
      laterPeaks: [],
      timeToPeakS: null,
      stiffness: null,
      work: null,
    },
    budget: [],
    warnings,
  }
}
