import type { PlaceProps } from '../app/placeProps.ts'
import { NextLine } from '../parts/NextLine.tsx'
import { texts } from '../texts/index.ts'

export default function ReadPlace({ open }: PlaceProps) {
  return (
    <>
      <NextLine>{texts.read.next}</NextLine>
      <h1>{open.study.name}</h1>
    </>
  )
}
