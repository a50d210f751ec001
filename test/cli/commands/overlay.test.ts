import { existsSync, mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll, describe, expect, test } from 'vitest'
import { EXIT } from '../../../src/cli/io.ts'
import { writeCsv } from '../../../src/logs/index.ts'
import { demoRead } from '../../publish/clip/demoTakes.ts'
import { ran } from '../fakeIo.ts'

let folder = ''
let log = ''
const at = (name: string): string => join(folder, name)
const SMALL = ['--size', '128x72', '--fps', '5']

beforeAll(() => {
  folder = mkdtempSync(join(tmpdir(), 'tenterhook-overlay-'))
  log = at('hot-melt-1.csv')
  const { recording } = demoRead('hot-melt-1')[0]!
  writeFileSync(log, [...writeCsv(recording, { unit: 'kgf' })].join(''))
}, 60_000)
afterAll(() => rmSync(folder, { recursive: true, force: true }))

describe('overlay', () => {
  test('writes a folder of pictures and says how many', async () => {
    const { code, out, err } = await ran([
      'overlay',
      log,
      '--out',
      at('pictures'),
      ...SMALL,
      '--length',
      '1',
      '--json',
    ])
    expect(err).not.toContain('tenterhook:')
    expect(code).toBe(EXIT.ok)
    expect(JSON.parse(out)).toMatchObject({
      path: at('pictures'),
      frames: 5,
      lengthS: 1,
      width: 128,
      height: 72,
    })
    expect(readdirSync(at('pictures')).filter(name => name.endsWith('.png'))).toHaveLength(5)
  })

  test('takes its frames from a list of times, and its place from a sync document', async () => {
    writeFileSync(at('times.txt'), '0\n0.5\n0.6\n')
    const words = [
      'overlay',
      log,
      '--out',
      at('listed'),
      '--size',
      '128x72',
      '--frame-times',
      at('times.txt'),
    ]
    expect((await ran(words)).code).toBe(EXIT.ok)
    expect(readFileSync(at('listed/times.txt'), 'utf8')).toContain('0.000000\n0.500000\n0.600000\n')
    writeFileSync(at('bad.json'), '{}')
    const bad = await ran(['overlay', log, '--out', at('never'), '--sync', at('bad.json')])
    expect(bad.code).toBe(EXIT.input)
    expect(bad.err).toContain('bad.json')
  })

  test('Ctrl-C leaves nothing that looks like a clip', async () => {
    const before = process.listenerCount('SIGINT')
    const running = ran(['overlay', log, '--out', at('stopped'), '--size', '640x360', '--fps', '100'])
    while (process.listenerCount('SIGINT') === before) await new Promise(resolve => setTimeout(resolve, 5))
    process.emit('SIGINT')
    const { code, err } = await running
    expect(code).toBe(EXIT.output)
    expect(err).toContain('stopped before it was whole')
    expect(existsSync(at('stopped'))).toBe(false)
    expect(readdirSync(folder).filter(name => name.endsWith('.part'))).toEqual([])
    expect(process.listenerCount('SIGINT')).toBe(before)
  })

  test.each([
    [['--out', 'clip.mp4'], 'webm'],
    [['--out', 'x', '--size', '10x10'], '1920x1080'],
    [['--out', 'x', '--fps', 'fast'], '30000/1001'],
    [['--out', 'x', '--offset', '1', '--sync', 'y.json'], '--sync'],
  ])('%j is a matter of usage', async (words, said) => {
    const { code, err } = await ran(['overlay', log, ...words])
    expect(code).toBe(EXIT.usage)
    expect(err).toContain(said)
  })

  test('a length of a year is no clip, and a video that is not there is told', async () => {
    const year = await ran(['overlay', log, '--out', at('year'), '--length', '31536000'])
    expect(year.code).toBe(EXIT.input)
    expect(year.err).toContain('more than a day')
    const none = await ran(['overlay', log, '--out', at('none'), '--clip', at('none.mp4')])
    expect(none.code).toBe(EXIT.input)
    expect(none.err).toContain('none.mp4')
  })
})

describe('retrace', () => {
  test('writes a picture and a sentence for each step', async () => {
    const { code, out } = await ran([
      'retrace',
      log,
      '--elements',
      '8',
      '--out',
      at('steps'),
      '--pictures',
      'svg',
      '--json',
    ])
    expect(code).toBe(EXIT.ok)
    const { steps } = JSON.parse(out) as { steps: { file: string; sentence: string }[] }
    expect(steps.map(step => step.file.replace(/^steps-\d\d-|\.svg$/g, ''))).toEqual(
      expect.arrayContaining(['raw', 'zero', 'part', 'peak', 'break', 'end']),
    )
    expect(steps.some(step => /a part let go, −.* of 8\.$/.test(step.sentence))).toBe(true)
    const svg = readFileSync(at(`steps/${steps[0]!.file}`), 'utf8')
    expect(svg).toContain('<title>The log as it was received')
    expect(svg).toContain('@font-face')
    expect(readFileSync(at('steps/steps.txt'), 'utf8').trim().split('\n')).toHaveLength(steps.length)
  })

  test('never writes into a folder that is there', async () => {
    const { code, err } = await ran(['retrace', log, '--out', folder])
    expect(code).toBe(EXIT.output)
    expect(err).toContain('already')
  })
})
