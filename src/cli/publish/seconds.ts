import { InvalidArgumentError } from 'commander'

/** `12.5`, `-3`, `1:02.5`, `-0:01:02`: a time or a shift in a clip, in seconds. */
export function seconds(word: string): number {
  const parts = /^([-−+]?)(?:(?:(\d+):)?(\d+):)?(\d+(?:[.,]\d*)?)\s*s?$/.exec(word.trim())
  if (!parts)
    throw new InvalidArgumentError('It must be seconds, as in 12.5, or minutes and seconds, as in 1:02.5.')
  const [, sign = '', hours = '0', minutes = '0', rest = '0'] = parts
  const value = Number(hours) * 3600 + Number(minutes) * 60 + Number(rest.replace(',', '.'))
  return sign === '' || sign === '+' || value === 0 ? value : -value
}

/** The same where only a length makes sense. */
export function lengthSeconds(word: string): number {
  const value = seconds(word)
  if (!(value > 0)) throw new InvalidArgumentError('It must be above 0 s.')
  return value
}
