import { NextLine } from '../parts/NextLine.tsx'
import { texts } from '../texts/index.ts'

export default function SettingsPage() {
  return (
    <main className="notebook">
      <NextLine>{texts.settings.next}</NextLine>
    </main>
  )
}
