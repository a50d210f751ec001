import type { PlaceProps } from '../app/placeProps.ts'
import { NextLine } from '../parts/NextLine.tsx'
import { texts } from '../texts/index.ts'

export default function PlanPlace({ open }: PlaceProps) {
  return (
    <>
      <NextLine>{texts.plan.next}</NextLine>
      <h1>{open.study.name}</h1>
    </>
  )
}
