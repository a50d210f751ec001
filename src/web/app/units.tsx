import { useCallback } from 'react'
import { type ShowForce, showForceIn } from '../../core/reading/explainLedger.ts'
import { FORCE_UNITS, type ForceUnit, type ShownUnit, shownUnitOf } from '../../core/units/force.ts'
import { keepTogether } from '../../core/units/keepTogether.ts'
import { useSettings } from './settings.tsx'

/** The unit that a force is shown in: the person's first, else that of its log. */
export function useUnit(logUnit?: string): ForceUnit {
  const { settings } = useSettings()
  return settings.units[0] ?? FORCE_UNITS.find(unit => unit === logUnit) ?? 'N'
}

/** The unit that the figures of a log are shown in: never one of force for numbers that are none. */
export function useShownUnit(logUnit: string | null | undefined): ShownUnit {
  return shownUnitOf(logUnit === undefined ? 'N' : logUnit, useUnit(logUnit ?? undefined))
}

/** Goes on to the next of the person's units. */
export function useNextUnit(): () => void {
  const { settings, choose } = useSettings()
  return useCallback(() => {
    const [first, ...rest] = settings.units
    if (first !== undefined && rest.length > 0) choose({ units: [...rest, first] })
  }, [settings.units, choose])
}

/** A text of figures with the person's decimal mark. */
export function useMark(): (text: string) => string {
  const { decimal } = useSettings().settings
  return useCallback(text => withMark(text, decimal), [decimal])
}

/**
 * The engine writes `1.5`; with a comma `1,5`. A full stop at a sentence's end is no decimal mark. No line breaks within a
 * figure and its unit.
 */
export const withMark = (text: string, decimal: 'point' | 'comma'): string =>
  keepTogether(decimal === 'comma' ? text.replace(/(\d)\.(?=\d)/g, '$1,') : text)

/** Shows forces in a unit with the person's mark: `68.2 ± 1.5 N`. */
export function useShowForce(unit: ShownUnit): ShowForce {
  const mark = useMark()
  return useCallback((...force) => mark(showForceIn(unit)(...force)), [mark, unit])
}
