import { type ForceUnit, fromNewton } from '../../core/units/force.ts'
import { threeDigits } from '../../core/units/showForce.ts'
import { texts } from '../texts/index.ts'

/** A force in words for a voice: `68.2 newton`. */
export function spokenForce(forceN: number, unit: ForceUnit, mark: (text: string) => string): string {
  const figure = threeDigits(fromNewton(forceN, unit)).replace('−', `${texts.pull.speech.minus} `)
  return `${mark(figure)} ${texts.pull.speech.unitWords[unit]}`
}

/** Says it aloud, and what was being said no more. Nothing where the browser has no voice. */
export function say(words: string): void {
  if (!('speechSynthesis' in globalThis)) return
  speechSynthesis.cancel()
  speechSynthesis.speak(new SpeechSynthesisUtterance(words))
}
