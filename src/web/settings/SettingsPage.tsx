import { useEffect } from 'react'
import { Link } from 'wouter'
import { addressOf } from '../app/places.ts'
import { useSettings } from '../app/settings.tsx'
import { DraftInput } from '../parts/DraftInput.tsx'
import { NextLine } from '../parts/NextLine.tsx'
import { texts } from '../texts/index.ts'
import { About } from './About.tsx'
import { Choice } from './Choice.tsx'
import { FamiliarWeights } from './FamiliarWeights.tsx'
import { KeyHelp } from './KeyHelp.tsx'
import { Units } from './Units.tsx'
import './settings.css'

/** What holds for all studies. Every change counts at once. */
export default function SettingsPage() {
  const { settings, choose } = useSettings()
  const t = texts.settings
  useEffect(() => {
    document.title = `${texts.app.settings} · ${texts.app.name}`
  }, [])
  return (
    <div className="notebook settings" data-place="settings">
      <header className="notebook-head">
        <Link href={addressOf.shelf}>{texts.app.shelf}</Link>
      </header>
      <main>
        <NextLine>
          <span>{t.next}</span>
          <Link className="button button-main" href={addressOf.shelf}>
            {texts.app.toShelf}
          </Link>
        </NextLine>
        <h1>{texts.app.settings}</h1>
        <Units />
        <Choice
          legend={t.decimal}
          value={settings.decimal}
          choices={t.decimals}
          onChoose={decimal => choose({ decimal })}
        />
        <Choice
          legend={t.theme}
          value={settings.theme}
          choices={t.themes}
          onChoose={theme => choose({ theme })}
        />
        <div className="field settings-narrow">
          <label htmlFor="operator">{t.operator}</label>
          <DraftInput
            id="operator"
            value={settings.operator}
            maxLength={200}
            autoComplete="off"
            onCommit={operator => choose({ operator: operator.trim() })}
          />
        </div>
        <FamiliarWeights />
        <KeyHelp />
        <About />
      </main>
    </div>
  )
}
