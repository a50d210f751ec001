import { useQuery } from '@tanstack/react-query'
import { createContext, type ReactNode, useContext, useEffect, useMemo, useRef, useState } from 'react'
import { FORCE_UNITS, type ForceUnit } from '../../core/units/force.ts'
import { KEYS, useChange } from '../data/queries.ts'
import { useBench } from './context.tsx'

/** A familiar weight that forces are said in; `plural` may be empty, for the usual one. */
export interface FamiliarWeight {
  readonly name: string
  readonly plural: string
  readonly massKg: number
}

/** What the person chose once for all studies. Kept with the studies, under one name. */
export interface Settings {
  readonly theme: 'system' | 'light' | 'dark'
  readonly decimal: 'point' | 'comma'
  /** Units that a click on a figure goes through; the first is shown. Empty: each log's own. */
  readonly units: readonly ForceUnit[]
  readonly operator: string
  /** Those that a new study begins with; each study has its own list. */
  readonly equivalents: readonly FamiliarWeight[]
}

const USUAL: Settings = { theme: 'system', decimal: 'point', units: [], operator: '', equivalents: [] }
const NAME = 'app'

interface Chosen {
  readonly settings: Settings
  choose(change: Partial<Settings>): void
}

const SettingsContext = createContext<Chosen>({ settings: USUAL, choose: () => {} })

export function SettingsProvider({ children }: { children: ReactNode }) {
  const { backend } = useBench()
  const { data } = useQuery({ queryKey: KEYS.settings, queryFn: () => backend.settings.all() })
  // Over what is there by then: what another window chose meanwhile stays.
  const { mutateAsync } = useChange<Partial<Settings>, void>(async (to, change) => {
    const now = settingsFrom((await to.settings.all())[NAME])
    await to.settings.set(NAME, { ...now, ...change })
  })
  const kept = useMemo(() => settingsFrom(data?.[NAME]), [data])
  // What was chosen is shown at once, and a choice that follows before the last is kept builds on it.
  const [ahead, setAhead] = useState<Settings | null>(null)
  const newest = useRef<Settings | null>(null)
  const writes = useRef<Promise<unknown>>(Promise.resolve())
  const settings = ahead ?? kept
  const chosen = useMemo<Chosen>(() => {
    const choose = (change: Partial<Settings>) => {
      const next = { ...(newest.current ?? kept), ...change }
      newest.current = next
      setAhead(next)
      const done = () => {
        if (newest.current !== next) return
        newest.current = null
        setAhead(null)
      }
      writes.current = writes.current.then(() => mutateAsync(change)).then(done, done)
    }
    return { settings, choose }
  }, [settings, kept, mutateAsync])
  useTheme(settings.theme)
  return <SettingsContext value={chosen}>{children}</SettingsContext>
}

export const useSettings = (): Chosen => useContext(SettingsContext)

/** What was kept, as far as it still makes sense; the usual for the rest. */
export function settingsFrom(kept: unknown): Settings {
  const given = (typeof kept === 'object' && kept !== null ? kept : {}) as Record<string, unknown>
  return {
    theme: given.theme === 'light' || given.theme === 'dark' ? given.theme : USUAL.theme,
    decimal: given.decimal === 'comma' ? 'comma' : USUAL.decimal,
    units: Array.isArray(given.units)
      ? FORCE_UNITS.filter(unit => (given.units as unknown[]).includes(unit)).sort(
          (a, b) => (given.units as unknown[]).indexOf(a) - (given.units as unknown[]).indexOf(b),
        )
      : USUAL.units,
    operator: typeof given.operator === 'string' ? given.operator : USUAL.operator,
    equivalents: Array.isArray(given.equivalents)
      ? given.equivalents.filter(isFamiliarWeight)
      : USUAL.equivalents,
  }
}

function isFamiliarWeight(value: unknown): value is FamiliarWeight {
  if (typeof value !== 'object' || value === null) return false
  const { name, plural, massKg } = value as Record<string, unknown>
  return (
    typeof name === 'string' &&
    name !== '' &&
    typeof plural === 'string' &&
    typeof massKg === 'number' &&
    Number.isFinite(massKg) &&
    massKg > 0
  )
}

/** Puts the theme on the page; `system` follows the system while the page is open. */
function useTheme(theme: Settings['theme']): void {
  useEffect(() => {
    const dark = matchMedia('(prefers-color-scheme: dark)')
    const put = () => {
      const isDark = theme === 'dark' || (theme === 'system' && dark.matches)
      document.documentElement.dataset.theme = isDark ? 'dark' : 'light'
    }
    put()
    dark.addEventListener('change', put)
    return () => dark.removeEventListener('change', put)
  }, [theme])
}
