import { describe, expect, test } from 'vitest'
import { type Said, saidIn, textsOf } from './saidIn.ts'

/**
 * The reading level of what people are told: short sentences, one thought each, and no word of a trade without its plain
 * word before it. Limits: common practice of plain-language guides (some 15 to 20 words on average, 25 at most).
 */

/** Words between two stops. */
const MOST_WORDS = 24
/** Words of one thought: between stops, colons and semicolons. */
const MOST_OF_A_THOUGHT = 17
/** Average of all sentences. */
const MOST_ON_AVERAGE = 12

const wordsOf = (text: string): number => text.split(/\s+/).filter(word => /[\p{L}\p{N}]/u.test(word)).length
const sentencesOf = (text: string): string[] => text.split(/(?<=[.?!…]”?)\s+|\n+/)
const thoughtsOf = (text: string): string[] => text.split(/(?<=[.?!…:;]”?)\s+|\n+/)

/** A word of the trade, and the plain words of which one stands before it in the same text. */
const TRADE: readonly (readonly [trade: RegExp, plain: RegExp])[] = [
  [/\bstandard deviations?\b|\bsds?\b/i, /spread|scatter/i],
  [/\bCVs?\b|\bcoefficient of variation\b/, /spread|scatter/i],
  [/\bvariances?\b/i, /spread|scatter/i],
  [/\bmedians?\b/i, /middle/i],
  [/\bdegrees of freedom\b/i, /more|beside/i],
  [/\bp[- ]values?\b|\(p\)/i, /luck/i],
  [/\bpower curve\b/i, /chance/i],
  [/\bprior\b/i, /before/i],
  [/\bstandard uncertaint/i, /doubt|parts/i],
  [/\bquantiles?\b|\bpercentiles?\b/i, /share|in 10/i],
  [/\bcensored\b|\bmaximum likelihood\b/i, /at least/i],
  [/\bcovariates?\b/i, /width|like/i],
  [/\bnon-?linearity\b/i, /bend|straight/i],
  [/\bhysteresis\b|\breversibility\b/i, /up against down/i],
  [/\brepeatability\b/i, /again/i],
  [/\bresolution\b/i, /step/i],
  [/\bcreep\b/i, /moves?|moved/i],
  [/\bMonte Carlo\b/i, /chance/i],
  [/\boutliers?\b/i, /apart/i],
  [/\bresiduals?\b/i, /left/i],
  [/\bregression\b|\bleast squares\b/i, /line/i],
  [/\btolerance (bound|interval)s?\b/i, /hold at least/i],
]

/** Trade words of a text that stand without a plain word before them. Options and names of files are no words. */
const bare = (text: string): string[] =>
  TRADE.flatMap(([trade, plain]) => {
    const said = text.replace(/--?[a-z][\w-]*( <[^>]*>)?|[\w-]+\.(svg|png|csv|json)\b/g, '')
    const at = said.search(trade)
    return at < 0 || plain.test(said.slice(0, at)) ? [] : [trade.exec(said)![0]]
  })

const told = (texts: readonly Said[], fault: (text: string) => string[]): string[] =>
  texts.flatMap(({ where, text }) => fault(text).map(what => `${where} ${what}`))

const tooLong = (text: string): string[] => [
  ...sentencesOf(text).filter(sentence => wordsOf(sentence) > MOST_WORDS),
  ...thoughtsOf(text).filter(thought => wordsOf(thought) > MOST_OF_A_THOUGHT),
]

describe('the texts of the app', () => {
  const texts = saidIn('src/web/texts')

  test('are found', () => expect(texts.length).toBeGreaterThan(700))
  test('are short sentences of one thought each', () => expect(told(texts, tooLong)).toEqual([]))
  test('are shorter still on average', () => {
    const sentences = texts.flatMap(({ text }) => sentencesOf(text)).filter(one => /[.?!…]”?$/.test(one))
    const average = sentences.reduce((sum, one) => sum + wordsOf(one), 0) / sentences.length
    expect(sentences.length).toBeGreaterThan(200)
    expect(average).toBeLessThan(MOST_ON_AVERAGE)
  })
})

/** Style sheets, scripts and markup are no sentences. */
const isProse = ({ text }: Said): boolean => !/[{};]\s*(\n|$)|<\/?[a-z]+[ >]|=>/.test(text)

const others = ['src/cli', 'src/publish', 'src/core/answer'].flatMap(saidIn).filter(isProse)

describe('the terminal, the report and the answer', () => {
  // Lines of help line up their examples in columns; sentences of it are held to the same.
  const sentences = others.filter(({ text }) => !/^\n?(Examples?|The table of|Exit codes)/m.test(text))

  test('say no sentence longer than those of the app by much', () =>
    expect(
      told(sentences, text => sentencesOf(text).filter(sentence => wordsOf(sentence) > MOST_WORDS + 4)),
    ).toEqual([]))
})

test('no word of the trade stands without its plain word', () => {
  expect(told([...saidIn('src/web'), ...others], bare)).toEqual([])
})

describe('the rules', () => {
  test('find a word of the trade that stands alone or before its plain word', () => {
    expect(bare('The sd of each')).toEqual(['sd'])
    expect(bare('standard deviation (spread) of each')).toEqual(['standard deviation'])
    expect(bare('spread (sd)')).toEqual([])
    expect(bare('mean and median of five')).toEqual(['median'])
    expect(bare('give --covariate <name>, not residuals.svg')).toEqual([])
  })
  test('find sentences that are too long', () => {
    const words = (n: number) => Array.from({ length: n }, () => 'word').join(' ')
    expect(tooLong(`${words(17)}. ${words(3)}.`)).toEqual([])
    expect(tooLong(`${words(18)}. ${words(3)}.`)).toHaveLength(1)
    expect(tooLong(`${words(13)}: ${words(12)}.`)).toHaveLength(1)
  })
  test('read every text of a source but its imports', () => {
    const source = ["import { a } from 'b c'", 'const d = `one ' + '$' + '{a} two`', "type E = 'f g'"].join(
      '\n',
    )
    expect(textsOf(source)).toEqual([{ line: 2, text: 'one X two' }])
  })
})
