import { expect, test } from 'vitest'
import { madeFile } from '../../../src/web/data/madeFile.ts'

const bytes = (text: string) => new TextEncoder().encode(text)

/** An answer that comes in pieces of these lengths. */
function inPieces(all: Uint8Array, length: number): Response {
  const pieces = Array.from({ length: Math.ceil(all.length / length) }, (_, i) =>
    all.slice(i * length, (i + 1) * length),
  )
  return new Response(
    new ReadableStream({
      pull(controller) {
        const piece = pieces.shift()
        if (piece === undefined) controller.close()
        else controller.enqueue(piece)
      },
    }),
  )
}

const whole = bytes('{"done":1,"all":3}\n{"done":3,"all":3}\n{"bytes":9}\n{"not":1}\n')

test.each([1, 2, 7, 19, 1000])('the file comes whole, in pieces of %i bytes', async length => {
  const told: [number, number][] = []
  const onProgress = (done: number, all: number) => void told.push([done, all])
  const made = await madeFile(inPieces(whole.slice(0, -1), length), {
    type: 'video/quicktime',
    onProgress,
  }).catch((error: unknown) => error)
  // The file itself may look like a line.
  expect(made).toMatchObject({ size: 9 })
  expect(await (made as Blob).text()).toBe('{"not":1}')
  expect(told).toEqual([
    [1, 3],
    [3, 3],
  ])
})

test('problems are told, and a file that came cut off is none', async () => {
  const on = { type: 'x', onProgress: () => {} }
  const problems = bytes(
    '{"done":1,"all":3}\n{"problems":[{"where":"ffmpeg","what":"is not there.","cure":"Install it."}]}\n',
  )
  await expect(madeFile(inPieces(problems, 5), on)).rejects.toThrow('ffmpeg: is not there.')
  await expect(madeFile(inPieces(whole.slice(0, -4), 5), on)).rejects.toThrow('cut off')
  await expect(madeFile(inPieces(bytes('{"done":1,"all":3}\n'), 5), on)).rejects.toThrow('cut off')
})
